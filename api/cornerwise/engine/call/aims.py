"""Aims, and the blur that turns a value surface into what every one of them is worth.

The expected value of every aim at once is the value surface blurred along bearing and along range: two
products with small matrices, instead of one integral per aim.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from typing import Literal

from cornerwise.engine.court import HALF_LENGTH_M, HALF_WIDTH_M, Point
from cornerwise.engine.flight import reach_table
from cornerwise.engine.maths import Column, Maths, Matrix, normal_cdf

from .grid import Cells, Stance, cells, landing_at, shortest_m, widest_bearings_rad

Resolution = Literal["coarse", "fine"]
AIM_STEPS: dict[Resolution, tuple[float, float]] = {
    "coarse": (math.radians(1.0), 0.3),
    "fine": (math.radians(0.5), 0.15),
}  # chosen: bearing [rad] and range [m] between two aims
EDGE_M = 1e-9  # chosen: far more than rounding, far less than anybody can aim


@dataclass(frozen=True, slots=True)
class Aims:
    """Every place that this serve can be aimed at, and how likely it is to be in from there.

    places    : flat index of each aim in the grid of aims, bearing by bearing.
    landings  : the aims themselves. [m]
    p_in      : chance that a serve so aimed is in, one for each aim.
    by_bearing, by_range : blur matrices over their whole grid, aims x cells and cells x aims.
    """

    places: tuple[int, ...]
    landings: tuple[Point, ...]
    p_in: tuple[float, ...]
    by_bearing: Matrix
    by_range: Matrix


def cell_masses(aim: float, edges: tuple[float, ...], sd: float) -> list[float]:
    """Return the masses that make the blur right on average over where a line cuts its cell.

    A cell cut by a line counts by the share that is in, as if its mass were spread evenly. That is the
    distribution function interpolated linearly between edges h apart, which is on average wrong by
    h^2/12 times its curvature: what a variance too large by h^2/6 would do. So the variance is taken
    smaller by as much.
    """
    step = edges[1] - edges[0]
    return masses(aim, edges, math.sqrt(sd * sd - min(step * step / 6.0, 0.5 * sd * sd)))


def masses(aim: float, edges: tuple[float, ...], sd: float) -> list[float]:
    """Return how much of a normal distribution around `aim` falls between each pair of edges."""
    below = [normal_cdf((edge - aim) / sd) for edge in edges]
    return [b - a for a, b in pairwise(below)]


def aimable_m(stance: Stance, pace: int, bearing_rad: float) -> tuple[float, float]:
    """Return the ranges between which an aim is inside the lines, clears the net and is in reach. [m]"""
    sin, cos = math.sin(bearing_rad), math.cos(bearing_rad)
    longest = (HALF_LENGTH_M - stance.contact.y_m) / cos
    if sin != 0.0:
        longest = min(longest, (math.copysign(HALF_WIDTH_M, sin) - stance.contact.x_m) / sin)
    return shortest_m(stance, pace, bearing_rad), min(longest, reach_table(stance.launches[pace]).longest_m)


def aim_reachable(stance: Stance, pace: int, aim: Point) -> bool:
    """Return whether a serve can be aimed there: in reach and over the net; the place must be on court."""
    bearing, along_m = bearing_and_range(stance, aim)
    return within(aimable_m(stance, pace, bearing), along_m)


def within(span_m: tuple[float, float], along_m: float) -> bool:
    """Return whether a range lies in a span, its ends included: also when rounding puts it just outside."""
    low, high = span_m
    return low - EDGE_M <= along_m <= high + EDGE_M


@lru_cache(maxsize=512)
def aims(m: Maths, stance: Stance, pace: int, resolution: Resolution) -> Aims:
    """Return every aim at one pace, with its chance to be in. Depends on the server only, so it is kept."""
    grid = cells(stance)
    bearing_step, range_step = AIM_STEPS[resolution]
    left, right = widest_bearings_rad(stance.contact)
    bearings = [
        k * bearing_step for k in range(math.ceil(left / bearing_step), math.floor(right / bearing_step) + 1)
    ]
    spans = [aimable_m(stance, pace, b) for b in bearings]
    open_spans = [(low, high) for low, high in spans if low <= high]
    if not open_spans or not grid.places:
        return Aims((), (), (), m.matrix([[0.0]]), m.matrix([[0.0]]))
    ranges = _ranges_m(open_spans, range_step, reach_table(stance.launches[pace]).longest_m)
    by_bearing, by_range = _blurs(m, stance, bearings, ranges)
    aimable = [
        (i * len(ranges) + j, landing_at(stance.contact, bearing, r))
        for i, (bearing, span) in enumerate(zip(bearings, spans, strict=True))
        for j, r in enumerate(ranges)
        if within(span, r)
    ]
    chances = blurred(m, grid, by_bearing, by_range, m.column(grid.shares[pace]))
    return Aims(
        tuple(place for place, _ in aimable),
        tuple(landing for _, landing in aimable),
        tuple(chances[place] for place, _ in aimable),
        by_bearing,
        by_range,
    )


def _ranges_m(spans: Sequence[tuple[float, float]], step_m: float, longest_m: float) -> list[float]:
    """Return the ranges of the aims, counted from the longest reach, where a weak server aims best. [m]"""
    low, high = min(low for low, _ in spans), max(high for _, high in spans)
    first, last = math.floor((longest_m - high) / step_m), math.floor((longest_m - low) / step_m)
    return [longest_m - j * step_m for j in range(last, first - 1, -1)]


def blurred(m: Maths, grid: Cells, by_bearing: Matrix, by_range: Matrix, values: Column) -> list[float]:
    """Return the expected value of each pair of bearing and range, bearing by bearing."""
    surface = m.spread(values, grid.places, grid.shape)
    rows = m.lists(m.product(m.product(by_bearing, surface), by_range))
    return [value for row in rows for value in row]


def expected(m: Maths, stance: Stance, pace: int, resolution: Resolution, values: Column) -> list[float]:
    """Return the expected value of every aim, in the order of `aims(...).landings`.

    values : value of each cell of `cells(stance)`, already times its share that is in.
    """
    every = aims(m, stance, pace, resolution)
    if not every.places:
        return []
    worth = blurred(m, cells(stance), every.by_bearing, every.by_range, values)
    return [worth[place] for place in every.places]


def expected_around(
    m: Maths, stance: Stance, bearings: Sequence[float], ranges: Sequence[float], *values: Column
) -> list[list[float]]:
    """Return, for each column, what each pair of bearing and range is worth, bearing by bearing."""
    grid = cells(stance)
    by_bearing, by_range = _blurs(m, stance, bearings, ranges)
    return [blurred(m, grid, by_bearing, by_range, column) for column in values]


def expected_at(m: Maths, stance: Stance, aim: Point, *values: Column) -> list[float]:
    """Return, for each column of values, what one aim is worth."""
    bearing, along_m = bearing_and_range(stance, aim)
    return [column[0] for column in expected_around(m, stance, [bearing], [along_m], *values)]


def bearing_and_range(stance: Stance, aim: Point) -> tuple[float, float]:
    """Return the bearing [rad] and range [m] of an aim from the contact point."""
    dx, dy = aim.x_m - stance.contact.x_m, aim.y_m - stance.contact.y_m
    return math.atan2(dx, dy), math.hypot(dx, dy)


def _blurs(
    m: Maths, stance: Stance, bearings: Sequence[float], ranges: Sequence[float]
) -> tuple[Matrix, Matrix]:
    grid, scatter = cells(stance), stance.scatter
    across = [cell_masses(b, grid.bearing_edges_rad, scatter.bearing_sd_rad) for b in bearings]
    along = [cell_masses(r, grid.range_edges_m, scatter.along_m) for r in ranges]
    return m.matrix(across), m.matrix(list(zip(*along, strict=True)))
