"""The server's own view: huge, from her side, after the caution."""

from __future__ import annotations

from itertools import combinations

import pytest
from playwright.sync_api import Page, expect

from .screen import answer, asked, outside, overlaps, pick, start, words
from .test_states import LONGEST, with_longest_words

TALL_PX = 76  # about 12 mm on a phone: 160 CSS px to the inch
PHONE = {"width": 360, "height": 740}
UPRIGHT = ((360, 740), (412, 780), (768, 1024))
SIDEWAYS = ((640, 320), (740, 360), (915, 412), (1280, 800))  # phones on their side, and a laptop


def enter(page: Page, position: int) -> None:
    start(page)
    pick(page, position)
    page.get_by_role("link", name="Server view").click()
    page.get_by_role("button", name="Read").click()
    expect(page.locator(".huge")).to_be_visible()


def huge(page: Page) -> str:
    return words(page.locator(".huge"))


def test_the_caution_comes_before_the_first_serve_once_a_session_and_stays_in_reach(page: Page):
    start(page)
    pick(page, 1)
    page.get_by_role("link", name="Server view").click()
    caution = page.locator(".caution")
    for part in (
        "everyone on the far side is watching",
        "floor is clear of loose balls",
        "All serve in one direction",
        "blow to the head",
        "do not return that day",
        "shoulder, elbow or back",
        "No number of serves is set here",
        "not medical advice",
        "health professional",
        "growing players",
    ):
        expect(caution).to_contain_text(part)
    expect(page.locator(".huge")).to_have_count(0)
    page.get_by_role("button", name="Read").click()
    expect(page.locator(".huge")).to_be_visible()
    page.reload()
    expect(page.locator(".huge")).to_be_visible()
    page.get_by_role("button", name="Caution").click()
    expect(caution).to_be_visible()


@pytest.mark.parametrize("position", [1, 4])
def test_it_shows_spot_target_and_kind_of_the_same_call(page: Page, server, position: int):
    page.set_viewport_size(PHONE)
    enter(page, position)
    best = answer(server, asked(position))["best"]
    line = " on the line" if best["target"]["on_the_line"] else ""
    target = f"zone {best['target']['zone']} {best['target']['depth']}{line}"
    assert huge(page) == f"{best['words']['spot']} {target} {best['words']['kind']}"


def assert_tall(page: Page) -> None:
    """All words and the digit are tall, and in the window."""
    sizes = page.locator(".huge .fit, .huge .digit").evaluate_all(
        "all => all.map((e) => parseFloat(getComputedStyle(e).fontSize))"
    )
    assert min(sizes) >= TALL_PX
    digit = page.locator(".huge .digit").evaluate(
        """e => { const pen = document.createElement("canvas").getContext("2d"), s = getComputedStyle(e);
          pen.font = `${s.fontWeight} ${s.fontSize} ${s.fontFamily}`;
          return pen.measureText(e.textContent).actualBoundingBoxAscent; }"""
    )
    assert digit >= TALL_PX
    assert overlaps(page) == []
    assert outside(page) == []


def assert_apart(page: Page, *selectors: str) -> None:
    """None of these covers another."""
    boxes = [page.locator(selector).bounding_box() for selector in selectors]
    for a, b in combinations(boxes, 2):
        across = min(a["x"] + a["width"], b["x"] + b["width"]) - max(a["x"], b["x"])
        along = min(a["y"] + a["height"], b["y"] + b["height"]) - max(a["y"], b["y"])
        assert across <= 0.5 or along <= 0.5, (a, b)


@pytest.mark.parametrize("longest", [False, True])
@pytest.mark.parametrize(("width", "height"), UPRIGHT + SIDEWAYS)
def test_words_and_digit_are_tall_and_fit_however_the_phone_stands(
    page: Page, width: int, height: int, longest: bool
):
    page.set_viewport_size({"width": width, "height": height})
    if longest:
        page.route("**/api/v1/calls", with_longest_words)
    enter(page, 3)
    if longest:
        assert all(word in huge(page) for word in LONGEST["kind"].split())
    assert_tall(page)
    assert page.evaluate("document.documentElement.scrollHeight <= innerHeight")
    assert page.locator("main").evaluate("e => e.scrollHeight <= e.clientHeight + 1")
    assert page.locator(".court-picture").bounding_box()["height"] >= 96
    assert_apart(page, ".huge", ".court-picture", ".top", ".turns")
    page.unroute_all(behavior="wait")


