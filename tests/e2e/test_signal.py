"""The hand signal is what the coach acts on: it stands with the call, whole, wherever a phone is held."""

from __future__ import annotations

import pytest
from playwright.sync_api import Locator, Page

from .screen import answer, asked, grip, middle, outside, overlaps, pick, start, with_longest_words, words

POSITIONS = (1, 2, 3, 4, 5, 6)
UPRIGHT = ((360, 640), (360, 740), (412, 780))  # phones, the browser's own bars shown
SIDEWAYS = ((640, 320), (740, 360), (915, 412))

Box = tuple[float, float, float, float]


def box(place: Locator) -> Box:
    """Return the left, top, right and bottom of something in the window. [px]"""
    found = place.bounding_box()
    assert found is not None
    assert found["width"] > 0
    assert found["height"] > 0
    return found["x"], found["y"], found["x"] + found["width"], found["y"] + found["height"]


def height_of(page: Page, selector: str) -> float:
    _, top, _, bottom = box(page.locator(selector))
    return round(bottom - top, 1)


def apart(a: Box, b: Box) -> bool:
    return a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]


def assert_apart(boxes: list[Box]) -> None:
    assert [(a, b) for i, a in enumerate(boxes) for b in boxes[i + 1 :] if not apart(a, b)] == []


def assert_all_in_sight(page: Page) -> None:
    """The call, its odds and the three poses lie in the window, on nothing else and under nothing."""
    width, height = page.evaluate("[innerWidth, innerHeight]")
    assert page.evaluate("scrollY") == 0
    poses = page.locator(".signal li").all()
    assert len(poses) == 3
    shown = [box(page.locator(".call h1")), box(page.locator(".odds")), *map(box, poses)]
    hands = [box(hand) for hand in page.locator(".signal .hand").all()]
    for left, top, right, bottom in shown + hands:
        assert left >= 0
        assert top >= 0
        assert right <= width
        assert bottom <= height
    assert_apart([*shown, box(page.locator(".dock")), box(page.locator(".top"))])
    assert_apart(
        [*shown, box(page.locator(".about")), box(page.locator(".top"))]
    )  # this one may go on under the dock
    assert all(apart(hand, box(page.locator(".dock"))) for hand in hands)
    assert overlaps(page) == []
    assert outside(page) == []


@pytest.mark.parametrize(("width", "height"), UPRIGHT + SIDEWAYS)
def test_the_whole_signal_is_in_sight_with_the_call(page: Page, server, width: int, height: int):
    page.set_viewport_size({"width": width, "height": height})
    start(page)
    for position in POSITIONS:
        pick(page, position)
        assert_all_in_sight(page)
        signal = [words(pose).split(" :")[0] for pose in page.locator(".signal .pose").all()]
        assert signal == [pose["text"] for pose in answer(server, asked(position))["best"]["signal"]]
        lefts = [box(pose)[0] for pose in page.locator(".signal li").all()]
        assert lefts == sorted(lefts)  # shown in the order in which they are given
        assert lefts[0] == pytest.approx(box(page.locator(".odds"))[0], abs=1)


@pytest.mark.parametrize(("width", "height"), UPRIGHT + SIDEWAYS)
def test_the_signal_stays_in_sight_in_the_longest_wording(page: Page, width: int, height: int):
    page.set_viewport_size({"width": width, "height": height})
    page.route("**/api/v1/calls", with_longest_words)
    start(page)
    pick(page, 3)
    assert_all_in_sight(page)
    page.unroute_all(behavior="wait")


@pytest.mark.parametrize(("width", "height"), SIDEWAYS)
def test_held_sideways_everything_known_is_at_the_thumb(page: Page, width: int, height: int):
    page.set_viewport_size({"width": width, "height": height})
    start(page)
    pick(page, 2)
    page.mouse.wheel(0, 400)  # also once the picture has been scrolled to
    page.wait_for_function("scrollY > 0")
    for button in page.locator(".dock button").all():
        left, top, right, bottom = box(button)
        assert left >= 0
        assert top >= 0
        assert right <= width
        assert bottom <= height


def test_nothing_above_the_picture_gives_way_while_something_is_dragged(page: Page):
    page.set_viewport_size({"width": 360, "height": 740})
    start(page)
    pick(page, 4)
    page.evaluate("scrollTo(0, 330)")
    x, y = middle(grip(page, "passer-1"))
    page.mouse.move(x, y)
    page.mouse.down()
    heights, said = [], set()
    for step in range(12):
        page.mouse.move(x + 6 * step, y - 3 * step)
        page.wait_for_timeout(120)
        heights.append([height_of(page, part) for part in (".call", ".signal", ".about")])
        said.add(words(page.locator(".about")))
    page.mouse.up()
    assert len(said) > 1  # the text did change
    for part in zip(*heights, strict=True):
        assert list(part) == sorted(part)


@pytest.mark.parametrize("scrolled", [0, 60])
def test_the_picture_keeps_its_place_under_the_finger_while_the_words_above_it_grow(
    page: Page, scrolled: int
):
    page.set_viewport_size({"width": 412, "height": 839})
    start(page)
    pick(page, 1)
    page.evaluate(f"scrollTo(0, {scrolled})")
    x, y = middle(grip(page, "passer-5"))
    page.mouse.move(x, y)
    page.mouse.down()
    top, height = box(page.locator(".court-picture"))[1], height_of(page, ".about")

    def pull(dx: float, dy: float) -> None:
        page.mouse.move(x + dx, y + dy, steps=4)
        assert middle(grip(page, "passer-5")) == pytest.approx((x + dx, y + dy), abs=1)

    pull(-16, 8)
    pull(-32, 16)
    grown = "(was) => document.querySelector('.about').getBoundingClientRect().height > was + 10"
    page.wait_for_function(grown, arg=height)
    for dx, dy in ((-32, 16), (-40, 20)):
        pull(dx, dy)
        assert box(page.locator(".court-picture"))[1] == pytest.approx(top, abs=1)
    page.mouse.up()
