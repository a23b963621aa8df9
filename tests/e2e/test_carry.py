"""A match goes from one phone to another: before a camera, as a file, and by a code that lets a phone in."""

from __future__ import annotations

import io
import json
import os
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from PIL import Image
from playwright.sync_api import Browser, Page, expect

from ..engine.review.scripts import script
from .conftest import CHROMIUM_ARGS, Server
from .screen import axe, outside, overlaps, words

CAMERA_PX = (1280, 720)
FRAMES_A_CODE = 8  # of a camera's 30 a second


@pytest.fixture
def own_server() -> Iterator[Server]:
    """A server that a test may stop without harm to others."""
    server = Server()
    server.start()
    yield server
    server.stop()


@pytest.fixture
def with_camera(playwright) -> Iterator[Callable[..., Browser]]:
    """A browser with a made-up camera: it sees a file, or is one that the page may not have."""
    opened: list[Browser] = []

    def launch(*args: str) -> Browser:
        chromium = os.environ.get("CHROMIUM") or shutil.which("chromium")
        args = (*CHROMIUM_ARGS, "--use-fake-device-for-media-stream", *args)
        opened.append(playwright.chromium.launch(executable_path=chromium, args=list(args)))
        return opened[-1]

    yield launch
    for browser in opened:
        browser.close()


def begun(server: Server, name: str, log: list[dict[str, Any]]) -> str:
    """Begin a match on the server, with a log; return its id."""
    match_id = server.ask("/api/v1/matches", {"name": name})["id"]
    server.ask(f"/api/v1/matches/{match_id}/events", {"events": log})
    return match_id


