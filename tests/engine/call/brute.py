"""Brute force: every spot, pace and aim of a situation by the slow computation, nothing left out."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from cornerwise.engine.call.search import stands
from cornerwise.engine.call.situation import Option, Situation, Stand

from .situations import slow_passers
from .slow import Passers, Throws, flights, throws, to_edge_m, tracks

AIM_RAD, AIM_M = math.radians(0.25), 0.1


@dataclass(frozen=True)
class Field:
    """Every aim of one stand and pace: keep and chance to be in by bearing and range, nan outside."""

    stand: Stand
    pace: int
    throws: Throws
    bearings: np.ndarray
    ranges_m: np.ndarray
    keep: np.ndarray
    p_in: np.ndarray

    @property
    def best(self) -> tuple[int, int]:
        """Which bearing and range is worth most."""
        return np.unravel_index(np.nanargmax(self.keep), self.keep.shape)


def contact_of(stand: Stand) -> tuple[float, float]:
    return stand.stance.contact.x_m, stand.stance.contact.y_m


def field(passers: Passers, stand: Stand, pace: int) -> Field | None:
    """All aims of a stand at a pace; None if no ball of it is in."""
    launch, contact, scatter = stand.stance.launches[pace], contact_of(stand), stand.serve.scatter
    flown = flights(launch, stand.stance.net_height_m)
    known = tracks(contact, flown)
    if known is None:
        return None
    thrown = throws(passers.win, known, launch.speed_m_s)
    low, high = known.bearings.min(), known.bearings.max()
    bearings = np.arange(math.ceil(low / AIM_RAD), math.floor(high / AIM_RAD) + 1) * AIM_RAD
    shortest = flown.shortest_m(-contact[1] / np.cos(bearings))
    longest = np.minimum(to_edge_m(contact, bearings, 0.0), flown.longest_m)
    ranges = np.append(np.arange(known.low_m.min(), longest.max(), AIM_M), flown.longest_m)
    keep, p_in = thrown.worth(scatter.across_m, scatter.along_m, bearings, ranges)
    out = (ranges < shortest[:, None]) | (ranges > longest[:, None])
    keep[out] = p_in[out] = np.nan
    return Field(stand, pace, thrown, bearings, ranges, keep, p_in)


def fields(level: str, situation: Situation) -> list[Field]:
    """All stands and paces of a situation that have an aim."""
    passers = slow_passers(level, situation)
    every = (field(passers, s, pace) for s in stands(situation) for pace in range(len(s.serve.speeds_m_s)))
    return [f for f in every if f is not None and not np.isnan(f.keep).all()]


def best_keep(every: list[Field], ceiling: float | None) -> float:
    """The most that any aim under the ceiling is worth."""
    floor = -1.0 if ceiling is None else 1.0 - ceiling
    return max(np.where(f.p_in >= floor, f.keep, 0.0).max() for f in every)


def least_error(every: list[Field]) -> float:
    """The least that any aim errs."""
    return min(1.0 - np.nanmax(f.p_in) for f in every)


def slowly(every: list[Field], option: Option) -> tuple[float, float]:
    """What the slow computation says of an option: keep, and chance of an error."""
    f = next(f for f in every if f.stand == option.stand and f.pace == option.pace)
    sx, sy = contact_of(option.stand)
    dx, dy = option.landing.x_m - sx, option.landing.y_m - sy
    scatter = option.stand.serve.scatter
    keep, p_in = f.throws.worth(scatter.across_m, scatter.along_m, [math.atan2(dx, dy)], [math.hypot(dx, dy)])
    return keep.item(), 1.0 - p_in.item()
