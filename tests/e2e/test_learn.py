"""Learning: six rotations, each until it was seen; the numbers are the engine's own."""

from __future__ import annotations

import re
from typing import Any

from playwright.sync_api import Page, expect

from .conftest import Server
from .screen import answer, asked, axe, outside, overlaps, words

MIDDLE = {"x_m": 0.0, "y_m": 6.0}
ROTATIONS = [1, 6, 5, 4, 3, 2]  # FIVB 7.6.2: after each side-out the team moves one place clockwise
HALF_M, LENGTH_M = 4.5, 18.0  # FIVB 1.1
A_PIXEL_M = 0.15  # of a picture some 20 px to the metre, its words to 0.1 m


def begin(page: Page) -> None:
    page.goto("/learn")
    page.get_by_role("button", name="Start: six rotations").click()


def find(page: Page, position: int) -> None:
    page.locator(f'[data-position="{position}"]').click()


def aim(page: Page, x_m: float, y_m: float) -> None:
    """Tap a place of the court, given in metres from the middle of the net."""
    court = page.locator(".court-picture .lines .court").bounding_box()
    assert court is not None
    across, along = (x_m + HALF_M) / (2 * HALF_M), (LENGTH_M / 2 - y_m) / LENGTH_M
    page.mouse.click(court["x"] + across * court["width"], court["y"] + along * court["height"])


def serve(page: Page, spot: str, x_m: float, y_m: float) -> None:
    page.get_by_role("group", name="Your end line").get_by_role("button", name=spot, exact=True).click()
    aim(page, x_m, y_m)
    page.get_by_role("button", name="Serve there").click()
    expect(page.get_by_role("button", name=re.compile("^Next"))).to_be_visible()


def serve_best(page: Page, server: Server, position: int) -> None:
    """Serve as the API says is best for the rotation."""
    best = best_of(server, position)
    serve(page, best["words"]["spot"].capitalize(), best["target"]["x_m"], best["target"]["y_m"])


def best_of(server: Server, position: int) -> dict[str, Any]:
    return answer(server, asked(position, policy={}))["best"]


def seen(page: Page) -> int:
    label = page.locator(".progress").get_attribute("aria-label") or ""
    return int(label.split(" ")[0])


def mark(page: Page) -> tuple[float, float]:
    """Return where the mark lies, to our right and off the net. [m]"""
    label = page.locator('[data-grip="target"]').get_attribute("aria-label") or ""
    off, aside = re.findall(r"\d+\.\d", label)
    return float(aside) * (-1 if "left" in label else 1), float(off)


def row(page: Page, name: str) -> list[str]:
    """Return what a row of the comparison says: of the chosen serve, and of the best one."""
    line = page.locator(".compared tr", has=page.get_by_role("rowheader", name=name))
    return [words(cell) for cell in line.locator("td").all()]


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
    assert row(page, "turn of the pass") == [f"{one['pass_angle_deg']:.0f}°" for one in (mine, best)]
    assert row(page, "setter out of sight by") == [f"{one['sight_angle_deg']:.0f}°" for one in (mine, best)]
    assert row(page, "misses of 100 serves") == [f"{100 * one['p_error']:.0f}" for one in (mine, best)]
    expect(page.locator(".captions .angle")).to_have_text(f"{mine['pass_angle_deg']:.0f}°")
    other.click()
    expect(page.locator(".captions .angle")).to_have_text(f"{best['pass_angle_deg']:.0f}°")
    assert best["words"]["call"] in words(page.locator(".learn .words"))


def test_what_was_missed_comes_back_until_it_is_seen(page: Page, server: Server):
    begin(page)
    find(page, 4)
    expect(page.locator(".hint")).to_contain_text("That one is in 4, at the net, right")
    find(page, 1)
    serve_best(page, server, 1)
    page.get_by_role("button", name="Next: this one comes back").click()
    find(page, 6)
    serve(page, "Middle", 0, 6)
    expect(page.get_by_role("heading", name="Too easy to pass")).to_be_visible()
    page.get_by_role("button", name="Another serve").click()
    serve_best(page, server, 6)  # after it was shown: it comes back all the same
    page.get_by_role("button", name="Next: this one comes back").click()
    for position in [*ROTATIONS[2:], 1, 6]:
        expect(page.locator(".learn .task")).to_contain_text(f"position {position}")
        assert seen(page) == [*ROTATIONS[2:], 1, 6].index(position)
        find(page, position)
        serve_best(page, server, position)
        expect(page.get_by_role("heading", name="As good as the best!")).to_be_visible()
        page.get_by_role("button", name="Next rotation").click()
    expect(page.get_by_role("heading", name="All six rotations seen")).to_be_visible()
    expect(page.locator(".task").first).to_contain_text("4 at first sight. Setter in 1, 6")
    for position in ROTATIONS:
        call = best_of(server, position)["words"]["call"]
        expect(page.get_by_role("img", name=f"Setter in {position}: {call}")).to_be_visible()
    assert outside(page) == []
    page.get_by_role("button", name="Once more").click()
    assert seen(page) == 0


