"""Reach tables: what one launch can reach, worked out once and then read off quickly.

Some forty paths at launch angles from steeply down to the one that carries farthest. Between them
everything is interpolated by local cubics in

    q = -sqrt(longest range - range),

in which launch angle, flight time and height stay smooth even at the longest range, where a degree
more or less changes nothing. A height is read at the same fraction of the way on neighbouring paths,
so all of them start at the contact height and end on the floor.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from functools import lru_cache
from typing import TypeAlias

from .ball import Launch
from .interpolation import crossing, cubic_weights, hermite, weighted
from .trajectory import State, trajectory

SLOWEST_M_S = 3.0  # chosen: no serve is slower, and a slower ball with much spin turns back to the server
STEEPEST_DEG = -85  # chosen: nobody serves so steeply down, and the ranges left out are a few centimetres
FLAT_DEG = -15  # chosen: serves over a net are flatter; below it the short paths may stand farther apart
STEEP_STEP_DEG = 5  # chosen: see FLAT_DEG
STEP_DEG = 2  # chosen: times good to 1 ms, heights and ranges to 5 mm, see tests/engine/test_flight_reach.py
FINE_STEP_DEG = 0.1  # chosen: the longest ball's angle to 0.001 deg
NET_STEP_M = 0.5  # chosen: as STEP_DEG; the mean distance between nets worked out
ROUNDING_M = 1e-12  # chosen: a range this near to the longest is the longest; its root would magnify rounding
TABLES_KEPT = 64  # chosen: four times what one call may ask for; about 0.2 MB each


@dataclass(frozen=True, slots=True)
class Path:
    """A path as height over distance: three columns of the same length. [m, m, m/m]"""

    x_m: tuple[float, ...]
    z_m: tuple[float, ...]
    slope: tuple[float, ...]

    def height_m(self, distance_m: float) -> float:
        """Return the height of the ball's centre, `distance_m` from the contact point. [m]"""
        return hermite(self.x_m, self.z_m, self.slope, distance_m)


def path_of(states: tuple[State, ...]) -> Path:
    """Return a trajectory as height over distance, as far as the ball goes forward."""
    ahead = [state for state in states if state[3] > 0.0]
    return Path(
        tuple(s[1] for s in ahead),
        tuple(s[2] for s in ahead),
        tuple(s[4] / s[3] for s in ahead),
    )


@dataclass(frozen=True, slots=True, eq=False)
class ReachTable:
    """What a launch can reach by its lower launch angles. Built by `reach_table`, never changed.

    longest_m : the longest range, with its launch angle and flight time. [m, rad, s]

    Ranges are distances along the ground from the contact point to the landing.
    """

    launch: Launch
    longest_m: float
    longest_angle_rad: float
    longest_time_s: float
    _q: tuple[float, ...] = field(repr=False)  # ascending, the last is 0
    _ranges_m: tuple[float, ...] = field(repr=False)
    _angles_rad: tuple[float, ...] = field(repr=False)
    _times_s: tuple[float, ...] = field(repr=False)
    _paths: tuple[Path, ...] = field(repr=False)

    def launch_angle_rad(self, range_m: float) -> float:
        """Return the lower launch angle that lands there; beyond the longest range, the longest's. [rad]"""
        return weighted(self._angles_rad, *cubic_weights(self._q, self._q_of(range_m)))

    def flight_time_s(self, range_m: float) -> float:
        """Return the time to the landing; beyond the longest range, the longest ball's time. [s]"""
        return weighted(self._times_s, *cubic_weights(self._q, self._q_of(range_m)))

    def height_m(self, range_m: float, distance_m: float) -> float:
        """Return the height of the ball's centre on its way to `range_m`, `distance_m` along the ground. [m]

        Beyond the longest range, the longest ball's; beyond the landing, one radius: the ball on the floor.
        """
        share = distance_m / min(range_m, self.longest_m)
        if share >= 1.0:
            return self.launch.ball.radius_m
        i, weights = cubic_weights(self._q, self._q_of(range_m))
        height_m = 0.0
        for k, weight in enumerate(weights, i):
            height_m += weight * self._paths[k].height_m(share * self._ranges_m[k])
        return height_m

    def shortest_clear_m(self, distance_to_net_m: float, net_height_m: float) -> float:
        """Return the shortest range whose ball clears a net that stands so far along its track. [m]

        Clears: the ball's lowest point is not below the top of the net. math.inf if no ball does.
        The first call for a net height prepares all distances; good to 5 mm from 3 m on.

        distance_to_net_m : from the contact point along the ground. [m], > 0
        net_height_m      : [m], > 0

        Raises ValueError for a net height that is not above 0.
        """
        clear = _clearance(self, net_height_m)
        if clear is None or not clear.from_m <= distance_to_net_m <= clear.to_m:
            return math.inf
        return weighted(clear.ranges_m, *cubic_weights(clear.distances_m, distance_to_net_m))

    @property
    def shortest_m(self) -> float:
        """The shortest range in the table, of the steepest launch angle. [m]"""
        return self._ranges_m[0]

    @property
    def longest_path(self) -> Path:
        """The path of the ball that carries farthest."""
        return self._paths[-1]

    def _q_of(self, range_m: float) -> float:
        short_m = self.longest_m - range_m
        return -math.sqrt(short_m) if short_m > ROUNDING_M else 0.0


