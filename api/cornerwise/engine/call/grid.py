"""The polar grid around a contact point, and the blur that turns a value surface into expected values.

A server's errors are independent normals in bearing and range from her contact point. In that polar
grid the expected value of every aim at once is the value surface blurred along two axes: two products
with small matrices, instead of one integral per aim. A ball counts only where it is in: inside the
lines, past the net. Each cell counts by the share of it that is in, exact along range on eight
sub-bearings (cell middles alone would be wrong by up to 3 points in 100, since a sideline runs along a
bearing), and is valued at the middle of the part that lies in the court.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from typing import Literal

from cornerwise.engine.court import BALL_IN_MARGIN_M, HALF_LENGTH_M, HALF_WIDTH_M, Point
from cornerwise.engine.flight import Launch, reach_table
from cornerwise.engine.maths import Column, Maths, Matrix, normal_cdf
from cornerwise.engine.players import Scatter

BEARING_STEP_RAD = math.radians(0.75)  # chosen: at most 0.1 points in 100 from the exact blur
RANGE_STEP_M = 0.3  # chosen, as above
STEP_IN_SD = 0.3  # chosen: a cell is no larger than this share of the scatter's sd
FINEST_BEARING_RAD = math.radians(0.25)  # chosen: no server is so precise that finer cells would matter
FINEST_RANGE_M = 0.1  # chosen, as above
SUB_BEARINGS = 8

Resolution = Literal["coarse", "fine"]
AIM_STEPS: dict[Resolution, tuple[float, float]] = {
    "coarse": (math.radians(1.0), 0.3),
    "fine": (math.radians(0.5), 0.15),
}  # chosen: bearing [rad] and range [m] between two aims


@dataclass(frozen=True, slots=True)
class Stance:
    """Everything that decides where one kind of serve from one place can land.

    contact  : the contact point, seen from above. [m]
    launches : one for each pace she has.
    """

    contact: Point
    launches: tuple[Launch, ...]
    net_height_m: float
    scatter: Scatter


@dataclass(frozen=True, slots=True)
class Cells:
    """The cells of a polar grid that are at least partly in, as flat rows.

    bearing_edges_rad, range_edges_m : edges of the whole grid, one more than cells.
    places    : flat index of each kept cell in the grid, bearing by bearing.
    x_m, y_m  : middle of the part of the cell inside the lines.
    range_m   : its range from the contact point.
    shares    : for each pace, the share of each cell that is in: inside the lines and past the net, 0 to 1.
    """

    bearing_edges_rad: tuple[float, ...]
    range_edges_m: tuple[float, ...]
    places: tuple[int, ...]
    x_m: tuple[float, ...]
    y_m: tuple[float, ...]
    range_m: tuple[float, ...]
    shares: tuple[tuple[float, ...], ...]

    @property
    def shape(self) -> tuple[int, int]:
        """Numbers of bearings and ranges."""
        return len(self.bearing_edges_rad) - 1, len(self.range_edges_m) - 1


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


def exit_range_m(contact: Point, sin: float, cos: float) -> float:
    """Return the range at which a track leaves the opponent's court, lines included. [m]"""
    far = (HALF_LENGTH_M + BALL_IN_MARGIN_M - contact.y_m) / cos
    if sin == 0.0:
        return far
    side = math.copysign(HALF_WIDTH_M + BALL_IN_MARGIN_M, sin)
    return min(far, (side - contact.x_m) / sin)


def shortest_m(stance: Stance, pace: int, bearing_rad: float) -> float:
    """Return the shortest range along a bearing whose ball clears the net at this pace. [m]"""
    to_net = -stance.contact.y_m / math.cos(bearing_rad)
    return reach_table(stance.launches[pace]).shortest_clear_m(to_net, stance.net_height_m)


@dataclass(frozen=True, slots=True)
class _Track:
    """One sub-bearing: ranges at the net and at the court's edge, and the shortest in at each pace. [m]"""

    net_m: float
    edge_m: float
    shortest_m: tuple[float, ...]


