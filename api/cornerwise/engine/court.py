"""The court: one frame for every place, its lines, zones and slots, and the spots to serve from.

Frame: metres on the floor, seen from above as the serving team sees it. The origin is under the
middle of the net, x grows to the server's right, y away from the server. The serving team's end line
is at y = -9, the net at 0, the opponent's end line at +9. The opponent faces -y, so their right is
at negative x.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

HALF_WIDTH_M = 4.5  # FIVB Official Volleyball Rules 2025-2028, 1.1: the court is 18 m x 9 m
HALF_LENGTH_M = 9.0  # FIVB 1.1
ATTACK_LINE_M = 3.0  # FIVB 1.3.4, distance from the middle of the net
FREE_ZONE_M = 3.0  # FIVB 1.1: at least 3 m on all sides
BALL_IN_MARGIN_M = (
    0.05  # chosen: a ball whose centre is this far outside still touches the 5 cm line (FIVB 1.3.1, 8.3)
)

Zone = Literal[1, 2, 3, 4, 5, 6]
Depth = Literal["short", "middle", "deep"]
SpotName = Literal["left_corner", "left", "middle", "right", "right_corner"]

SPOT_NAMES: tuple[SpotName, ...] = ("left_corner", "left", "middle", "right", "right_corner")
DEPTHS: tuple[Depth, ...] = ("short", "middle", "deep")

SPOT_SPACING_M = 1.1  # chosen: nine spots reach both ends of the service zone
SPOT_BEHIND_LINE_M = 0.2  # chosen: a foot's length behind the end line
CORNER_FROM_M = 3.5  # chosen: |x| from which a spot is called a corner
SIDE_FROM_M = 1.0  # chosen: |x| from which a spot is called left or right
ON_THE_LINE_M = 1.0  # chosen: a target this near a sideline is called "on the line"
SLOT_WIDTH_M = 1.0  # common practice, no source: nine slots of 1 m along the 9 m net


@dataclass(frozen=True, slots=True)
class Point:
    """A place on the floor. [m]"""

    x_m: float
    y_m: float


def distance_m(a: Point, b: Point) -> float:
    """Return the distance between two places. [m]"""
    return math.hypot(a.x_m - b.x_m, a.y_m - b.y_m)


def service_spots(service_line_m: float = HALF_LENGTH_M) -> tuple[Point, ...]:
    """Return the nine spots along the service zone, from the server's left to her right. [m]

    service_line_m : distance of the line served from behind to the net. [m]
    """
    y_m = -(service_line_m + SPOT_BEHIND_LINE_M)
    return tuple(Point(SPOT_SPACING_M * k, y_m) for k in range(-4, 5))


def spot_name(x_m: float) -> SpotName:
    """Return what a spot at x is called, as the server faces the net."""
    if abs(x_m) >= CORNER_FROM_M:
        return "left_corner" if x_m < 0 else "right_corner"
    if abs(x_m) >= SIDE_FROM_M:
        return "left" if x_m < 0 else "right"
    return "middle"


def in_service_zone(spot: Point, service_line_m: float = HALF_LENGTH_M) -> bool:
    """Return whether a server may stand there: 9 m wide, from the line to the end of the free zone.

    Source: FIVB 1.4.2.
    """
    return abs(spot.x_m) <= HALF_WIDTH_M and -(service_line_m + FREE_ZONE_M) <= spot.y_m <= -service_line_m


def on_opponents_half(place: Point) -> bool:
    """Return whether a place lies in the opponent's half of the court, lines included."""
    return abs(place.x_m) <= HALF_WIDTH_M and 0.0 <= place.y_m <= HALF_LENGTH_M


def zone(landing: Point) -> Zone:
    """Return the zone, 1 to 6, in which a ball lands: three columns of 3 m, front and back of 4.5 m."""
    front = landing.y_m <= HALF_LENGTH_M / 2
    if landing.x_m < -1.5:
        return 2 if front else 1
    if landing.x_m > 1.5:
        return 4 if front else 5
    return 3 if front else 6


def depth(landing: Point) -> Depth:
    """Return how deep a ball lands: short under 3 m from the net, deep over 6 m, else middle."""
    if landing.y_m < 3.0:
        return "short"
    return "deep" if landing.y_m > 6.0 else "middle"


def on_the_line(landing: Point) -> bool:
    """Return whether a landing is within 1 m of a sideline."""
    return HALF_WIDTH_M - abs(landing.x_m) <= ON_THE_LINE_M


def slot_middle_x_m(slot: int) -> float:
    """Return x of the middle of slot 1 to 9, counted from the receiving team's own left. [m]

    Raises ValueError for any other slot.
    """
    if not 1 <= slot <= 9:
        raise ValueError(f"slot: expected 1 to 9, got {slot!r}")
    return HALF_WIDTH_M - (slot - 0.5) * SLOT_WIDTH_M


def slot_of(x_m: float) -> int:
    """Return the slot, 1 to 9, counted from the receiving team's own left, in which x lies."""
    return min(max(math.floor((HALF_WIDTH_M - x_m) / SLOT_WIDTH_M) + 1, 1), 9)


USUAL_PASS_TARGET = Point(slot_middle_x_m(6), 1.0)  # common practice, no source: slot 6, a metre off the net
