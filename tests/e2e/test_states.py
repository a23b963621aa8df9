"""Every named state of the app, upright, sideways and on wider screens, light and dark: nothing overlaps,
nothing sticks out, axe-core finds nothing, and the call stays big.

The states are those that pwa/scripts/photograph.py photographs.
"""

from __future__ import annotations

import json

import pytest
from playwright.sync_api import Page, Route, expect

from photograph import STATES

from .screen import LONGEST, axe, outside, overlaps, pick, start, with_longest_words, words

SIZES = ((360, 740), (740, 360), (768, 1024), (1280, 800))
CALL_PX = 28


@pytest.mark.parametrize("state", STATES)
def test_a_state_is_readable_at_every_width_and_in_both_schemes(page: Page, state: str):
    page.set_viewport_size({"width": 360, "height": 740})
    page.goto("/")
    STATES[state](page)
    for width, height in SIZES:
        page.set_viewport_size({"width": width, "height": height})
        page.wait_for_timeout(100)  # the picture is measured and drawn again
        assert overlaps(page) == [], width
        assert outside(page) == [], width
        assert axe(page) == [], width
        for call in page.locator(".call h1").all():
            assert call.evaluate("e => parseFloat(getComputedStyle(e).fontSize)") >= CALL_PX, width
    page.set_viewport_size({"width": 360, "height": 740})
    page.emulate_media(color_scheme="dark")
    assert axe(page) == []


@pytest.mark.parametrize("width", [320, 360, 412, 768, 1280])
def test_the_call_is_big_in_its_longest_wording(page: Page, width: int):
    page.set_viewport_size({"width": width, "height": 800})
    page.route("**/api/v1/calls", with_longest_words)
    start(page)
    pick(page, 3)
    call = page.locator(".call h1")
    assert words(call) == LONGEST["call"]
    assert call.evaluate("e => parseFloat(getComputedStyle(e).fontSize)") >= CALL_PX
    assert overlaps(page) == []
    assert outside(page) == []
    page.unroute_all(behavior="wait")


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_the_call_has_seven_to_one_contrast(page: Page, scheme: str):
    page.emulate_media(color_scheme=scheme)
    start(page)
    pick(page, 3)
    ink, ground = (
        page.locator(selector).evaluate(f"e => getComputedStyle(e).{what}")
        for selector, what in ((".call h1", "color"), ("body", "backgroundColor"))
    )

    def luminance(rgb: str) -> float:  # WCAG 2.2, relative luminance
        shares = [int(part) / 255 for part in rgb[4:-1].split(",")]
        linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in shares]
        return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]

    low, high = sorted((luminance(ink), luminance(ground)))
    assert (high + 0.05) / (low + 0.05) >= 7


def test_everything_to_tap_is_at_least_48_px(page: Page):
    page.set_viewport_size({"width": 360, "height": 740})
    start(page)
    pick(page, 1)
    page.locator(".why > summary").click()
    small = page.evaluate(
        """() => [...document.querySelectorAll("button, a, summary, .grip .touch")].filter((e) => {
          const box = e.getBoundingClientRect();
          return e.checkVisibility() && (box.width < 47.9 || box.height < 47.9);
        }).map((e) => e.outerHTML.slice(0, 80))"""
    )
    assert small == []


def test_a_refusal_is_said_in_plain_words_and_ends_by_itself_when_it_is_mended(page: Page):
    def spoil(route: Route) -> None:
        body = json.loads(route.request.post_data or "{}")
        body["opponent"]["setter_position"] = 7
        route.continue_(post_data=json.dumps(body))

    start(page)
    pick(page, 1)
    call = words(page.locator(".call h1"))
    page.route("**/api/v1/calls", spoil)
    page.get_by_role("button", name="Setter in 2,").click()
    alert = page.get_by_role("alert")
    expect(alert).to_contain_text("position it needs a whole number")
    expect(alert).to_contain_text("from 1 to 6, not 7")
    assert words(page.locator(".call h1")) == call  # the last call stays
    page.unroute("**/api/v1/calls")
    page.get_by_role("button", name="Try again").click()
    expect(alert).to_have_count(0)
    expect(page.locator(".call .situation b")).to_have_text("2")