def _track(stance: Stance, bearing_rad: float) -> _Track:
    sin, cos = math.sin(bearing_rad), math.cos(bearing_rad)
    shortest = tuple(shortest_m(stance, pace, bearing_rad) for pace in range(len(stance.launches)))
    return _Track(-stance.contact.y_m / cos, exit_range_m(stance.contact, sin, cos), shortest)


def _widest_bearings_rad(contact: Point) -> tuple[float, float]:
    """Return the bearings of the two sidelines at the net. [rad]"""
    edge = HALF_WIDTH_M + BALL_IN_MARGIN_M
    return math.atan2(-edge - contact.x_m, -contact.y_m), math.atan2(edge - contact.x_m, -contact.y_m)


def _steps(scatter: Scatter) -> tuple[float, float]:
    bearing = max(min(BEARING_STEP_RAD, STEP_IN_SD * scatter.bearing_sd_rad), FINEST_BEARING_RAD)
    along = max(min(RANGE_STEP_M, STEP_IN_SD * scatter.along_m), FINEST_RANGE_M)
    return bearing, along


@lru_cache(maxsize=128)
def cells(stance: Stance) -> Cells:
    """Return the grid of a stance, symmetrical about straight ahead, without cells that are in at no pace."""
    bearing_step, range_step = _steps(stance.scatter)
    left, right = _widest_bearings_rad(stance.contact)
    first, last = math.floor(left / bearing_step + 0.5), math.ceil(right / bearing_step - 0.5)
    tracks = [
        [_track(stance, (k - 0.5 + (s + 0.5) / SUB_BEARINGS) * bearing_step) for s in range(SUB_BEARINGS)]
        for k in range(first, last + 1)
    ]
    live = [(low, t.edge_m) for row in tracks for t in row for low in t.shortest_m if low < t.edge_m]
    if not live:
        return Cells((0.0, 1.0), (0.0, 1.0), (), (), (), (), ((),) * len(stance.launches))
    j_first = math.floor(min(low for low, _ in live) / range_step)
    j_last = math.ceil(max(high for _, high in live) / range_step)
    width = j_last - j_first
    kept: list[tuple[int, float, float, float]] = []
    shares: list[tuple[float, ...]] = []
    for i, row in enumerate(tracks):
        for j in range(width):
            near_m = (j_first + j) * range_step
            share = _shares_in(row, near_m, near_m + range_step)
            if any(share):
                across, along_m = _middle(row, near_m, near_m + range_step)
                middle = landing_at(stance.contact, (first + i - 0.5 + across) * bearing_step, along_m)
                kept.append((i * width + j, middle.x_m, middle.y_m, along_m))
                shares.append(share)
    places, x_m, y_m, range_m = zip(*kept, strict=True)
    bearing_edges = tuple((k - 0.5) * bearing_step for k in range(first, last + 2))
    range_edges = tuple(j * range_step for j in range(j_first, j_last + 1))
    return Cells(bearing_edges, range_edges, places, x_m, y_m, range_m, tuple(zip(*shares, strict=True)))


def _shares_in(row: list[_Track], near_m: float, far_m: float) -> tuple[float, ...]:
    """Return for each pace the share of a cell, between two ranges, that is in."""
    whole = (far_m - near_m) * len(row)
    return tuple(
        sum(max(min(far_m, t.edge_m) - max(near_m, t.shortest_m[pace]), 0.0) for t in row) / whole
        for pace in range(len(row[0].shortest_m))
    )


def _middle(row: list[_Track], near_m: float, far_m: float) -> tuple[float, float]:
    """Return the middle of the part of a cell inside the lines: share of its width, and range in metres."""
    inside = across = along = 0.0
    for s, track in enumerate(row):
        low, high = max(near_m, track.net_m), min(far_m, track.edge_m)
        if high > low:
            inside += high - low
            across += (high - low) * (s + 0.5) / SUB_BEARINGS
            along += (high - low) * (high + low) / 2.0
    return across / inside, along / inside


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


