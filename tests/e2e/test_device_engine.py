"""The engine on the device, in the browser: it takes over from the server, and goes on when that is gone."""

from __future__ import annotations

import json
import random
import urllib.request

import pytest
from playwright.sync_api import BrowserContext, Page, expect

from ..device.differences import differences
from .screen import answer, asked, grip, middle, pick, start, words

KEPT = """name => new Promise((resolve, reject) => {
  const opening = indexedDB.open("cornerwise");
  opening.onerror = () => reject(opening.error);
  opening.onsuccess = () => {
    const asking = opening.result.transaction("kept").objectStore("kept").get(name);
    asking.onsuccess = () => { opening.result.close(); resolve(asking.result ?? null); };
  };
})"""
UP_MS = 60_000  # chosen: Python starts within a second; a busy machine may take much longer


@pytest.fixture
def up(page: Page, with_device: None) -> Page:
    """The first screen, its calls coming from this device."""
    start(page)
    tap(page, 4)
    expect(page.locator("[data-calls-from=device]")).to_be_attached(timeout=UP_MS)
    return page


def tap(page: Page, position: int) -> None:
    """As `pick`, with more patience."""
    page.get_by_role("button", name=f"Setter in {position},").click()
    expect(page.locator(".captions .angle")).to_be_visible(timeout=UP_MS)
    expect(page.locator(".call .situation b")).to_have_text(str(position), timeout=UP_MS)


def shown(page: Page) -> dict[str, str]:
    return {"call": words(page.locator(".call h1")), "odds": words(page.locator(".odds"))}


def of(best: dict) -> dict[str, str]:
    return {name: best["words"][name] for name in ("call", "odds")}


def test_without_a_server_each_call_is_the_one_the_server_would_have_given(up: Page, server):
    expected = {position: of(answer(server, asked(position))["best"]) for position in range(1, 7)}
    server.stop()
    try:
        for position in (1, 5, 6, 2, 3, 4):
            tap(up, position)
            expect(up.locator(".call h1")).to_have_text(expected[position]["call"], timeout=UP_MS)
            assert shown(up) == expected[position]
    finally:
        server.start()


def test_without_a_server_the_table_of_serves_has_the_servers_bytes(up: Page, server):
    up.goto("/matches")
    demo = up.locator(".matches > li", has_text="A match to try")
    demo.locator("summary").tap()
    demo.get_by_role("link", name="Review").tap()
    expect(up.locator(".review-table").first).to_be_visible(timeout=UP_MS)
    match_id = up.url.split("/")[-2]
    with urllib.request.urlopen(by_coach(server, f"/api/v1/matches/{match_id}/serves.csv")) as answer:
        there = answer.read()
    assert there.count(b"\r\n") > 50
    asked_for: list[str] = []
    up.on("request", lambda request: asked_for.append(request.url))
    server.stop()
    try:
        with up.expect_download(timeout=UP_MS) as download:
            up.get_by_role("button", name="Serves as CSV").tap()
        assert download.value.path().read_bytes() == there
        assert download.value.suggested_filename == f"serves-{match_id}.csv"
    finally:
        server.start()
    assert not any(url.endswith("/api/v1/serves") for url in asked_for)


def by_coach(server, path: str) -> urllib.request.Request:
    return urllib.request.Request(
        server.url + path, headers={"Cookie": f"cornerwise={server.cookie()['value']}"}
    )


def kept(page: Page, name: str) -> dict:
    """Return what the app keeps under a name."""
    return page.evaluate(KEPT, f"{name}/1")


def settled(page: Page) -> dict:
    """Return the question and its answer, as soon as the last question asked has one."""
    for _ in range(600):
        last, question = kept(page, "last"), kept(page, "question")
        if last and last["answered"] == question:
            return last
        page.wait_for_timeout(100)
    raise AssertionError("the last question was not answered")


def test_a_passer_dragged_without_a_server_changes_the_call_as_with_one(up: Page, server):
    rng = random.Random(4)
    server.stop()
    try:
        answered = []
        for _ in range(4):
            x, y = middle(grip(up, "passer-6"))
            up.mouse.move(x, y)
            up.mouse.down()
            up.mouse.move(x + rng.uniform(-40, 40), y + rng.uniform(-15, 15), steps=5)
            up.mouse.up()
            up.wait_for_timeout(300)
            answered.append(settled(up))
            assert shown(up) == of(answered[-1]["answer"]["best"])
    finally:
        server.start()
    for last in answered:
        moved = last["answered"]["places"]["4"]
        request = {"opponent": {"setter_position": 4, **moved}, "policy": {"use_start_ceiling": True}}
        assert differences(answer(server, request), last["answer"]) == []
    assert len({json.dumps(last["answer"]["best"]["keep"]) for last in answered}) == 4


def test_no_request_leaves_the_origin_and_the_console_stays_quiet(phone: BrowserContext, base_url: str):
    page = phone.new_page()
    asked_for: list[str] = []
    said: list[str] = []
    page.context.on("request", lambda request: asked_for.append(request.url))
    page.on("console", lambda message: said.append(message.text))
    page.on("pageerror", lambda error: said.append(str(error)))
    start(page)
    tap(page, 4)
    expect(page.locator("[data-calls-from=device]")).to_be_attached(timeout=UP_MS)
    assert any(url.endswith("/py/cornerwise.zip") for url in asked_for)
    assert [url for url in asked_for if not url.startswith(base_url)] == []
    assert said == []


def test_a_browser_that_cannot_run_it_goes_on_with_the_server_and_says_so(page: Page, server):
    start(page)
    pick(page, 4)
    expect(page.locator("[data-calls-from=server]")).to_contain_text("this browser cannot run it")
    assert shown(page) == of(answer(server, asked(4))["best"])
