"""A match played in a real browser: every tap is counted, and what it means is written down beside it.

The log kept here is written in the terms of the events alone, without a look at what the app writes, and
replayed by the second, slow program; so the screen is compared with what should have happened.
"""

from __future__ import annotations

import re
from typing import Any
from uuid import UUID

from playwright.sync_api import Locator, Page, expect

from slow_match import replay as slow_replay

PASS = {1: "Pass 1", 2: "Pass 2", 3: "Pass 3"}


class Bench:
    """A coach with one thumb: taps, and remembers what she meant.

    taps : how often the screen was touched since the match began
    """

    def __init__(self, page: Page) -> None:
        self.page = page
        self.taps = 0
        self.log: list[dict[str, Any]] = []
        self.said: dict[str, Any] = {}

    # what was meant

    def means(self, kind: str, *, at: tuple[int, int] | None = None, **fields: Any) -> str:
        """Write an event into the log kept here; return its id."""
        event_id = str(UUID(f"00000000-0000-7000-8000-{len(self.log):012x}"))
        set_number, rally_number = at or self.place()
        event = {"id": event_id, "device": "test", "counter": len(self.log), "type": kind, **fields}
        self.log.append(event | {"set_number": set_number, "rally_number": rally_number})
        self.said = slow_replay(None, self.log)
        return event_id

    def place(self) -> tuple[int, int]:
        return (self.state["set_number"], self.state["rally_number"]) if self.said else (0, 0)

    @property
    def state(self) -> dict[str, Any]:
        return self.said["state"]

    # what is touched

    def tap(self, what: Locator) -> None:
        what.tap()
        self.taps += 1

    def button(self, name: str, *, exact: bool = True, inside: str = ".log-pad") -> Locator:
        return self.page.locator(inside).get_by_role("button", name=name, exact=exact)

    def press(self, name: str, **where: Any) -> None:
        self.tap(self.button(name, **where))

    def more(self, name: str) -> None:
        self.press("More")
        self.press(name, exact=False, inside="dialog")

    # what happens on the floor

    def graded(self, grade: int) -> str:
        self.press(PASS[grade], exact=False)
        return self.means("pass_graded", grade=grade)

    def won(self, winner: str) -> str:
        self.press("We won" if winner == "us" else "They won")
        return self.means("rally_won", winner=winner)

    def missed(self) -> str:
        serving = self.state["serving"]
        self.press("Missed" if serving == "us" else "They missed")
        return self.means("rally_won", winner="them" if serving == "us" else "us", ending="service_error")

    def ace(self) -> str:
        serving = self.state["serving"]
        self.press("Ace" if serving == "us" else "Their ace")
        return self.means("rally_won", winner=serving, ending="ace")

    def undone(self, *event_ids: str) -> None:
        """Undo the last tap, which wrote these events."""
        self.press("Undo", exact=False)
        for event_id in reversed(event_ids):
            self.means("retracted", event_id=event_id)

    def replaced(self, side: str, leaves: int, enters: int, kind: str, *, new: bool = False) -> None:
        """Take a player out and another in, by tapping their numbers. new : never seen, so typed"""
        self.press("Players")
        sheet = self.page.locator("dialog")
        if side == "them":
            self.tap(sheet.get_by_role("button", name=re.compile("^They")))
        self.tap(sheet.get_by_role("button", name=re.compile(rf"^\d: {leaves}\b")))
        choice = sheet.locator(".number-choice")
        if new and choice.locator(".chip").count() > 0:
            self.tap(choice.get_by_role("button", name="other"))
        for name in (*str(enters), "Take") if new else (re.compile(rf"^{enters}\b"),):
            self.tap(choice.get_by_role("button", name=name, exact=True))
        self.means(kind, side=side, leaves=leaves, enters=enters)

    # what is seen

    def agrees(self) -> None:
        """Check that the screen says what should have happened."""
        state, page = self.state, self.page
        main = page.locator("main")
        if state["status"] == "in_play":
            expect(page.locator(".live")).to_have_attribute("data-fresh", "true")
            expect(page.locator(".score .ours")).to_have_text(str(state["points"]["us"]))
            expect(page.locator(".score .theirs")).to_have_text(str(state["points"]["them"]))
            sets = state["sets"]
            expect(page.locator(".sets")).to_have_text(
                f"set {state['set_number']} {sets['us']}\u2013{sets['them']}"
            )
            expect(page.locator(".live")).to_have_attribute("data-serving", state["serving"])
            number = state["server"]["number"]
            unknown = "we" if state["serving"] == "us" else "they"
            badge = page.locator(f".badge.{state['serving']}")
            expect(badge).to_have_text(unknown if number is None else str(number))
            setter = state["sides"]["them"]["setter_position"]
            expect(page.locator(".their-half .caption")).to_have_text(
                "setter not known" if setter is None else f"their setter in {setter}"
            )
        elif state["status"] == "set_over":
            won = "We" if state["set_winner"] == "us" else "They"
            expect(main.locator("h1")).to_have_text(f"{won} won set {state['set_number']}")
        else:
            won = "We" if state["winner"] == "us" else "They"
            expect(main.locator("h1")).to_have_text(f"{won} won the match")


def begin(page: Page, serving_first: str, their_setter: int) -> Bench:
    """Begin a match with nothing known but their setter's place."""
    bench = Bench(page)
    page.goto("/matches")
    bench.tap(page.get_by_role("link", name="New match"))
    bench.tap(page.get_by_role("button", name=f"Setter in {their_setter},"))
    bench.tap(
        page.get_by_role("button", name="We serve first" if serving_first == "us" else "They serve first")
    )
    bench.means("match_opened", level="high_school")
    bench.means("set_started", at=(1, 1), serving_first=serving_first, them={"setter_position": their_setter})
    expect(page.locator(".live-call .odds")).to_be_visible(timeout=30_000)  # an engine may have to wake first
    return bench
