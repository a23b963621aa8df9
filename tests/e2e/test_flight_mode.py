"""An evening in flight mode: a set from a cold start, without network or server; then everything arrives."""

from __future__ import annotations

import json
from collections.abc import Callable
from functools import cache
from random import Random
from typing import Any

from cornerwise.engine import bridge
from cornerwise.service.arrays import ARRAYS
from playwright.sync_api import BrowserContext, Page, expect

from ..device.differences import differences
from .conftest import Server
from .match import Bench, begin
from .screen import middle

DRAGS = 20
TWO_UNDOS, RESTART = 6, 12  # before and after so many rallies
WAKING_MS = 30_000  # chosen: Python starts within a second; a busy machine may take much longer
DROP_PX = 8  # of the end of a drag beside its beginning, at least: a shorter one is a tap

READ = """async ({ base, store, name }) => {
  const opening = indexedDB.open(base);
  const db = await new Promise((done, fail) => {
    opening.onsuccess = () => done(opening.result);
    opening.onerror = () => fail(opening.error);
  });
  const shelf = db.transaction(store).objectStore(store);
  const asking = name === null ? shelf.getAll() : shelf.get(name);
  await new Promise((done) => { asking.onsuccess = done; });
  db.close();
  return JSON.stringify(asking.result);
}"""


def read(page: Page, base: str, store: str, name: str | None = None) -> Any:
    """Return what lies in a store of the device, one value or all of them. As one text: it may be long."""
    return json.loads(page.evaluate(READ, {"base": base, "store": store, "name": name}))


def match_id(page: Page) -> str:
    return page.url.rsplit("/", 1)[-1]


def log_here(page: Page) -> list[dict[str, Any]]:
    """Return the events on the device's disk, in the order of its taps."""
    rows = read(page, "cornerwise-log", "rows")
    assert {row["match"] for row in rows} == {match_id(page)}
    return [row["event"] for row in sorted(rows, key=lambda row: row["n"])]


def kept_here(page: Page) -> dict[str, Any]:
    """Return what the app keeps of the match beside its log: the engine's answers, as they were shown."""
    return read(page, "cornerwise", "kept", f"match/{match_id(page)}/1")


def answer_here(page: Page, request: dict[str, Any]) -> dict[str, Any] | None:
    """Return the app's answer to a question; it is kept shortly after it is shown."""
    for _ in range(200):
        for asked, answer in kept_here(page)["calls"].items():
            if json.loads(asked)["request"] == request:
                return answer
        page.wait_for_timeout(25)
    return None


@cache
def call_by_cpython(request: str) -> dict[str, Any]:
    return bridge.call(json.loads(request), ARRAYS)


def the_call_is_cpythons(page: Page) -> dict[str, Any] | None:
    """Check the call on the screen, and the whole answer behind it, against this Python's; return the answer.

    The question is this Python's as well: its own replay of the device's log. None at our set point on
    their serve: no serve of ours comes after it.
    """
    coming = bridge.replay({"events": log_here(page)})["coming"]
    if not coming:
        expect(page.locator(".live-call h1")).to_have_text("Win this one, and the set is ours")
        return None
    request = {**coming[0]["request"], "server": {}, "policy": {"use_start_ceiling": True}}
    expected = call_by_cpython(json.dumps(request, sort_keys=True))
    said = expected["best"]["words"]
    expect(page.locator(".live-call .odds")).to_have_text(said["odds"])
    expect(page.locator(".live-call h1")).to_have_text(said["call"])
    assert differences(expected, answer_here(page, request)) == []
    return expected


def drag_a_passer(bench: Bench, dice: Random) -> None:
    """Open their half, move one of their passers somewhere else, and say that they stand like this."""
    page = bench.page
    bench.tap(page.locator(".their-half"))
    grips = page.locator("dialog .grip")
    expect(grips.first).to_be_visible()
    grip = grips.nth(dice.randrange(grips.count()))
    grip.scroll_into_view_if_needed()
    x, y = middle(grip)
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + dice.choice((-1, 1)) * dice.uniform(DROP_PX, 45), y + dice.uniform(-20, 20), steps=3)
    page.mouse.up()
    bench.press("They stand like this", inside="dialog")
    expect(page.locator("dialog .reception")).to_contain_text("As seen in this rotation.")
    bench.press("Close", inside="dialog")
    bench.means("reception_formation_seen", side="them", formation="three")


