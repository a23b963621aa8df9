"""A log is folded in a time that grows with its length, not with its square."""

from __future__ import annotations

import time

from cornerwise.engine.court import Point
from cornerwise.engine.match import events as ev
from cornerwise.engine.match import replay, snapshot
from cornerwise.engine.match.logbook import logged
from cornerwise.engine.match.replaying import carried_on

CALL = ev.CallShown(Point(4.4, -9.2), Point(3.9, 7.8), "jump_float")
SHEET = ev.TeamSheet((1, 2, 3, 4, 5, 6), setters=(1,))


def long_match(rallies: int) -> tuple[ev.Entry, ...]:
    """Nine sets of calls, pass grades and results, sides winning in turn by twos."""
    events: list[ev.Event] = []
    for _ in range(9):
        events.append(ev.SetStarted("us", SHEET, SHEET))
        for rally in range(rallies // 9):
            winner = ev.RallyWon("us" if rally % 4 < 2 else "them")
            events += [CALL, ev.PassGraded(ev.Parts(grade=rally % 4)), winner]
    return logged(*events)


def seconds(run: object, *arguments: object) -> float:
    """The shortest of three runs. [s]"""
    times = []
    for _ in range(3):
        start = time.perf_counter()
        run(*arguments)  # type: ignore[operator]
        times.append(time.perf_counter() - start)
    return min(times)


def test_ten_thousand_events_take_about_eight_times_as_long_as_an_eighth_of_them() -> None:
    long, short = long_match(3330), long_match(414)
    assert len(long) > 9_900
    ratio = seconds(replay, long) / seconds(replay, short)
    assert ratio < 16.0  # 8 times the events; twice that is left for a busy machine, 64 would be quadratic


def test_one_more_event_costs_a_hundredth_of_the_whole_match() -> None:
    log = long_match(3330)
    before = snapshot(log[:-1])
    assert seconds(carried_on, before, log[-1:]) < seconds(replay, log) / 20.0  # measured: under 1/100
