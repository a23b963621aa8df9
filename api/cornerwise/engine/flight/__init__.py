"""Flight: which serves exist at all, how long they take, and how they pass the net.

`ball` holds ball, air and launch, `aerodynamics` the two published forms of drag and lift,
`trajectory` integrates one path, `reach` tabulates everything a launch can reach, and `solve` finds
the one serve that lands at a given range. Seen from the side: distances run along the ground from the
contact point, heights are those of the ball's centre.
"""

from .aerodynamics import drag_coefficient, lift_coefficient
from .ball import (
    BALLS,
    DRAG_MODELS,
    FLOATS,
    GRAVITY_M_S2,
    INDOOR_AIR,
    KINDS,
    LIGHT_BALL,
    MATCH_BALL,
    TOPSPIN,
    YOUTH_BALL,
    Air,
    Ball,
    BallName,
    DragModel,
    Kind,
    Launch,
)
from .reach import SLOWEST_M_S, ReachTable, reach_table
from .solve import Flight, net_margin_m, solve
from .trajectory import State, trajectory

__all__ = [
    "BALLS",
    "DRAG_MODELS",
    "FLOATS",
    "GRAVITY_M_S2",
    "INDOOR_AIR",
    "KINDS",
    "LIGHT_BALL",
    "MATCH_BALL",
    "SLOWEST_M_S",
    "TOPSPIN",
    "YOUTH_BALL",
    "Air",
    "Ball",
    "BallName",
    "DragModel",
    "Flight",
    "Kind",
    "Launch",
    "ReachTable",
    "State",
    "drag_coefficient",
    "lift_coefficient",
    "net_margin_m",
    "reach_table",
    "solve",
    "trajectory",
]
