"""The overlap rule: who may stand where when the serve is hit.

The receiving team must be in its rotational order at the service hit. That order is seven relations
between neighbours, kept here as data; two players level with each other are in order.

Source: FIVB Official Volleyball Rules 2025-2028, 7.4.2 and 7.4.3.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

from cornerwise.engine.court import HALF_LENGTH_M, HALF_WIDTH_M, Point

Position = Literal[1, 2, 3, 4, 5, 6]
Row = Literal["front", "back"]
Axis = Literal["x", "y"]

POSITIONS: tuple[Position, ...] = (1, 2, 3, 4, 5, 6)
FRONT_ROW: tuple[Position, ...] = (2, 3, 4)  # from their right to their left, FIVB 7.4.1.1
BACK_ROW: tuple[Position, ...] = (1, 6, 5)  # from their right to their left, FIVB 7.4.1.2


@dataclass(frozen=True, slots=True)
class Relation:
    """One comparison: along the axis, `first` may not be beyond `second`; level is in order.

    x grows to the receivers' left, y away from the net.
    """

    first: Position
    second: Position
    axis: Axis

    @property
    def text(self) -> str:
        """The relation in words, as a referee would say it."""
        if self.axis == "y":
            return f"position {self.second} must not be nearer the net than position {self.first}"
        return f"position {self.first} must not be further to their left than position {self.second}"


RELATIONS: tuple[Relation, ...] = (
    Relation(2, 1, "y"),  # FIVB 7.4.2.1, 7.4.3.1: the back-row partner is further from the net, or level
    Relation(3, 6, "y"),
    Relation(4, 5, "y"),
    Relation(2, 3, "x"),  # FIVB 7.4.2.2, 7.4.3.2: right, centre and left of the front row
    Relation(3, 4, "x"),
    Relation(1, 6, "x"),  # FIVB 7.4.2.2, 7.4.3.2: right, centre and left of the back row
    Relation(6, 5, "x"),
)
IMPLIED: tuple[tuple[Relation, Position], ...] = ((Relation(2, 4, "x"), 3), (Relation(1, 5, "x"), 6))
"""What two relations say together when the player between is not known: the relation, and who that is."""


@dataclass(frozen=True, slots=True)
class Breach:
    """Two players out of order: `first` stands beyond `second` along the axis."""

    first: Position
    second: Position
    axis: Axis
    rule: str


@dataclass(frozen=True, slots=True)
class Limits:
    """The box in which a player may stand. [m]"""

    x_min_m: float
    x_max_m: float
    y_min_m: float
    y_max_m: float


WHOLE_COURT = Limits(-HALF_WIDTH_M, HALF_WIDTH_M, 0.0, HALF_LENGTH_M)


def row(position: Position) -> Row:
    """Return the row of a position."""
    return "front" if position in FRONT_ROW else "back"


def breaches(places: Mapping[Position, Point]) -> tuple[Breach, ...]:
    """Return every pair out of order, in the order of `RELATIONS`; empty when all may stand there.

    places : any of the six positions. Who is missing is taken to stand wherever the rule allows, so
    that the result is empty exactly if the others can be placed legally.
    """
    return tuple(
        Breach(relation.first, relation.second, relation.axis, relation.text)
        for relation in _relations_among(places)
        if _along(places[relation.first], relation.axis) > _along(places[relation.second], relation.axis)
    )


def fits(places: Mapping[Position, Point], position: Position, place: Point) -> bool:
    """Return whether a player of that position may stand there beside the others given."""
    return all(
        _along(place, axis) <= _along(places[other], axis)
        if is_first
        else _along(places[other], axis) <= _along(place, axis)
        for other, axis, is_first in _RELATED[position]
        if other in places
    )


def limits_of(places: Mapping[Position, Point], position: Position) -> Limits:
    """Return where a player of that position may stand while the others stay where they are. [m]

    places : of the others, in order among themselves; her own, if there, does not matter.
    """
    low = {"x": WHOLE_COURT.x_min_m, "y": WHOLE_COURT.y_min_m}
    high = {"x": WHOLE_COURT.x_max_m, "y": WHOLE_COURT.y_max_m}
    for other, axis, is_first in _RELATED[position]:
        if other in places and is_first:
            high[axis] = min(high[axis], _along(places[other], axis))
        elif other in places:
            low[axis] = max(low[axis], _along(places[other], axis))
    return Limits(low["x"], high["x"], low["y"], high["y"])


def holders_of(places: Mapping[Position, Point], position: Position) -> dict[str, Position]:
    """Return who sets each side of `limits_of`, by its field; sides set by the court alone are left out."""
    holders: dict[str, Position] = {}
    for other, axis, is_first in _RELATED[position]:
        if other not in places:
            continue
        side, sign = (f"{axis}_max_m", 1.0) if is_first else (f"{axis}_min_m", -1.0)
        known = holders.get(side)
        if known is None or sign * _along(places[other], axis) < sign * _along(places[known], axis):
            holders[side] = other
    return holders


def _along(place: Point, axis: Axis) -> float:
    return place.x_m if axis == "x" else place.y_m


def _relations_among(known: Iterable[Position]) -> Iterator[Relation]:
    present = set(known)
    yield from (relation for relation in RELATIONS if present >= {relation.first, relation.second})
    for relation, between in IMPLIED:
        if present >= {relation.first, relation.second} and between not in present:
            yield relation


def _related(position: Position) -> Iterator[tuple[Position, Axis, bool]]:
    for relation in (*RELATIONS, *(implied for implied, _ in IMPLIED)):
        if position == relation.first:
            yield relation.second, relation.axis, True
        elif position == relation.second:
            yield relation.first, relation.axis, False


_RELATED = {position: tuple(_related(position)) for position in POSITIONS}