def _aimable(stance: Stance, pace: int, bearing_rad: float) -> tuple[float, float]:
    """Return the ranges between which an aim is inside the lines, clears the net and is in reach. [m]"""
    sin, cos = math.sin(bearing_rad), math.cos(bearing_rad)
    longest = (HALF_LENGTH_M - stance.contact.y_m) / cos
    if sin != 0.0:
        longest = min(longest, (math.copysign(HALF_WIDTH_M, sin) - stance.contact.x_m) / sin)
    return shortest_m(stance, pace, bearing_rad), min(longest, reach_table(stance.launches[pace]).longest_m)


def aim_reachable(stance: Stance, pace: int, aim: Point) -> bool:
    """Return whether a serve can be aimed there: in reach and over the net; the place must be on court."""
    dx, dy = aim.x_m - stance.contact.x_m, aim.y_m - stance.contact.y_m
    low, high = _aimable(stance, pace, math.atan2(dx, dy))
    return low <= math.hypot(dx, dy) <= high


@lru_cache(maxsize=512)
def aims(m: Maths, stance: Stance, pace: int, resolution: Resolution) -> Aims:
    """Return every aim at one pace, with its chance to be in. Depends on the server only, so it is kept."""
    grid = cells(stance)
    bearing_step, range_step = AIM_STEPS[resolution]
    left, right = _widest_bearings_rad(stance.contact)
    bearings = [
        k * bearing_step for k in range(math.ceil(left / bearing_step), math.floor(right / bearing_step) + 1)
    ]
    spans = [_aimable(stance, pace, b) for b in bearings]
    open_spans = [(low, high) for low, high in spans if low <= high]
    if not open_spans or not grid.places:
        return Aims((), (), (), m.matrix([[0.0]]), m.matrix([[0.0]]))
    j_first = math.ceil(min(low for low, _ in open_spans) / range_step)
    j_last = math.floor(max(high for _, high in open_spans) / range_step)
    ranges = [j * range_step for j in range(j_first, j_last + 1)]
    by_bearing = m.matrix(
        [cell_masses(b, grid.bearing_edges_rad, stance.scatter.bearing_sd_rad) for b in bearings]
    )
    along = [cell_masses(r, grid.range_edges_m, stance.scatter.along_m) for r in ranges]
    by_range = m.matrix(list(zip(*along, strict=True)))
    aimable = [
        (i * len(ranges) + j, landing_at(stance.contact, bearing, r))
        for i, (bearing, (low, high)) in enumerate(zip(bearings, spans, strict=True))
        for j, r in enumerate(ranges)
        if low <= r <= high
    ]
    blurred = _blurred(m, grid, by_bearing, by_range, m.column(grid.shares[pace]))
    return Aims(
        tuple(place for place, _ in aimable),
        tuple(landing for _, landing in aimable),
        tuple(blurred[place] for place, _ in aimable),
        by_bearing,
        by_range,
    )


def landing_at(contact: Point, bearing_rad: float, range_m: float) -> Point:
    """Return the place at a bearing and range from the contact point. [m]"""
    return Point(contact.x_m + range_m * math.sin(bearing_rad), contact.y_m + range_m * math.cos(bearing_rad))


def _blurred(m: Maths, grid: Cells, by_bearing: Matrix, by_range: Matrix, values: Column) -> list[float]:
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
    blurred = _blurred(m, cells(stance), every.by_bearing, every.by_range, values)
    return [blurred[place] for place in every.places]


def weights_at(stance: Stance, aim: Point) -> list[float]:
    """Return how likely a serve aimed there falls into each cell of `cells(stance)`, were there no net."""
    grid = cells(stance)
    dx, dy = aim.x_m - stance.contact.x_m, aim.y_m - stance.contact.y_m
    across = cell_masses(math.atan2(dx, dy), grid.bearing_edges_rad, stance.scatter.bearing_sd_rad)
    along = cell_masses(math.hypot(dx, dy), grid.range_edges_m, stance.scatter.along_m)
    width = grid.shape[1]
    return [across[place // width] * along[place % width] for place in grid.places]
