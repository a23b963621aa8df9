"""The setter: the systems of play, who sets, and where she starts."""

from __future__ import annotations

from cornerwise.engine.court import Point
from cornerwise.engine.names import FormationName, System

from .overlap import Position, Row, row

SETTER_STARTS: dict[Position, Point] = {  # chosen: usual starting places, free to be changed [m]
    1: Point(-3.2, 4.5),
    2: Point(-2.8, 1.0),
    3: Point(0.0, 1.0),
    4: Point(3.0, 1.0),
    5: Point(3.0, 3.2),
    6: Point(0.0, 3.0),
}
STARTS_BEHIND_FIVE: dict[Position, Point] = {
    # chosen: with five passers her front-row partner passes too, so she starts level with her, 0.7 m
    # beside, the least move from the usual start that keeps them in order and apart [m]
    5: Point(2.5, 4.2),
    6: Point(-0.7, 4.6),
}
_OPPOSITE: dict[Position, Position] = {1: 4, 2: 5, 3: 6, 4: 1, 5: 2, 6: 3}


def setter_start(position: Position, formation: FormationName | None = None) -> Point:
    """Return where the setter of that position starts, unless known better. [m]

    formation : the number of passers, if known; five passers push her back in positions 5 and 6.
    """
    if formation == "five" and position in STARTS_BEHIND_FIVE:
        return STARTS_BEHIND_FIVE[position]
    return SETTER_STARTS[position]


def setting_position(setter_position: Position, system: System) -> Position:
    """Return the position of the setter who sets, given that of any setter.

    Two setters stand opposite each other, three positions apart, so that one of them is in each row.
    """
    wanted: Row = "back" if system == "two_setters_back_sets" else "front"
    if system == "one_setter" or row(setter_position) == wanted:
        return setter_position
    return _OPPOSITE[setter_position]


def setter_row(position: Position) -> Row:
    """Return the setter's row: with her in front, her team has two attackers there, else three."""
    return row(position)
