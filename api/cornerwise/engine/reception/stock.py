"""Stock formations: two to five passers, in each of the six positions of the setter."""

from __future__ import annotations

from functools import cache

from cornerwise.engine.court import Point, on_opponents_half
from cornerwise.engine.names import FormationName

from .assignment import Assignment, Passer, legal_assignment
from .formation import Player, complete, seated
from .overlap import Position, breaches
from .setters import setter_start

PASSERS_PLACES: dict[FormationName, tuple[Point, ...]] = {
    # chosen: usual places, rather shallow, from the receivers' left to their right [m]
    "two": (Point(1.9, 6.2), Point(-1.9, 6.2)),
    "three": (Point(2.9, 6.3), Point(0.0, 6.7), Point(-2.9, 6.3)),
    "four": (Point(3.3, 5.2), Point(1.2, 7.0), Point(-1.2, 7.0), Point(-3.3, 5.2)),
    "five": (Point(3.2, 4.2), Point(0.0, 4.6), Point(-3.2, 4.2), Point(1.7, 7.2), Point(-1.7, 7.2)),
}


def passers_places(formation: FormationName) -> tuple[Point, ...]:
    """Return where the passers of a stock formation stand. [m]"""
    return PASSERS_PLACES[formation]


def stock_formation(
    setter_position: Position, formation: FormationName, setter_start: Point | None = None
) -> tuple[Player, ...]:
    """Return the six receivers of a stock formation by position, 1 to 6, in order by the overlap rule.

    setter_start : where the setter stands, if not at her usual start. [m] The passers keep their
    positions while these stay legal, and otherwise take the best legal ones.

    Raises RuleBroken if the setter is off the court, or, naming her place and the pairs, if no positions
    are legal.
    """
    usual_start, usual = _usual(setter_position, formation)
    start = usual_start if setter_start is None else setter_start
    passers = [Passer(place) for place in passers_places(formation)]
    if not on_opponents_half(start) or breaches(usual.places(start, passers)):
        return complete(passers, setter_position, start)
    return seated(passers, usual, start)


@cache
def _usual(setter_position: Position, formation: FormationName) -> tuple[Point, Assignment]:
    start = setter_start(setter_position, formation)
    passers = [Passer(place) for place in passers_places(formation)]
    usual = legal_assignment(passers, setter_position, start)
    assert usual is not None, (setter_position, formation)
    return start, usual
