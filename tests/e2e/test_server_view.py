"""The server's own view: huge, from her side, after the caution."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from .screen import answer, asked, outside, overlaps, pick, start, words
from .test_states import LONGEST, with_longest_words

TALL_PX = 76  # about 12 mm on a phone: 160 CSS px to the inch
PHONE = {"width": 360, "height": 740}


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
        "floor is clear of loose balls",
        "blow to the head",
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


@pytest.mark.parametrize("longest", [False, True])
def test_words_and_digit_are_tall_and_fit_a_small_phone(page: Page, longest: bool):
    page.set_viewport_size(PHONE)
    if longest:
        page.route("**/api/v1/calls", with_longest_words)
    enter(page, 3)
    if longest:
        assert all(word in huge(page) for word in LONGEST["kind"].split())
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
    assert page.evaluate("document.documentElement.scrollHeight <= innerHeight")
    assert page.locator("main").evaluate("e => e.scrollHeight <= e.clientHeight + 1")
    picture = page.locator(".court-picture").bounding_box()
    assert picture["height"] >= 96
    assert overlaps(page) == []
    assert outside(page) == []


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
