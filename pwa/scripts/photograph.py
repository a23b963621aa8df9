"""Photograph every named state of the app, in four sizes, light and dark, into build/photographs/.

    python pwa/scripts/photograph.py http://127.0.0.1:8000                  every state
    python pwa/scripts/photograph.py http://127.0.0.1:8000 why --width 360  some of them
    python pwa/scripts/photograph.py http://127.0.0.1:8000 --readme         the picture of the README

The server must be running. They are for looking at, not for comparing.
"""

from __future__ import annotations

import json

from playwright.sync_api import Browser, Page, Route

from album import ROOT, State, browser, parser, photograph

OUT = ROOT / "build" / "photographs"
README_PICTURE = ROOT / "pwa" / "pictures" / "call.png"
SIZES = {360: 740, 740: 360, 768: 1024, 1280: 800}
CALLS = "**/api/v1/calls"
STALLED = "globalThis.fetch = () => new Promise(() => undefined); 0"  # a network that never answers


def setter(page: Page, position: int) -> None:
    """Say where their setter is, and wait for the call."""
    page.get_by_role("button", name=f"Setter in {position},").click()
    page.locator(".call-view:not(.stale) .situation b", has_text=str(position)).first.wait_for()
    page.locator(".captions .angle").wait_for()


def settle(page: Page) -> None:
    page.wait_for_timeout(350)


def drag(page: Page, grip: str, dx: float, dy: float) -> None:
    """Take hold of something in the picture and keep it held, moved by some pixels."""
    page.locator(".picture").scroll_into_view_if_needed()
    box = page.locator(f'[data-grip="{grip}"] .touch').bounding_box()
    assert box is not None
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + dx, y + dy, steps=8)
    settle(page)


def start(page: Page) -> None:
    page.get_by_role("heading", name="Where is their setter?").wait_for()


def waiting(page: Page) -> None:
    """The first tap, and its answer on the way."""
    start(page)
    page.locator(".cycle").first.wait_for()
    page.evaluate(STALLED)
    page.get_by_role("button", name="Setter in 1,").click()
    page.get_by_role("heading", name="Working out the call").wait_for()


def no_call(page: Page) -> None:
    """The first tap, and no server."""
    start(page)
    page.locator(".cycle").first.wait_for()
    page.context.set_offline(True)
    page.get_by_role("button", name="Setter in 1,").click()
    page.get_by_role("heading", name="No call yet").wait_for()


def from_last_time(page: Page) -> None:
    setter(page, 1)
    page.wait_for_timeout(500)  # until it is kept
    page.add_init_script(STALLED)
    page.reload()
    page.get_by_text("From last time").wait_for()


def setter_in(position: int) -> State:
    return lambda page: setter(page, position)


def dragging(page: Page) -> None:
    setter(page, 1)
    page.evaluate("scrollTo(0, 120)")
    drag(page, "setter", 18, 14)


def limit(page: Page) -> None:
    setter(page, 4)
    page.evaluate("scrollTo(0, 120)")
    drag(page, "passer-6", 260, -34)


def turned(page: Page) -> None:
    setter(page, 4)
    page.get_by_role("button", name="Turn round").click()


def youngest(page: Page) -> None:
    """Under 14, served underhand from a line moved up."""
    for cycle, wanted in (("level", "Under 14"), ("server", "Underhand")):
        button = page.locator(".cycle", has_text=cycle).first
        button.wait_for()
        while button.locator(".value").inner_text() != wanted:
            button.click()
    setter(page, 2)


def picked(page: Page) -> None:
    """Another call than the best."""
    setter(page, 1)
    page.locator(".option").first.click()
    page.get_by_text("Your pick").wait_for()
    page.evaluate("scrollTo(0, 0)")


def feet_and_miles(page: Page) -> None:
    setter(page, 1)
    for units in ("lengths m", "speeds km/h"):
        page.get_by_role("button", name=units).click()
    page.evaluate("scrollTo(0, 0)")


def why(page: Page) -> None:
    setter(page, 1)
    page.locator(".why > summary").click()


def words(page: Page) -> None:
    setter(page, 1)
    page.get_by_text("Every word on this screen").click()


def two_spots(page: Page) -> None:
    setter(page, 1)
    page.get_by_role("link", name="Two spots side by side").click()
    page.locator(".compare-view .two").wait_for()


def two_spots_gone(page: Page) -> None:
    two_spots(page)
    page.context.set_offline(True)
    page.get_by_role("group", name="On the left").get_by_role("button", name="Middle").click()
    page.get_by_text("cannot be reached").first.wait_for()


def caution(page: Page) -> None:
    setter(page, 1)
    page.get_by_role("link", name="Server view").click()
    page.get_by_role("heading", name="Before the first serve").wait_for()


def server_view(page: Page) -> None:
    caution(page)
    page.get_by_role("button", name="Read").click()
    page.locator(".huge").wait_for()


def server_view_gone(page: Page) -> None:
    server_view(page)
    page.context.set_offline(True)
    page.get_by_role("button", name="setter in 2").click()
    page.get_by_text("cannot be reached").first.wait_for()


def error(page: Page) -> None:
    """The service really refuses: the request is sent with a position that does not exist."""

    def spoil(route: Route) -> None:
        body = json.loads(route.request.post_data or "{}")
        body["opponent"]["setter_position"] = 7
        route.continue_(post_data=json.dumps(body))

    setter(page, 1)
    page.route(CALLS, spoil)
    page.get_by_role("button", name="Setter in 2,").click()
    page.get_by_role("alert").wait_for()


def gone(page: Page) -> None:
    setter(page, 1)
    page.context.set_offline(True)
    page.get_by_role("button", name="Setter in 2,").click()
    page.get_by_text("cannot be reached").first.wait_for()


STATES: dict[str, State] = {
    "start": start,
    "waiting": waiting,
    "no-call": no_call,
    "from-last-time": from_last_time,
    **{f"setter-{n}": setter_in(n) for n in range(1, 7)},
    "dragging": dragging,
    "overlap-limit": limit,
    "turned": turned,
    "youngest": youngest,
    "picked": picked,
    "feet-and-miles": feet_and_miles,
    "why": why,
    "words": words,
    "two-spots": two_spots,
    "two-spots-gone": two_spots_gone,
    "caution": caution,
    "server-view": server_view,
    "server-view-gone": server_view_gone,
    "error": error,
    "gone": gone,
}
WHOLE_PAGE = {"why", "words", "two-spots"}


def picture_for_readme(opened: Browser, url: str) -> None:
    """One worked call, with its signal and the whole court: their setter in 4."""
    page = opened.new_page(viewport={"width": 960, "height": 596})
    page.goto(url)
    setter(page, 4)
    settle(page)
    README_PICTURE.parent.mkdir(exist_ok=True)
    page.screenshot(path=README_PICTURE)


def main() -> None:
    arguments = parser(__doc__, STATES, SIZES)
    arguments.add_argument("--readme", action="store_true", help="only make the picture of the README")
    wanted = arguments.parse_args()
    with browser() as opened:
        if wanted.readme:
            picture_for_readme(opened, wanted.url)
        else:
            photograph(opened, OUT, wanted, STATES, SIZES, whole_page=WHOLE_PAGE, server_only=True)


if __name__ == "__main__":
    main()