def test_when_the_server_is_gone_the_last_call_stays_and_comes_back_by_itself(page: Page, server):
    start(page)
    pick(page, 1)
    call = words(page.locator(".call h1"))
    server.stop()
    try:
        page.get_by_role("button", name="Setter in 4,").click()
        expect(page.get_by_text("The server cannot be reached.").first).to_be_visible()
        expect(page.locator(".notice")).to_contain_text("for their setter in 1")
        assert words(page.locator(".call h1")) == call
        assert axe(page) == []
    finally:
        server.start()
    expect(page.locator(".call .situation b")).to_have_text("4", timeout=15_000)
    expect(page.locator(".notice")).to_have_count(0)


def test_two_spots_of_which_one_is_not_known_yet_get_no_verdict(page: Page):
    start(page)
    pick(page, 1)
    page.get_by_role("link", name="Two spots side by side").click()
    expect(page.locator("h1")).to_contain_text("Right corner wins")
    page.context.set_offline(True)
    page.get_by_role("group", name="On the left").get_by_role("button", name="Right", exact=True).click()
    expect(page.locator(".notice")).to_contain_text("the last pair it gave")
    expect(page.locator("h1")).to_have_text("Two spots side by side")
    expect(page.locator("h2").first).to_contain_text("Left corner")  # what is below says what it is
    page.context.set_offline(False)
    expect(page.locator("h1")).to_contain_text("in 100", timeout=15_000)
    expect(page.locator("h2").first).to_contain_text("Right")


def test_a_first_tap_without_a_server_waits_and_then_shows_the_call(page: Page, server):
    start(page)
    server.stop()
    try:
        page.get_by_role("button", name="Setter in 5,").click()
        expect(page.get_by_role("heading", name="No call yet")).to_be_visible()
        assert axe(page) == []
    finally:
        server.start()
    expect(page.locator(".call h1")).to_contain_text("zone", timeout=15_000)


def test_what_is_at_the_thumb_stays_there_when_the_first_call_comes(page: Page):
    page.set_viewport_size({"width": 360, "height": 740})
    start(page)
    expect(page.locator(".cycle")).to_have_count(2)
    held, free = [], False
    page.route("**/api/v1/calls", lambda route: route.continue_() if free else held.append(route))
    page.get_by_role("button", name="Setter in 1,").click()
    expect(page.get_by_role("heading", name="Working out the call")).to_be_visible()
    buttons = page.locator(".dock .place, .dock .cycle")
    before = [button.bounding_box() for button in buttons.all()]
    assert len(before) == 8
    free = True
    for route in held:
        route.continue_()
    expect(page.locator(".ceiling button")).to_have_count(2)
    assert [button.bounding_box() for button in buttons.all()] == before


def test_the_page_says_nothing_in_the_console(phone):
    page = phone.new_page()
    said = []
    page.on("console", lambda message: said.append(message.text))
    page.on("pageerror", lambda error: said.append(str(error)))
    start(page)
    pick(page, 1)
    page.get_by_role("link", name="Two spots side by side").click()
    expect(page.locator(".two")).to_be_visible()
    page.goto("/server")
    expect(page.get_by_role("heading", name="Before the first serve")).to_be_visible()
    assert said == []


def test_the_focus_is_never_hidden_behind_the_fixed_controls(page: Page):
    page.set_viewport_size({"width": 360, "height": 740})
    start(page)
    pick(page, 1)
    hidden = []
    for _ in range(40):
        page.keyboard.press("Tab")
        hidden += page.evaluate(
            """() => {
              const e = document.activeElement, dock = document.querySelector(".dock");
              if (e === document.body || dock.contains(e)) return [];
              const over = e.getBoundingClientRect().bottom - dock.getBoundingClientRect().top;
              return over > 0 ? [e.outerHTML.slice(0, 80)] : [];
            }"""
        )
    assert hidden == []


def test_four_times_enlarged_nothing_is_lost(page: Page):
    page.set_viewport_size({"width": 320, "height": 256})  # 1280 x 1024 at 400 %, WCAG 1.4.10
    start(page)
    pick(page, 2)
    assert outside(page) == []
    assert overlaps(page) == []
    assert page.locator(".dock").evaluate("e => getComputedStyle(e).position") == "static"
