"""How much arrays and the blur gain, and how a call grows: ratios within one run, never times to be kept.

`make bench` prints them. A ratio is of the best of several runs of each side, in processor time, since
other work on the machine only ever makes a run longer.
"""

from __future__ import annotations

import math
import time
from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest
from cornerwise.engine import bridge
from cornerwise.engine.call.aims import aims, expected
from cornerwise.engine.call.grid import exit_range_m, shortest_m
from cornerwise.engine.call.search import Search, stands
from cornerwise.engine.call.situation import Situation
from cornerwise.engine.call.value import difficulty
from cornerwise.engine.court import USUAL_PASS_TARGET
from cornerwise.engine.flight import reach_table
from cornerwise.engine.maths import PLAIN, Maths
from cornerwise.engine.outcome import Receivers, outcome_model, rally_won, standing_part, terms, win_shares
from cornerwise.engine.passing import Stand
from cornerwise.engine.players import server_of, stock_server
from cornerwise.engine.reception import passers_places, setter_start
from cornerwise.service.arrays import ARRAYS

REQUEST = {"level": "college", "opponent": {"setter_position": 4}, "policy": {"error_ceiling": 0.10}}


def situation(formation: str = "three") -> Situation:
    """A college jump float against a stock formation with the setter in 4."""
    passers = tuple(Stand(place) for place in passers_places(formation))
    receivers = Receivers(passers, setter_start(4, formation), USUAL_PASS_TARGET)
    stock = stock_server("college", "jump_float", 2.24)
    return Situation(outcome_model("college"), receivers, server_of(stock), stock.net_height_m)


def seconds(work: Callable[[], object], runs: int = 5) -> float:
    """Processor time of the quickest of several runs; the first, which fills what is kept, is left out."""
    work()
    return min(_once(work) for _ in range(runs))


def ratio_of(slow: Callable[[], object], fast: Callable[[], object], runs: int = 5) -> float:
    """How many times as long the slow one takes: by turns, so that a busy spell of the machine meets both."""
    slow(), fast()
    turns = [(_once(slow), min(_once(fast) for _ in range(runs))) for _ in range(runs)]
    return min(s for s, _ in turns) / min(f for _, f in turns)


def _once(work: Callable[[], object]) -> float:
    start = time.process_time()
    work()
    return time.process_time() - start


def numbers_in(value: object) -> list[float]:
    """All numbers of an answer, in order."""
    if isinstance(value, dict):
        return [n for inner in value.values() for n in numbers_in(inner)]
    if isinstance(value, list):
        return [n for inner in value for n in numbers_in(inner)]
    return [float(value)] if isinstance(value, int | float) else []


def test_arrays_answer_as_numbers_do_and_ten_times_as_fast():
    by_array, by_number = bridge.call(REQUEST, ARRAYS), bridge.call(REQUEST, PLAIN)
    assert numbers_in(by_array) == pytest.approx(numbers_in(by_number), abs=1e-9)
    ratio = ratio_of(lambda: bridge.call(REQUEST, PLAIN), lambda: bridge.call(REQUEST, ARRAYS))
    print(f"\nwhole answer, numbers / arrays: {ratio:.1f}")
    assert ratio >= 10

    def search(m: Maths) -> object:
        return Search(m, situation()).best(stands(situation()), 0.10)

    alone = ratio_of(lambda: search(PLAIN), lambda: search(ARRAYS))
    print(f"best call alone, numbers / arrays: {alone:.1f}")