@pytest.mark.parametrize(("width", "height"), UPRIGHT + SIDEWAYS)
def test_without_a_server_the_last_call_stays_whole_beside_the_notice(page: Page, width: int, height: int):
    page.set_viewport_size({"width": width, "height": height})
    enter(page, 3)
    before = huge(page)
    page.context.set_offline(True)
    page.get_by_role("button", name="setter in 4").click()
    expect(page.locator(".notice")).to_contain_text("for their setter in 3")
    assert huge(page) == before
    assert_tall(page)
    assert_apart(page, ".huge", ".notice", ".top", ".turns")
    assert page.locator("main").evaluate("e => e.scrollHeight <= e.clientHeight + 1")
    page.context.set_offline(False)
    expect(page.locator(".notice")).to_have_count(0, timeout=15_000)


def test_opened_without_a_server_it_says_that_there_is_no_call_yet(page: Page):
    page.goto("/server")
    page.get_by_role("button", name="Read").click()
    page.context.set_offline(True)
    page.get_by_role("button", name="Setter in 3,").click()
    expect(page.get_by_role("heading", name="No call yet")).to_be_visible()
    expect(page.locator(".notice")).to_contain_text("cannot be reached")


def test_the_picture_is_from_her_own_side(page: Page):
    enter(page, 4)
    boxes = {
        name: page.locator(f".court-picture {name}").bounding_box()
        for name in (".server", ".net", ".landing")
    }
    assert boxes[".server"]["y"] > boxes[".net"]["y"] > boxes[".landing"]["y"]
    assert boxes[".server"]["x"] < boxes[".net"]["x"] + boxes[".net"]["width"] / 2  # left corner, on her left


def swipe(page: Page, dx: int) -> None:
    """Draw a finger across the screen."""
    touch = page.context.new_cdp_session(page)
    points = [{"x": 200 + dx * i / 8, "y": 300 + i} for i in range(9)]
    touch.send("Input.dispatchTouchEvent", {"type": "touchStart", "touchPoints": points[:1]})
    for point in points[1:]:
        touch.send("Input.dispatchTouchEvent", {"type": "touchMove", "touchPoints": [point]})
    touch.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})


def test_swipes_buttons_and_arrow_keys_go_through_the_six_setter_positions(page: Page, server):
    enter(page, 6)
    now = page.locator(".turns b")
    swipe(page, -150)
    expect(now).to_have_text("1")
    swipe(page, 150)
    expect(now).to_have_text("6")
    swipe(page, -20)  # too short to mean anything
    expect(now).to_have_text("6")
    for expected in ("1", "2", "3", "4", "5", "6"):
        page.locator(".turns button").last.click()
        expect(now).to_have_text(expected)
    page.keyboard.press("ArrowLeft")
    expect(now).to_have_text("5")
    best = answer(server, asked(5))["best"]
    expect(page.locator(".huge .digit")).to_have_text(str(best["target"]["zone"]))


def test_the_way_back_leads_to_the_call(page: Page):
    enter(page, 2)
    page.get_by_role("button", name="Back to the call").click()
    expect(page.locator(".call h1")).to_be_visible()
    page.go_forward()
    expect(page.locator(".huge")).to_be_visible()
    page.go_back()
    expect(page.locator(".call .situation b")).to_have_text("2")


def test_opened_directly_it_asks_for_the_setter_first(page: Page):
    page.goto("/server")
    page.get_by_role("button", name="Read").click()
    page.get_by_role("button", name="Setter in 3,").click()
    expect(page.locator(".huge")).to_be_visible()
