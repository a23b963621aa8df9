"""Photograph every named state of the match screen, at three widths, light and dark, into build/match/.

    python pwa/scripts/photograph_match.py http://127.0.0.1:8000                     every state
    python pwa/scripts/photograph_match.py http://127.0.0.1:8000 serving --width 360  some of them

The server must be running; matches are begun in it. They are for looking at, not for comparing.
"""

from __future__ import annotations

import re

from playwright.sync_api import Page

from album import ROOT, State, photograph_signed_in

OUT = ROOT / "build" / "match"
SIZES = {360: 740, 768: 1024, 1280: 800}


def demo(page: Page) -> None:
    """Open the match to try, and wait for its call."""
    page.locator(".match", has_text="A match to try").click()
    page.locator(".live[data-fresh=true] .live-call .odds").wait_for()


def tap(page: Page, name: str, inside: str = ".log-pad") -> None:
    page.locator(inside).get_by_role("button", name=name, exact=True).click()
    fresh(page)


def fresh(page: Page) -> None:
    """Wait until the screen shows what the last tap came to."""
    page.wait_for_timeout(250)
    page.wait_for_function("() => !document.querySelector('.live[data-fresh=false]')")


def known(page: Page) -> None:
    """Begin a match with both line-ups, without typing: theirs as last time, ours as it was kept."""
    page.get_by_role("link", name="New match").click()
    page.get_by_role("button", name="Harbour Street").click()
    page.locator("summary", has_text="Our line-up").click()
    pad = page.locator("details[open] .digits")
    for number in ("12", "11", "7", "14", "15", "9", "13"):
        for digit in number:
            pad.get_by_role("button", name=digit, exact=True).click()
        if len(number) == 1:
            pad.get_by_role("button", name="Next").click()
    page.get_by_role("button", name="We serve first").click()
    page.locator(".live[data-fresh=true] .live-call .odds").wait_for()


def rally(page: Page, grade: str | None, winner: str) -> None:
    if grade:
        page.locator(".grade", has_text=grade).click()
        page.wait_for_timeout(120)
    tap(page, winner)


def matches(page: Page) -> None:
    page.locator(".match").first.wait_for()


def before(page: Page) -> None:
    page.get_by_role("link", name="New match").click()
    page.get_by_role("heading", name="Where is their setter?").wait_for()


def line_up(page: Page) -> None:
    before(page)
    page.locator("summary", has_text="Our line-up").click()
    page.locator("details[open] .digits").scroll_into_view_if_needed()


def serving(page: Page) -> None:
    known(page)
    rally(page, "2", "We won")


def receiving(page: Page) -> None:
    known(page)
    rally(page, "3", "They won")


def graded(page: Page) -> None:
    serving(page)
    page.locator(".grade", has_text="1").click()
    fresh(page)


def undone(page: Page) -> None:
    receiving(page)
    page.locator(".undo").click()
    fresh(page)


def missed(page: Page) -> None:
    known(page)
    tap(page, "Missed")


def setter_unknown(page: Page) -> None:
    page.get_by_role("link", name="New match").click()
    page.get_by_role("button", name="We serve first").click()
    page.locator(".ask-setter").wait_for()


def contradiction(page: Page) -> None:
    receiving(page)
    page.locator(".badge.them").click()
    page.locator("dialog .chip").nth(3).click()
    page.locator(".prompt.note").wait_for()


def time_out(page: Page) -> None:
    demo(page)
    tap(page, "More")
    page.locator("dialog").get_by_role("button", name=re.compile("^Our time-out")).click()
    page.locator(".next-calls b", has_text="zone").nth(2).wait_for()


def more(page: Page) -> None:
    demo(page)
    tap(page, "More")


def bench(page: Page) -> None:
    known(page)
    tap(page, "Players")
    page.locator("dialog .half button").nth(5).click()


def reception(page: Page) -> None:
    demo(page)
    page.locator(".their-half").click()
    page.locator("dialog").get_by_role("button", name="four", exact=True).click()
    page.locator("dialog .grip").nth(3).wait_for()


def libero(page: Page) -> None:
    known(page)
    tap(page, "They won")
    page.locator(".libero-in").wait_for()


def rallies(page: Page) -> None:
    demo(page)
    tap(page, "More")
    page.locator("dialog").get_by_role("button", name="Last rallies…").click()
    page.locator(".rallies > li > button").nth(1).click()


def hands(page: Page) -> None:
    demo(page)
    tap(page, "More")
    page.locator("dialog").get_by_role("button", name="Hand signals…").click()
    page.locator("dialog").get_by_role("button", name="Left corner").click()


def served(page: Page) -> None:
    graded(page)
    page.locator(".prompt").get_by_role("button", name="where").click()


def finish_set(page: Page, winner: str) -> None:
    for _ in range(60):
        if page.locator(".set-view").count():
            return
        if page.locator(".prompt.ask").count():
            page.locator(".prompt.ask button").click()
            page.wait_for_timeout(150)
        if page.locator(".row.two button", has_text="Missed").count() and winner == "We won":
            page.locator(".grade").nth(1).click()
            page.wait_for_timeout(80)
        tap(page, winner)


def set_end(page: Page) -> None:
    page.locator("main").wait_for()
    known(page)
    finish_set(page, "We won")
    page.locator(".summary").wait_for()


def match_end(page: Page) -> None:
    set_end(page)
    for _ in range(2):
        page.get_by_role("button", name="We serve first").click()
        page.locator(".live").wait_for()
        finish_set(page, "We won")
    page.get_by_role("heading", name="We won the match").wait_for()


def review(page: Page) -> None:
    item = page.locator(".matches > li", has_text="A match to try")
    item.locator("summary").click()
    item.get_by_role("link", name="Review").click()
    page.locator(".review-table").first.wait_for()


def seconds(page: Page) -> None:
    known(page)
    tap(page, "More")
    page.locator("dialog").get_by_role("button", name="This screen…").click()
    page.get_by_label("Seconds to serve").check()
    page.get_by_label("For the left hand").check()
    page.locator("dialog").get_by_role("button", name="Close").click()
    page.wait_for_timeout(2500)


STATES: dict[str, State] = {
    "matches": matches,
    "before": before,
    "line-up": line_up,
    "setter-unknown": setter_unknown,
    "serving": serving,
    "receiving": receiving,
    "graded": graded,
    "undone": undone,
    "missed": missed,
    "contradiction": contradiction,
    "time-out": time_out,
    "more": more,
    "players": bench,
    "rallies": rallies,
    "hands": hands,
    "served": served,
    "reception": reception,
    "libero": libero,
    "set-end": set_end,
    "match-end": match_end,
    "review": review,
    "left-handed": seconds,
}
WHOLE_PAGE = {"review"}


if __name__ == "__main__":
    photograph_signed_in(__doc__, OUT, STATES, SIZES, WHOLE_PAGE)
