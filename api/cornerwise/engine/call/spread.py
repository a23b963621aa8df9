"""One serve laid over a grid of offsets from its aim, so that two serves can be compared part by part."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from typing import NamedTuple

from cornerwise.engine.court import Point
from cornerwise.engine.flight import reach_table
from cornerwise.engine.maths import Maths, Real, normal_cdf
from cornerwise.engine.outcome import Part, late_part, move_part, terms

from .aims import bearing_and_range, masses
from .grid import Stance, exit_range_m, landing_at, shortest_m
from .situation import Option, Situation

EDGES_SD = (-6.0, *(0.4 * k - 3.0 for k in range(16)), 6.0)  # chosen: within 0.1 points in 100, see shares
SMALLEST_MASS = 2e-5  # chosen: corners of the grid that hold less are left out
SUB_CELLS = 8  # as in the grid: a sideline runs along a bearing

SUMMED: tuple[Part, ...] = (
    "pass_angle",
    "sight_angle",
    "pass_length",
    "move",
    "away",
    "back",
    "seam",
    "setter_late",
    "passer",
)


@dataclass(frozen=True, slots=True)
class Spread:
    """One serve over the grid of offsets.

    parts   : for each part in SUMMED, its value in every cell. [logit]
    behind  : 0 to 1 in every cell.
    weights : chance that the serve falls into every cell and is in.
    """

    parts: dict[Part, Sequence[float]]
    behind: Sequence[float]
    weights: Sequence[float]


class Cell(NamedTuple):
    """Chance to fall into a cell and be in, and the middle of what is in, in sds from the aim."""

    chance: float
    across_sd: float
    along_sd: float


@lru_cache(maxsize=1)
def offsets() -> tuple[tuple[int, int], ...]:
    """Return the cells of the grid of offsets that hold enough: index in bearing and in range."""
    mass = masses(0.0, EDGES_SD, 1.0)
    every = ((i, j) for i in range(len(mass)) for j in range(len(mass)))
    return tuple((i, j) for i, j in every if mass[i] * mass[j] >= SMALLEST_MASS)


def spread(m: Maths, situation: Situation, option: Option) -> Spread:
    """Return every part of one serve over the grid of offsets around its aim."""
    stance, model = option.stand.stance, situation.model
    table = reach_table(stance.launches[option.pace])
    bearing, along_m = bearing_and_range(stance, option.landing)
    cells = _cells(stance, option.pace, option.landing)
    ranges = [along_m + cell.along_sd * stance.scatter.along_m for cell in cells]
    places = [
        landing_at(stance.contact, bearing + cell.across_sd * stance.scatter.bearing_sd_rad, r)
        for cell, r in zip(cells, ranges, strict=True)
    ]

    def formula(x_m: Real, y_m: Real, time_s: Real) -> tuple[Real, ...]:
        t = terms(m, model, situation.receivers, stance.contact, x_m, y_m)
        return (
            t.pass_angle,
            t.sight_angle,
            t.pass_length,
            move_part(model, t.move_m, time_s, m),
            t.away,
            t.back,
            t.seam,
            late_part(model, situation.receivers.setter_run_m, time_s, m),
            t.passer,
            t.behind,
        )

    *summed, behind = m.over(
        formula,
        m.column([p.x_m for p in places]),
        m.column([p.y_m for p in places]),
        m.column([table.flight_time_s(r) for r in ranges]),
    )
    return Spread(dict(zip(SUMMED, summed, strict=True)), behind, [cell.chance for cell in cells])


@lru_cache(maxsize=256)
def _cells(stance: Stance, pace: int, landing: Point) -> tuple[Cell, ...]:
    """Return every cell of `offsets`, exact along range on eight sub-bearings. Depends on the server only."""
    columns = [_column(stance, pace, landing, left, right) for left, right in pairwise(EDGES_SD)]
    return tuple(columns[i][j] for i, j in offsets())


def _column(stance: Stance, pace: int, landing: Point, left_sd: float, right_sd: float) -> list[Cell]:
    """Return the cells between two bearings, given in sds from the aim."""
    bearing, along_m = bearing_and_range(stance, landing)
    chance = [0.0] * (len(EDGES_SD) - 1)
    across = [0.0] * len(chance)
    along = [0.0] * len(chance)
    step = (right_sd - left_sd) / SUB_CELLS
    for s in range(SUB_CELLS):
        near, far = left_sd + s * step, left_sd + (s + 1) * step
        mass, middle = _between(near, far)
        angle = bearing + middle * stance.scatter.bearing_sd_rad
        low = (shortest_m(stance, pace, angle) - along_m) / stance.scatter.along_m
        high = (
            exit_range_m(stance.contact, math.sin(angle), math.cos(angle)) - along_m
        ) / stance.scatter.along_m
        for j, (a, b) in enumerate(pairwise(EDGES_SD)):
            if max(a, low) < min(b, high):
                inside, mean = _between(max(a, low), min(b, high))
                chance[j] += mass * inside
                across[j] += mass * inside * middle
                along[j] += mass * inside * mean
    whole = [_between(a, b)[1] for a, b in pairwise(EDGES_SD)]
    return [
        Cell(c, x / c, r / c) if c > 0.0 else Cell(0.0, (left_sd + right_sd) / 2.0, whole[j])
        for j, (c, x, r) in enumerate(zip(chance, across, along, strict=True))
    ]


def _between(low: float, high: float) -> tuple[float, float]:
    """Return the chance that a standard normal variable falls between two values, and its mean if it does."""
    mass = normal_cdf(high) - normal_cdf(low)
    if mass < 1e-15:
        return mass, (low + high) / 2.0
    density = [math.exp(-0.5 * z * z) / math.sqrt(2.0 * math.pi) for z in (low, high)]
    return mass, (density[0] - density[1]) / mass