def test_the_blur_values_all_aims_a_hundred_times_as_fast_as_a_monte_carlo_of_equal_accuracy():
    """The Monte Carlo throws as many balls at an aim as bring its standard error down to the blur's error."""
    error = 0.001  # the blur is good to 0.1 points in 100, tests/engine/call/test_blur.py
    at = situation()
    stand, pace = stands(at)[0], 1
    search = Search(ARRAYS, at)
    values = search.values(stand, pace)
    every = aims(ARRAYS, stand.stance, pace, "fine").landings
    keep = expected(ARRAYS, stand.stance, pace, "fine", values)
    some = range(0, len(every), len(every) // 5)
    rng = np.random.default_rng(1)
    spent = thrown = 0.0
    for i in some:
        start = time.process_time()
        won = throws(at, stand, pace, every[i], rng.standard_normal((2, 40_000)))
        needed = won.var() / error**2
        spent += (time.process_time() - start) * needed / won.size
        thrown += 1
        assert won.mean() == pytest.approx(keep[i], abs=error + 4 * won.std() / math.sqrt(won.size))
    monte_carlo = spent / thrown * len(every)

    def blur() -> object:
        return expected(ARRAYS, stand.stance, pace, "fine", Search(ARRAYS, at).values(stand, pace))

    ratio = monte_carlo / seconds(blur)
    print(f"\nall {len(every)} aims of one spot and pace, Monte Carlo / blur: {ratio:.0f}")
    assert ratio >= 100


def throws(at: Situation, stand, pace: int, aim, z: np.ndarray) -> np.ndarray:
    """The chance of a won rally for each of many balls thrown at one aim; errors win nothing."""
    stance, m = stand.stance, ARRAYS
    table = reach_table(stance.launches[pace])
    dx, dy = aim.x_m - stance.contact.x_m, aim.y_m - stance.contact.y_m
    bearing = math.atan2(dx, dy) + z[0] * stance.scatter.bearing_sd_rad
    along = math.hypot(dx, dy) + z[1] * stance.scatter.along_m
    fan = np.linspace(bearing.min(), bearing.max(), 200)
    low = np.interp(bearing, fan, [shortest_m(stance, pace, b) for b in fan])
    high = np.interp(bearing, fan, [exit_range_m(stance.contact, math.sin(b), math.cos(b)) for b in fan])
    ranges = np.linspace(along.min(), along.max(), 200)
    times = np.interp(along, ranges, [table.flight_time_s(r) for r in ranges])
    x, y = stance.contact.x_m + along * np.sin(bearing), stance.contact.y_m + along * np.cos(bearing)
    t = terms(m, at.model, at.receivers, stance.contact, x, y)
    hard = difficulty(m, at, stand.serve.speeds_m_s[pace], standing_part(at.model, t), t.move_m, times)
    return np.where(
        (low <= along) & (along <= high), rally_won(m, at.model, hard, *win_shares(at.model, t.behind)), 0.0
    )


def test_how_a_call_grows():
    """Twice the spots or paces cost about twice as much, more passers only a little."""

    def cost(at: Situation) -> float:
        return seconds(lambda: Search(PLAIN, at).best(stands(at), None), runs=3)

    three = situation()
    serve, server = three.server.serves[0], three.server
    spots = {n: cost(replace(three, server=replace(server, spots=server.spots[:n]))) for n in (2, 4, 8)}
    paces = {
        n: cost(replace(three, server=replace(server, serves=(replace(serve, speeds_m_s=speeds),))))
        for n, speeds in ((1, (16.0,)), (2, (15.2, 16.0)), (4, (14.4, 15.2, 15.6, 16.0)))
    }
    kinds = {1: cost(three), 2: cost(replace(three, server=replace(server, serves=(serve, *_short_float()))))}
    passers = {name: cost(situation(name)) for name in ("two", "three", "four", "five")}
    print()
    for what, measured in (("spots", spots), ("paces", paces), ("kinds", kinds), ("passers", passers)):
        first = next(iter(measured.values()))
        print(f"time by {what}: " + ", ".join(f"{n}: {t / first:.2f}" for n, t in measured.items()))
    assert spots[8] / spots[2] < 8
    assert passers["five"] / passers["two"] < 3


def _short_float():
    return server_of(stock_server("college", "short_float", 2.24)).serves
