"""The receivers: who stands where when the serve is hit, and where each of them may stand.

A formation is six players by position, 1 to 6: one who sets, one to five who pass, the others out of
the way. The overlap rule binds them until the hit; `RELATIONS` holds it as data, `breaches` says who
is out of order and `limits` how far a player may be moved. When only places are known,
`legal_assignment` finds positions for them, and `complete` fills in the rest.
"""

from .assignment import Assignment, Passer, legal_assignment
from .checks import RULES
from .formation import Player, Role, complete, holders, limits
from .overlap import (
    BACK_ROW,
    FRONT_ROW,
    POSITIONS,
    RELATIONS,
    WHOLE_COURT,
    Axis,
    Breach,
    Limits,
    Position,
    Relation,
    Row,
    breaches,
)
from .setters import setter_row, setter_start, setting_position
from .stock import passers_places, stock_formation

__all__ = [
    "BACK_ROW",
    "FRONT_ROW",
    "POSITIONS",
    "RELATIONS",
    "RULES",
    "WHOLE_COURT",
    "Assignment",
    "Axis",
    "Breach",
    "Limits",
    "Passer",
    "Player",
    "Position",
    "Relation",
    "Role",
    "Row",
    "breaches",
    "complete",
    "holders",
    "legal_assignment",
    "limits",
    "passers_places",
    "setter_row",
    "setter_start",
    "setting_position",
    "stock_formation",
]