def film(path: Path, codes: list[bytes]) -> None:
    """Write what a camera sees before a screen that shows codes: held askew, noisy, not sharp, seen late."""
    dice = np.random.default_rng(7)
    pictures = []
    for turn, code in enumerate(codes):
        screen = Image.open(io.BytesIO(code)).convert("L").resize((480, 480), Image.Resampling.BILINEAR)
        seen = Image.new("L", CAMERA_PX, 110)
        seen.paste(screen, (400, 110))
        seen = seen.rotate(-6 + 2 * (turn % 7), Image.Resampling.BILINEAR, fillcolor=110)
        noisy = np.asarray(seen) * 0.75 + 30 + dice.normal(0, 6, (CAMERA_PX[1], CAMERA_PX[0]))
        jpeg = io.BytesIO()
        Image.fromarray(noisy.clip(0, 255).astype("uint8")).convert("RGB").save(jpeg, "JPEG", quality=85)
        pictures.append(jpeg.getvalue())
    late = [*pictures[len(pictures) // 2 :], *pictures[: len(pictures) // 2]]
    path.write_bytes(b"".join(picture * FRAMES_A_CODE for picture in late))


def shown_codes(page: Page) -> list[bytes]:
    """Show the whole match as codes, step by step, and photograph each."""
    page.get_by_role("button", name="Show codes").tap()
    page.get_by_role("button", name="Pause").tap()
    said = words(page.locator(".which b"))
    at, count = (int(word) for word in said.split()[1::2])
    photographs = []
    for step in range(count):
        expect(page.locator(".which b")).to_have_text(f"Code {(at - 1 + step) % count + 1} of {count}")
        photographs.append(page.locator(".qr").screenshot())
        page.get_by_role("button", name="Next").tap()
    return photographs


def test_offline_phones_pass_a_match_by_codes_and_whoever_is_online_first_delivers_it(
    page: Page, own_server: Server, with_camera, playwright, tmp_path
):
    match_id = begun(own_server, "Cup", script(3, sets=2, rallies=12))
    seen = tmp_path / "seen.mjpeg"
    other = with_camera("--use-fake-ui-for-media-stream", f"--use-file-for-fake-video-capture={seen}")
    signed_in = {"storage_state": {"cookies": [own_server.cookie()], "origins": []}}
    page.context.add_cookies([own_server.cookie()])
    reader = other.new_context(**playwright.devices["Pixel 7"], **signed_in).new_page()
    reader.goto(f"{own_server.url}/take")
    page.goto(f"{own_server.url}/match/{match_id}")
    expect(page.locator(".live")).to_have_attribute("data-fresh", "true")
    before = own_server.ask(f"/api/v1/matches/{match_id}/state")
    page.locator(".log-pad").get_by_role("button", name="More", exact=True).tap()
    page.get_by_role("link", name="Hand over").tap()
    page.get_by_role("link", name="The match").tap()  # the page is on the device now
    expect(page.locator(".live")).to_have_attribute("data-fresh", "true")
    for phone in (page, reader):
        phone.wait_for_load_state("networkidle")
        phone.context.set_offline(True)
    own_server.stop()

    page.locator(".log-pad").get_by_role("button", name="We won", exact=True).tap()
    won = before["state"]["points"]["us"] + 1
    expect(page.locator(".score .ours")).to_have_text(str(won))
    page.locator(".log-pad").get_by_role("button", name="More", exact=True).tap()
    page.get_by_role("link", name="Hand over").tap()
    codes = shown_codes(page)
    assert len(codes) >= 3
    film(seen, codes)
    reader.get_by_role("button", name="Scan").tap()
    expect(reader.get_by_role("heading", name="Taken over: Cup")).to_be_visible(timeout=30_000)
    stands = f"set {before['state']['set_number']}, {won}\u2013{before['state']['points']['them']}"
    expect(reader.locator(".stands")).to_have_text(stands)
    expect(reader.get_by_text(f"{before['position'] + 1} events new.")).to_be_visible()
    assert reader.locator("video").count() == 0  # the camera is let go

    own_server.start()
    reader.context.set_offline(False)
    reader.get_by_role("link", name="Open the match").tap()
    expect(reader.locator(".live")).to_have_attribute("data-fresh", "true")
    expect(reader.locator(".score .ours")).to_have_text(str(won))
    expect(reader.locator(".sync")).to_have_text("saved and sent")
    page.get_by_role("link", name="The match").tap()
    page.context.set_offline(False)
    expect(page.locator(".sync")).to_have_text("saved and sent", timeout=20_000)
    after = own_server.ask(f"/api/v1/matches/{match_id}/state")
    assert after["position"] == before["position"] + 1
    assert after["state"]["points"]["us"] == won


def test_a_refused_camera_is_told_with_the_other_ways(server, with_camera):
    page = with_camera().new_page()
    page.goto(f"{server.url}/take")
    page.get_by_role("button", name="Scan").click()
    expect(page.get_by_role("alert")).to_contain_text("The camera is not allowed here")
    expect(page.get_by_role("alert")).to_contain_text("a file, or a code from the coach")


def test_a_file_goes_from_one_phone_to_another_and_is_taken_over_only_after_a_yes(
    page: Page, server, browser, playwright, tmp_path
):
    log = script(5, sets=1, rallies=10)
    match_id = begun(server, "Friendly", log)
    page.goto(f"{server.url}/match/{match_id}/share")
    with page.expect_download() as saved:
        page.get_by_role("button", name="Send or save the file").tap()
    assert saved.value.suggested_filename == f"Friendly-{match_id[-6:]}.jsonl"
    file = tmp_path / "match.jsonl"
    saved.value.save_as(file)
    head, *lines = [json.loads(line) for line in file.read_text(encoding="utf-8").splitlines()]
    assert (head["format"], head["version"], head["events"]) == ("cornerwise-match", 1, len(log))
    assert lines == log

    other = browser.new_context(**playwright.devices["Pixel 7"]).new_page()
    other.goto(f"{server.url}/take")
    bad = file.read_text(encoding="utf-8").splitlines()
    bad[2] = bad[2].replace('"counter":', '"counter":-')
    wrong = {"name": "wrong.jsonl", "mimeType": "application/jsonl", "buffer": "\n".join(bad).encode()}
    other.locator("input[type=file]").set_input_files(wrong)
    expect(other.get_by_role("alert")).to_contain_text("Nothing of this file was taken over.")
    expect(other.get_by_role("alert")).to_contain_text('Line 3: "counter" should be a whole number from 0')
    other.locator("input[type=file]").set_input_files(file)
    expect(other.locator(".offered")).to_contain_text(f"{len(log)} events new.")
    assert other.evaluate(ROWS) == 0
    other.get_by_role("button", name="Take it over").tap()
    expect(other.get_by_role("heading", name="Taken over: Friendly")).to_be_visible()
    assert other.evaluate(ROWS) == len(log)
    other.get_by_role("button", name="Take over more").tap()
    other.locator("input[type=file]").set_input_files(file)
    expect(other.locator(".offered")).to_contain_text(f"All {len(log)} events were here already.")
    other.context.close()


ROWS = """async () => {
  const opened = indexedDB.open("cornerwise-log");
  const db = await new Promise((done) => { opened.onsuccess = () => done(opened.result); });
  const count = db.transaction("rows").objectStore("rows").count();
  const rows = await new Promise((done) => { count.onsuccess = () => done(count.result); });
  db.close();
  return rows;
}"""


def test_the_coach_lets_a_phone_in_on_one_match_and_a_wrong_code_says_what_to_do(
    page: Page, server, browser, playwright
):
    match_id = begun(server, "League", script(6, sets=1, rallies=6))
    other_match = begun(server, "Another", script(7, sets=1, rallies=6))
    page.goto(f"{server.url}/match/{match_id}/share")
    page.get_by_role("button", name="Let a phone in on this match").tap()
    code = page.locator(".code").get_attribute("data-code")
    other = browser.new_context(**playwright.devices["Pixel 7"], service_workers="block").new_page()
    other.goto(f"{server.url}/take")
    other.get_by_role("link", name="Type the code").tap()
    box = other.get_by_label("Code from the coach")
    for typed, said in (("12", "You typed 2."), ("ZZZZ-ZZZZ", "This code is not good any more.")):
        box.fill(typed)
        other.get_by_role("button", name="Join", exact=True).tap()
        expect(other.get_by_role("alert")).to_contain_text(said)
    box.fill(f"{code[:4]} {code[4:]}".lower())
    other.get_by_role("button", name="Join", exact=True).tap()
    expect(other).to_have_url(f"{server.url}/match/{match_id}")
    expect(other.locator(".live")).to_have_attribute("data-fresh", "true")
    other.goto(f"{server.url}/match/{other_match}")
    expect(other.get_by_role("heading", name="There is no such match any more")).to_be_visible()
    other.context.close()


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_the_pages_are_sound_for_everyone_on_a_small_phone(browser, server, scheme):
    match_id = begun(server, "Small screen", script(8, sets=2, rallies=12))
    signed_in = {"cookies": [server.cookie()], "origins": []}
    small = {"width": 360, "height": 640}
    page = browser.new_page(viewport=small, color_scheme=scheme, storage_state=signed_in)
    page.goto(f"{server.url}/match/{match_id}/share")
    page.get_by_role("button", name="Show codes").click()
    page.get_by_role("button", name="Pause").click()
    page.get_by_role("button", name="Let a phone in").click()
    expect(page.locator(".code")).to_be_visible()
    assert (
        page.locator(".white").first.evaluate("e => getComputedStyle(e).backgroundColor")
        == "rgb(255, 255, 255)"
    )
    assert page.locator(".qr").first.bounding_box()["width"] == 360
    for path in (None, "/take"):
        if path:
            page.goto(f"{server.url}{path}")
            expect(page.get_by_role("button", name="Scan")).to_be_visible()
        assert axe(page) == []
        assert outside(page) == []
        assert overlaps(page) == []
        for button in page.locator(".carry-view button, .carry-view input, .carry-view a").all():
            box = button.bounding_box()
            assert min(box["width"], box["height"]) >= 44
    page.context.close()
