"""Learning: six rotations, each until it was seen; the numbers are the engine's own."""

from __future__ import annotations

import re

from playwright.sync_api import Page, expect

from .conftest import Server
from .screen import answer, asked, axe, overlaps, words

MIDDLE = {"x_m": 0.0, "y_m": 6.0}
ROTATIONS = [1, 6, 5, 4, 3, 2]  # FIVB 7.6.2: after each side-out the team moves one place clockwise


def begin(page: Page) -> None:
    page.goto("/learn")
    page.get_by_role("button", name="Start: six rotations").click()


def find(page: Page, position: int) -> None:
    page.locator(f'[data-position="{position}"]').click()


def serve(page: Page, spot: str, across: float, along: float) -> None:
    """Serve from a spot to a place, given as shares of the picture's width and height."""
    page.get_by_role("group", name="Your end line").get_by_role("button", name=spot, exact=True).click()
    box = page.locator(".court-picture svg").bounding_box()
    assert box is not None
    page.mouse.click(box["x"] + across * box["width"], box["y"] + along * box["height"])
    page.get_by_role("button", name="Serve there").click()
    expect(page.get_by_role("button", name=re.compile("^Next"))).to_be_visible()


def seen(page: Page) -> int:
    label = page.locator(".progress").get_attribute("aria-label") or ""
    return int(label.split(" ")[0])


def test_a_chosen_serve_is_worth_what_the_engine_says_and_so_is_the_best(page: Page, server: Server):
    begin(page)
    expect(page.locator(".learn .task")).to_contain_text("position 1")
    find(page, 1)
    page.get_by_role("button", name="Right corner", exact=True).click()
    page.get_by_role("button", name="Serve there").click()  # where the mark lies at first
    request = asked(1, policy={})
    chosen = request | {"server": request["server"] | {"spots": ["right_corner"]}, "target": MIDDLE}
    mine, best = answer(server, chosen, "aimed")["serve"], answer(server, request)["best"]
    yours, other = page.locator(".which button").all()
    expect(yours).to_contain_text(f"wins {100 * mine['keep']:.0f} of 100")
    expect(other).to_contain_text(f"wins {100 * best['keep']:.0f} of 100")
    expect(page.locator(".captions .angle")).to_have_text(f"{mine['pass_angle_deg']:.0f}°")
    other.click()
    expect(page.locator(".captions .angle")).to_have_text(f"{best['pass_angle_deg']:.0f}°")
    assert best["words"]["call"] in words(page.locator(".learn .task"))


def test_what_was_missed_comes_back_until_it_is_seen(page: Page):
    begin(page)
    find(page, 4)
    expect(page.locator(".hint")).to_contain_text("That is the player in 4")
    find(page, 1)
    serve(page, "Right corner", 0.62, 0.2)
    page.get_by_role("button", name="Next: this one comes back").click()
    for position in [*ROTATIONS[1:], 1]:
        expect(page.locator(".learn .task")).to_contain_text(f"position {position}")
        find(page, position)
        serve(page, "Middle", 0.5, 0.2)
        while page.get_by_role("button", name="Next rotation").count() == 0:
            better(page)
        page.get_by_role("button", name="Next rotation").click()
    expect(page.get_by_role("heading", name="All six rotations seen")).to_be_visible()
    expect(page.locator(".task")).to_contain_text("5 at first sight. Setter in 1")
    page.get_by_role("button", name="Once more").click()
    assert seen(page) == 0


def better(page: Page) -> None:
    """Look at the best serve, and serve it: the spot it names, a place by what its picture shows."""
    page.locator(".which button").nth(1).click()
    spot = words(page.locator(".learn .task")).split(" →")[0]
    landing = page.locator(".court-picture .landing").bounding_box()
    box = page.locator(".court-picture svg").bounding_box()
    assert landing is not None
    assert box is not None
    across = (landing["x"] + landing["width"] / 2 - box["x"]) / box["width"]
    along = (landing["y"] + landing["height"] / 2 - box["y"]) / box["height"]
    page.get_by_role("button", name="Another serve").click()
    serve(page, spot, across, along)


def test_a_place_out_of_reach_is_said_so_and_nothing_is_lost(page: Page):
    begin(page)
    find(page, 1)
    page.get_by_role("button", name="Middle", exact=True).click()
    mark = page.locator('[data-grip="target"]')
    mark.focus()
    for place in ("5.0", "4.0", "3.0", "2.0", "1.0", "0.3"):
        page.keyboard.press("Shift+ArrowDown")  # to the net
        expect(mark).to_have_attribute("aria-label", re.compile(f": {place} m off the net"))
    page.get_by_role("button", name="Serve there").click()
    expect(page.get_by_role("alert")).to_contain_text("does not reach that place")
    serve(page, "Middle", 0.5, 0.2)


def test_the_lesson_fits_a_small_phone_without_overlaps_and_has_no_fault_that_axe_finds(page: Page):
    page.set_viewport_size({"width": 360, "height": 640})
    begin(page)
    page.locator('[data-position="1"]').wait_for()
    assert axe(page) == []
    find(page, 1)
    assert axe(page) == []
    serve(page, "Right corner", 0.62, 0.2)
    assert axe(page) == []
    assert overlaps(page) == []
    assert page.evaluate("document.documentElement.scrollWidth") == 360
    expect(page.get_by_role("button", name=re.compile("^Next"))).to_be_in_viewport()
