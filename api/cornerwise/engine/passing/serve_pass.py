"""Angles and distances of one serve and the pass that follows it, exact in the plane of the floor.

Four points decide everything: the contact point S of the serve, the landing point L, the pass target T
and the setter's starting place B. The pass is taken where the ball would land, a stated
simplification: balls are passed at about 0.9 m, which is 0.7 to 1.9 m earlier on the track.
"""

from __future__ import annotations

import math
from typing import Literal

from cornerwise.engine.court import Point
from cornerwise.engine.maths import Maths, Real

DEG = 180.0 / math.pi

SightBand = Literal["in_view", "edge", "far_side", "out_of_sight"]
# Upper limits, themselves included. One eye sees 60 deg towards the nose and 107 deg towards the
# temple: Roenne 1915, Traquair 1938. The band of 30 deg is chosen: a glance without turning the head.
SIGHT_BANDS_DEG: tuple[tuple[float, SightBand], ...] = (
    (30.0, "in_view"),
    (60.0, "edge"),
    (107.0, "far_side"),
)

SETTER_LANE_M = (
    1.2  # chosen: a serve whose ground track comes this near to her or her target flies "over" her
)

# Below this product of two distances the angle between two directions means nothing. [m2]
_NO_DIRECTION_M2 = 1e-12


def angle_between_deg(m: Maths, ax: Real, ay: Real, bx: Real, by: Real) -> Real:
    """Return the angle between two directions in the plane, 0 to 180. [deg]

    cos = a . b / (|a| |b|), held within -1 to 1. Zero where either has no length.
    """
    lengths = m.sqrt((ax * ax + ay * ay) * (bx * bx + by * by))
    safe = m.maximum(lengths, _NO_DIRECTION_M2)
    cosine = m.where(lengths > _NO_DIRECTION_M2, (ax * bx + ay * by) / safe, 1.0)
    return m.acos(m.minimum(m.maximum(cosine, -1.0), 1.0)) * DEG


def pass_angle_deg(m: Maths, contact: Point, x_m: Real, y_m: Real, to: Point) -> Real:
    """Return the angle at the landing (x, y) between the ways to the contact point and to `to`. [deg]

    With the pass target this is the pass angle: 0 sends the ball straight back where it came from, a
    large one makes the passer turn it. With the setter's starting place it is the sight angle: how far
    off the ball's line the passer would have to look to see her setter.
    """
    return angle_between_deg(m, contact.x_m - x_m, contact.y_m - y_m, to.x_m - x_m, to.y_m - y_m)


def platform_turn_deg(pass_angle: float) -> float:
    """Return how far the passer turns her platform out of the ball's line. [deg]

    Half the pass angle, by the mirror law.
    """
    return pass_angle / 2.0


def arrival_bearing_deg(m: Maths, x_m: Real, y_m: Real, target: Point, faces: Real) -> Real:
    """Return the angle between the way the setter faces and the direction the pass comes from. [deg]

    faces : +1 if she faces her own left (+x), -1 if her right.
    Over 90 deg the pass comes from behind her, and her hitters are out of her view.
    """
    return angle_between_deg(m, faces, 0.0, x_m - target.x_m, y_m - target.y_m)


def sight_band(sight_angle: float) -> SightBand:
    """Return in words how far out of the passer's view the setter is."""
    for limit, band in SIGHT_BANDS_DEG:
        if sight_angle <= limit:
            return band
    return "out_of_sight"


def track_distance_m(contact: Point, landing: Point, place: Point) -> float:
    """Return the distance of a place from the serve's ground track, contact to landing. [m]"""
    dx, dy = landing.x_m - contact.x_m, landing.y_m - contact.y_m
    along = (place.x_m - contact.x_m) * dx + (place.y_m - contact.y_m) * dy
    share = min(max(along / (dx * dx + dy * dy), 0.0), 1.0)
    return math.hypot(contact.x_m + share * dx - place.x_m, contact.y_m + share * dy - place.y_m)


def flies_over(contact: Point, landing: Point, place: Point) -> bool:
    """Return whether the serve's ground track comes within 1.2 m of a place."""
    return track_distance_m(contact, landing, place) < SETTER_LANE_M


def crosses_setter_lane(contact: Point, landing: Point, setter_start: Point, target: Point) -> bool:
    """Return whether the serve flies within 1.2 m of the setter's starting place or of the pass target."""
    return flies_over(contact, landing, setter_start) or flies_over(contact, landing, target)