def test_who_is_tapped_instead_of_the_setter_is_said_truly_and_then_she_is_shown(page: Page):
    begin(page)
    find(page, 3)  # with the setter in 1 it is 3 who passes beside 6 and 5
    expect(page.locator(".hint")).to_contain_text("She has come from 3 to pass")
    court = page.locator(".court-picture svg").bounding_box()
    find(page, 2)
    expect(page.locator(".hint")).to_contain_text("Here she is")
    assert page.locator(".court-picture svg").bounding_box() == court  # nothing moves under the finger
    setter = page.locator('[data-position="1"] .touch').bounding_box()
    shown = page.locator(".here-she-is").bounding_box()
    assert setter is not None
    assert shown is not None
    for edge, size in (("x", "width"), ("y", "height")):
        assert abs(setter[edge] + setter[size] / 2 - shown[edge] - shown[size] / 2) < 1
    find(page, 1)
    expect(page.get_by_role("heading", name="Where do you stand?")).to_be_visible()


def test_the_end_line_in_the_picture_can_be_tapped_and_the_mark_moves_by_small_taps(page: Page):
    begin(page)
    find(page, 1)
    aim(page, -4.2, -9.0)
    end_line = page.get_by_role("group", name="Your end line")
    expect(end_line.get_by_role("button", name="Left corner")).to_have_attribute("aria-pressed", "true")
    aim(page, 2.0, -5.0)
    expect(end_line.get_by_role("button", name="Right", exact=True)).to_have_attribute("aria-pressed", "true")
    for x_m, y_m in ((2.0, 6.0), (2.5, 6.4)):  # the second is nearer to the mark than a finger is wide
        aim(page, x_m, y_m)
        assert abs(mark(page)[0] - x_m) < A_PIXEL_M
        assert abs(mark(page)[1] - y_m) < A_PIXEL_M


def test_a_mark_out_of_reach_is_put_to_where_the_ball_gets_and_can_be_served(page: Page, server: Server):
    begin(page)
    find(page, 1)
    page.get_by_role("button", name="Left corner", exact=True).click()
    aim(page, -3.6, 8.7)
    page.get_by_role("button", name="Serve there").click()
    expect(page.get_by_role("alert")).to_contain_text("does not reach that place")
    x_m, y_m = mark(page)
    assert -4.2 < x_m < -3.0  # on the way there
    assert 6.0 < y_m < 8.7
    request = asked(1, policy={}, server={"kind": "standing_float", "spots": ["left_corner"]})
    assert answer(server, request | {"target": {"x_m": x_m, "y_m": y_m - A_PIXEL_M}}, "aimed")["serve"]
    page.get_by_role("button", name="Serve there").click()
    expect(page.get_by_role("button", name=re.compile("^Next"))).to_be_visible()


def test_the_lesson_fits_a_small_phone_without_overlaps_and_has_no_fault_that_axe_finds(page: Page):
    page.set_viewport_size({"width": 360, "height": 640})
    page.goto("/learn")
    expect(page.get_by_role("img", name=re.compile("^You serve"))).to_be_visible()
    assert axe(page) == []
    assert overlaps(page) == []
    page.get_by_role("button", name="Start: six rotations").click()
    page.locator('[data-position="1"]').wait_for()
    assert axe(page) == []
    find(page, 1)
    assert axe(page) == []
    serve(page, "Right corner", 1.1, 6.5)
    assert axe(page) == []
    assert overlaps(page) == []
    assert outside(page) == []
    expect(page.get_by_role("button", name=re.compile("^Next"))).to_be_in_viewport()