def play_a_rally(bench: Bench, dice: Random) -> None:
    """A missed serve, an ace, a graded pass: whatever the dice say."""
    ours = bench.state["serving"] == "us"
    chance = dice.random()
    if chance < 0.12:
        bench.missed()
    elif chance < 0.2:
        bench.ace()
    else:
        if ours:
            bench.graded(dice.choice((1, 2, 3)))
        bench.won(dice.choice(("us", "them")))


def take_two_back(bench: Bench) -> None:
    """Two taps that were wrong, undone one after the other."""
    won = [bench.won("them"), bench.won("us")]
    bench.agrees()
    for event_id in reversed(won):
        bench.undone(event_id)
        bench.agrees()


def tap_while_it_wakes(bench: Bench) -> None:
    """The score and a call for it are there at once, from last time; a tap before the engine is up counts."""
    page, points = bench.page, bench.state["points"]
    expect(page.locator(".score .ours")).to_have_text(str(points["us"]))
    expect(page.locator(".made-for")).to_be_visible()
    bench.won("us")
    expect(page.locator(".live")).to_have_attribute("data-fresh", "true", timeout=WAKING_MS)
    bench.agrees()


def play_the_set(bench: Bench, dice: Random, start: Callable[[str], Page]) -> list[dict[str, Any] | None]:
    """Play until the set is over; return the calls after each drag. Once the browser is closed in between."""
    calls: list[dict[str, Any] | None] = []
    played = 0
    while bench.state["status"] == "in_play":
        serve_to_come = bench.state["serving"] == "us" or "us" not in bench.state["situation"]["set_point"]
        if len(calls) < DRAGS and serve_to_come:
            drag_a_passer(bench, dice)
            bench.agrees()
            calls.append(the_call_is_cpythons(bench.page))
        if played == TWO_UNDOS:
            take_two_back(bench)
        play_a_rally(bench, dice)
        bench.agrees()
        if bench.state["status"] == "in_play":
            the_call_is_cpythons(bench.page)
        played += 1
        if played == RESTART:
            bench.page = start(bench.page.url)
            tap_while_it_wakes(bench)
            the_call_is_cpythons(bench.page)
    return calls


def test_a_set_in_flight_mode_from_a_cold_start_is_cpythons_call_by_call_and_arrives_whole(
    profile: Callable[[], BrowserContext], server: Server
):
    asked_for: set[str] = set()

    def start(path: str, *, offline: bool = True) -> Page:
        """Close the browser and start it again."""
        for open_one in phones:
            open_one.close()
        phones[:] = [profile()]
        phones[0].set_default_timeout(15_000)
        phones[0].on("request", lambda request: asked_for.add(request.url))
        phones[0].set_offline(offline)
        page = phones[0].new_page()
        page.goto(path)
        return page

    phones: list[BrowserContext] = []
    page = start("/", offline=False)
    expect(page.get_by_text("Ready without network")).to_be_visible(timeout=60_000)
    server.stop()
    try:
        bench = begin(start("/"), "us", 4)
        calls = play_the_set(bench, Random(20), start)
        page = bench.page
        here = log_here(page)
        expect(page.locator(".sync")).to_have_text(f"saved here, {len(here)} waiting")
    finally:
        server.start()
    # A call of its own for nearly each place: a few end at the same limit, or leave the best serve as it was.
    assert len({call["best"]["keep"] for call in calls}) >= DRAGS - 2
    phones[0].set_offline(False)
    expect(page.locator(".sync")).to_have_text("saved and sent", timeout=30_000)
    log_there = server.ask(f"/api/v1/matches/{match_id(page)}/log")["events"]
    assert sorted(log_there, key=lambda event: event["counter"]) == here  # each exactly once, as it was said
    said = json.loads(json.dumps(bridge.replay({"events": here})))
    there = server.ask(f"/api/v1/matches/{match_id(page)}/state")
    assert there.pop("position") == len(here)
    assert differences(there, kept_here(page)["answer"]) == []
    assert differences(said, there) == []
    assert [url for url in asked_for if not url.startswith(server.url)] == []
