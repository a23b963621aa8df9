"""Serve-pass geometry: what the passer has to turn, how far, and what she and her setter can see.

`serve_pass` holds the exact geometry of one serve, with no assumptions beyond its points. `duty` says
which passer the ball falls to and how she has to move for it.
"""

from .duty import Duty, Stand, duty
from .serve_pass import (
    SETTER_LANE_M,
    SightBand,
    arrival_bearing_deg,
    crosses_setter_lane,
    flies_over,
    pass_angle_deg,
    platform_turn_deg,
    sight_band,
    track_distance_m,
)

__all__ = [
    "SETTER_LANE_M",
    "Duty",
    "SightBand",
    "Stand",
    "arrival_bearing_deg",
    "crosses_setter_lane",
    "duty",
    "flies_over",
    "pass_angle_deg",
    "platform_turn_deg",
    "sight_band",
    "track_distance_m",
]
