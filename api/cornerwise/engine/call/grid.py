"""The polar grid around a contact point: where a server's balls can land, and which of them are in.

A server's errors are independent normals in bearing and range from her contact point. In that polar
grid a ball counts only where it is in: inside the lines, past the net. Each cell counts by the share of
it that is in, exact along range on eight sub-bearings (cell middles alone would be wrong by up to 3
points in 100, since a sideline runs along a bearing), and is valued at the middle of the part that lies
in the court.
"""

from __future__ import annotations

import math
from array import array
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

from cornerwise.engine.court import BALL_IN_MARGIN_M, HALF_LENGTH_M, HALF_WIDTH_M, Point
from cornerwise.engine.flight import Launch, reach_table
from cornerwise.engine.players import Scatter

BEARING_STEP_RAD = math.radians(0.75)  # chosen: at most 0.15 points in 100 from the exact blur
RANGE_STEP_M = 0.2  # chosen, as above
STEP_IN_SD = 0.2  # chosen: a cell is no larger than this share of the scatter's sd
FINEST_BEARING_RAD = math.radians(0.25)  # chosen: no server is so precise that finer cells would matter
FINEST_RANGE_M = 0.1  # chosen, as above
SUB_BEARINGS = 8


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
    places: Sequence[int]
    x_m: Sequence[float]
    y_m: Sequence[float]
    range_m: Sequence[float]
    shares: tuple[Sequence[float], ...]

    @property
    def shape(self) -> tuple[int, int]:
        """Numbers of bearings and ranges."""
        return len(self.bearing_edges_rad) - 1, len(self.range_edges_m) - 1


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


def widest_bearings_rad(contact: Point) -> tuple[float, float]:
    """Return the bearings of the two sidelines at the net. [rad]"""
    edge = HALF_WIDTH_M + BALL_IN_MARGIN_M
    return math.atan2(-edge - contact.x_m, -contact.y_m), math.atan2(edge - contact.x_m, -contact.y_m)


def _steps(scatter: Scatter) -> tuple[float, float]:
    bearing = max(min(BEARING_STEP_RAD, STEP_IN_SD * scatter.bearing_sd_rad), FINEST_BEARING_RAD)
    along = max(min(RANGE_STEP_M, STEP_IN_SD * scatter.along_m), FINEST_RANGE_M)
    return bearing, along


@lru_cache(maxsize=128)
def cells(stance: Stance) -> Cells:
    """Return the grid of a stance, symmetrical about straight ahead, without cells that are in at no pace.

    Straight ahead is an edge, so that no cell's middle lies exactly between two passers.
    """
    bearing_step, range_step = _steps(stance.scatter)
    left, right = widest_bearings_rad(stance.contact)
    first, last = math.floor(left / bearing_step), math.ceil(right / bearing_step)
    tracks = [
        [_track(stance, (k + (s + 0.5) / SUB_BEARINGS) * bearing_step) for s in range(SUB_BEARINGS)]
        for k in range(first, last)
    ]
    live = [(low, t.edge_m) for row in tracks for t in row for low in t.shortest_m if low < t.edge_m]
    if not live:
        return Cells((0.0, 1.0), (0.0, 1.0), (), (), (), (), ((),) * len(stance.launches))
    j_first = math.floor(min(low for low, _ in live) / range_step)
    j_last = math.ceil(max(high for _, high in live) / range_step)
    range_edges = tuple(j * range_step for j in range(j_first, j_last + 1))
    kept = [
        (i * (j_last - j_first) + j, *cell)
        for i, row in enumerate(tracks)
        for j, cell in enumerate(_row(stance, row, (first + i) * bearing_step, bearing_step, range_edges))
        if any(cell[3])
    ]
    places, x_m, y_m, range_m, shares = zip(*kept, strict=True)
    bearing_edges = tuple(k * bearing_step for k in range(first, last + 1))
    return Cells(
        bearing_edges,
        range_edges,
        array("q", places),  # arrays, since the server's mathematics reads them without copying
        array("d", x_m),
        array("d", y_m),
        array("d", range_m),
        tuple(array("d", column) for column in zip(*shares, strict=True)),
    )


def _row(
    stance: Stance, row: list[_Track], left_rad: float, step_rad: float, edges: tuple[float, ...]
) -> Iterator[tuple[float, float, float, tuple[float, ...]]]:
    """Yield each cell between two bearings: x, y and range of its middle, and its shares. [m]"""
    inner_from = max(low for t in row for low in (t.net_m, *t.shortest_m))
    inner_to = min(t.edge_m for t in row)
    whole = (1.0,) * len(stance.launches)
    for near_m, far_m in pairwise(edges):
        if near_m >= inner_from and far_m <= inner_to:
            shares, across, along_m = whole, 0.5, (near_m + far_m) / 2.0
        else:
            shares = _shares_in(row, near_m, far_m)
            across, along_m = _middle(row, near_m, far_m) if any(shares) else (0.5, near_m)
        middle = landing_at(stance.contact, left_rad + across * step_rad, along_m)
        yield middle.x_m, middle.y_m, along_m, shares


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


def landing_at(contact: Point, bearing_rad: float, range_m: float) -> Point:
    """Return the place at a bearing and range from the contact point. [m]"""
    return Point(contact.x_m + range_m * math.sin(bearing_rad), contact.y_m + range_m * math.cos(bearing_rad))
