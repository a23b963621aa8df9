"""The engine's best call against brute force, for formations, scatters and servers put together at random.

Brute force values every spot, pace and aim by the slow computation (`slow`): no coarse pass, no cells,
nothing left out. Its aims are its own, 0.25 deg by 0.1 m and the longest reach. The engine's call is then
valued by the same slow computation: it may be at most 0.2 points in 100 behind the best that brute force
finds.
"""

from __future__ import annotations

import math
import random
from dataclasses import dataclass

import numpy as np
import pytest
from cornerwise.engine.call.search import Search, stands
from cornerwise.engine.call.situation import Option, Situation, Stand
from cornerwise.service.arrays import ARRAYS

from .situations import random_situation, slow_passers
from .slow import Throws, flights, throws, to_edge_m, tracks

CASES = range(56)
BEHIND = 0.002  # 0.2 points in 100
KEEP_OFF = 0.003  # chosen: what the engine says of its own call; values jump where the ball changes hands
ERRORS_OFF = 0.0015  # chosen: as far as the blur is checked
AIM_RAD, AIM_M = math.radians(0.25), 0.1


@dataclass(frozen=True)
class Field:
    """Every aim of one stand and pace: keep and chance to be in by bearing and range, nan outside."""

    stand: Stand
    pace: int
    throws: Throws
    keep: np.ndarray
    p_in: np.ndarray


def contact_of(stand: Stand) -> tuple[float, float]:
    return stand.stance.contact.x_m, stand.stance.contact.y_m


def field(passers, stand: Stand, pace: int) -> Field | None:
    launch, contact, scatter = stand.stance.launches[pace], contact_of(stand), stand.serve.scatter
    flown = flights(launch, stand.stance.net_height_m)
    known = tracks(contact, flown)
    if known is None:
        return None
    thrown = throws(passers, known, launch.speed_m_s)
    low, high = known.bearings.min(), known.bearings.max()
    bearings = np.arange(math.ceil(low / AIM_RAD), math.floor(high / AIM_RAD) + 1) * AIM_RAD
    shortest = flown.shortest_m(-contact[1] / np.cos(bearings))
    longest = np.minimum(to_edge_m(contact, bearings, 0.0), flown.longest_m)
    ranges = np.append(np.arange(known.low_m.min(), longest.max(), AIM_M), flown.longest_m)
    keep, p_in = thrown.worth(scatter.across_m, scatter.along_m, bearings, ranges)
    aimable = (ranges >= shortest[:, None]) & (ranges <= longest[:, None])
    return Field(stand, pace, thrown, np.where(aimable, keep, np.nan), np.where(aimable, p_in, np.nan))


def fields(level, situation: Situation) -> list[Field]:
    passers = slow_passers(level, situation)
    every = (field(passers, s, pace) for s in stands(situation) for pace in range(len(s.serve.speeds_m_s)))
    return [f for f in every if f is not None and not np.isnan(f.keep).all()]


def best_keep(every: list[Field], ceiling: float | None) -> float:
    floor = -1.0 if ceiling is None else 1.0 - ceiling
    return max(np.where(f.p_in >= floor, f.keep, 0.0).max() for f in every)


def slowly(every: list[Field], option: Option) -> tuple[float, float]:
    """Return what the slow computation says of the engine's call: keep, and chance of an error."""
    f = next(f for f in every if f.stand == option.stand and f.pace == option.pace)
    sx, sy = contact_of(option.stand)
    dx, dy = option.landing.x_m - sx, option.landing.y_m - sy
    scatter = option.stand.serve.scatter
    keep, p_in = f.throws.worth(scatter.across_m, scatter.along_m, [math.atan2(dx, dy)], [math.hypot(dx, dy)])
    return keep.item(), 1.0 - p_in.item()


@pytest.mark.parametrize("seed", CASES)
def test_no_call_beats_the_engines_by_more_than_two_tenths_of_a_point(seed):
    """Without a ceiling, and with one that leaves 1.5 to 12 points above the least errors of this server."""
    level, situation = random_situation(seed)
    every = fields(level, situation)
    search, among = Search(ARRAYS, situation), stands(situation)
    safest = search.fewest_errors(among)
    if safest is None:
        assert not every
        return
    least = min(1.0 - np.nanmax(f.p_in) for f in every)
    assert safest.p_error == pytest.approx(least, abs=ERRORS_OFF)
    for ceiling in (None, least + random.Random(seed).uniform(0.015, 0.12)):
        call = search.best(among, ceiling)
        keep, p_error = slowly(every, call)
        assert call.keep == pytest.approx(keep, abs=KEEP_OFF)
        assert call.p_error == pytest.approx(p_error, abs=ERRORS_OFF)
        assert call.p_error <= (1.0 if ceiling is None else ceiling)
        assert keep >= best_keep(every, ceiling) - BEHIND


def test_the_cases_cover_what_can_happen():
    """Two to five passers, both drag models, servers with one spot only, or with a second kind of serve."""
    cases = [random_situation(seed)[1] for seed in CASES]
    assert {len(c.receivers.stands) for c in cases} == {2, 3, 4, 5}
    assert {c.drag_model for c in cases} == {"A", "B"}
    assert {len(c.server.serves) for c in cases} == {1, 2}
    assert {1, 9} < {len(c.server.spots) for c in cases}
    assert {c.receivers.faces for c in cases} == {1.0, -1.0}
    assert len({c.net_height_m for c in cases}) == 3
