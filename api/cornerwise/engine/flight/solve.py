"""The one serve that lands at a given range, and what it does at the net."""

from __future__ import annotations

import math
from dataclasses import dataclass, field

from .ball import Launch
from .interpolation import crossing
from .reach import Path, path_of, reach_table
from .trajectory import landing, trajectory

LANDING_TOLERANCE_M = 1e-9  # chosen: far below anything that matters, and quickly reached


@dataclass(frozen=True, slots=True)
class Flight:
    """A serve from the hit to the landing, by the lower of its two launch angles.

    range_m          : along the ground from the contact point to the landing. [m]
    launch_angle_rad : above the horizontal. [rad]
    """

    launch: Launch
    range_m: float
    launch_angle_rad: float
    flight_time_s: float
    landing_speed_m_s: float
    _path: Path = field(repr=False)

    def height_m(self, distance_m: float) -> float:
        """Return the height of the ball's centre, `distance_m` along the ground. [m]

        Past the landing it is one radius: the ball on the floor.
        """
        if distance_m >= self.range_m:
            return self.launch.ball.radius_m
        return self._path.height_m(distance_m)


def solve(launch: Launch, range_m: float) -> Flight | None:
    """Return the serve that lands at this range by the lower launch angle, or None if it is out of reach.

    range_m : along the ground from the contact point. [m], > 0

    Raises ValueError for a range that is not above 0, or a speed that `reach_table` refuses.
    """
    if not range_m > 0.0:
        raise ValueError(f"range_m: expected above 0, got {range_m!r}")
    table = reach_table(launch)
    if range_m > table.longest_m:
        return None

    def past_m(angle_rad: float) -> float:
        return landing(launch, angle_rad)[1] - range_m

    high = table.longest_angle_rad
    low = max(min(table.launch_angle_rad(range_m), high) - math.radians(0.5), -math.pi / 2)
    if past_m(low) >= 0.0:
        low = -math.pi / 2
    angle_rad = high if past_m(high) <= 0.0 else crossing(past_m, low, high, LANDING_TOLERANCE_M)
    states = trajectory(launch, angle_rad)
    t_s, _, _, vx_m_s, vz_m_s = states[-1]
    return Flight(launch, range_m, angle_rad, t_s, math.hypot(vx_m_s, vz_m_s), path_of(states))


def net_margin_m(flight: Flight, distance_to_net_m: float, net_height_m: float) -> float:
    """Return how far the ball's lowest point passes above the net; negative is a net fault. [m]

    Height of the centre over the net, minus one radius, minus the height of the net. A ball that lands
    before the net gives minus the height of the net.

    distance_to_net_m : from the contact point along the ball's track. [m]
    """
    return flight.height_m(distance_to_net_m) - flight.launch.ball.radius_m - net_height_m