@lru_cache(maxsize=TABLES_KEPT)
def reach_table(launch: Launch) -> ReachTable:
    """Return the reach table of a launch, built at the first call.

    Raises ValueError for a speed under 3 m/s.
    """
    if launch.speed_m_s < SLOWEST_M_S:
        raise ValueError(f"speed_m_s: expected {SLOWEST_M_S} m/s or more, got {launch.speed_m_s!r}")
    fan = _fan(launch)
    longest_angle_rad, longest = fan[-1]
    longest_time_s, longest_m = longest[-1][:2]
    ranges_m = tuple(states[-1][1] for _, states in fan)
    return ReachTable(
        launch,
        longest_m,
        longest_angle_rad,
        longest_time_s,
        _q=tuple(-math.sqrt(longest_m - range_m) for range_m in ranges_m),
        _ranges_m=ranges_m,
        _angles_rad=tuple(angle_rad for angle_rad, _ in fan),
        _times_s=tuple(states[-1][0] for _, states in fan),
        _paths=tuple(path_of(states) for _, states in fan),
    )


_Flown: TypeAlias = tuple[float, tuple[State, ...]]
"""Launch angle and trajectory."""


def _fan(launch: Launch) -> list[_Flown]:
    """Return launch angles and trajectories, ranges ascending, up to the longest."""
    fan: list[_Flown] = []
    for angle_deg in (*range(STEEPEST_DEG, FLAT_DEG, STEEP_STEP_DEG), *range(FLAT_DEG, 91, STEP_DEG)):
        flown = _flown(launch, math.radians(angle_deg))
        if fan and _range_m(flown) < _range_m(fan[-1]):
            break
        if flown[1][-1][3] > 0.0:  # much spin turns a steep ball back towards the server: leave it out
            fan.append(flown)
    longest = _longest(launch, fan[-1][0])
    # A path next to the longest would make the cubic ill-conditioned: its q is a difference of near equals.
    shorter = [flown for flown in fan if flown[0] < longest[0] - math.radians(STEP_DEG) / 4]
    return [*shorter, longest]


def _longest(launch: Launch, near_rad: float) -> _Flown:
    """Return the ball that carries farthest: the vertex of a parabola through three ranges, twice."""
    for step_rad in (math.radians(STEP_DEG), math.radians(FINE_STEP_DEG)):
        a, b, c = (_range_m(_flown(launch, near_rad + k * step_rad)) for k in (-1, 0, 1))
        near_rad += step_rad * 0.5 * (a - c) / (a - 2.0 * b + c)
    return _flown(launch, near_rad)


def _flown(launch: Launch, angle_rad: float) -> _Flown:
    return angle_rad, trajectory(launch, angle_rad)


def _range_m(flown: _Flown) -> float:
    return flown[1][-1][1]


@dataclass(frozen=True, slots=True)
class _Clearance:
    """Shortest clearing range by distance to a net of one height; outside from_m to to_m none clears. [m]"""

    from_m: float
    to_m: float
    distances_m: tuple[float, ...]
    ranges_m: tuple[float, ...]


@lru_cache(maxsize=4 * TABLES_KEPT)
def _clearance(table: ReachTable, net_height_m: float) -> _Clearance | None:
    """Return how far a ball must go at least to clear a net of this height, by distance to the net.

    A higher launch angle is higher everywhere on the way, up to the longest ball: so the longest ball
    says which nets can be cleared at all, and for each of them one range just clears it.
    """
    if not net_height_m > 0.0:
        raise ValueError(f"net_height_m: expected above 0, got {net_height_m!r}")
    tape_m = net_height_m + table.launch.ball.radius_m  # height of the centre of a ball that just clears
    window = _window_m(table, tape_m)
    if window is None:
        return None
    from_m, to_m = window
    # Closer together towards both ends, where the range that clears runs up to the longest ever more steeply.
    middle_m, half_m = (from_m + to_m) / 2, (to_m - from_m) / 2
    count = max(math.ceil(2 * half_m / NET_STEP_M), 8)
    distances = tuple(middle_m - half_m * math.cos(math.pi * j / count) for j in range(count + 1))
    return _Clearance(from_m, to_m, distances, tuple(_just_clear_m(table, d, tape_m) for d in distances))


def _window_m(table: ReachTable, tape_m: float) -> tuple[float, float] | None:
    """Return from where to where the longest ball is at least this high, or None. [m]"""
    path = table.longest_path
    above = [i for i, z_m in enumerate(path.z_m) if z_m >= tape_m]
    if not above:
        return None
    first, last = above[0], above[-1]
    rises_m = 0.0
    if first > 0:
        rises_m = crossing(lambda x: path.height_m(x) - tape_m, path.x_m[first - 1], path.x_m[first], 1e-9)
    falls_m = crossing(lambda x: tape_m - path.height_m(x), path.x_m[last], path.x_m[last + 1], 1e-9)
    return rises_m, falls_m


def _just_clear_m(table: ReachTable, distance_m: float, tape_m: float) -> float:
    """Return the range whose ball is exactly this high at a distance; the longest if none is higher. [m]"""

    def above_tape_m(q: float) -> float:
        return table.height_m(table.longest_m - q * q, distance_m) - tape_m

    if above_tape_m(0.0) <= 0.0:
        return table.longest_m
    low = -math.sqrt(table.longest_m - max(distance_m, table.shortest_m))
    if above_tape_m(low) >= 0.0:
        return table.longest_m - low * low
    return table.longest_m - crossing(above_tape_m, low, 0.0, 1e-6) ** 2
