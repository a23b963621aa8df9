"""Six players on the receiving side, from whatever is known of them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from cornerwise.engine.court import HALF_LENGTH_M, HALF_WIDTH_M, Point

from .assignment import Assignment, Passer, legal_assignment
from .checks import check_passers, refusal
from .overlap import (
    BACK_ROW,
    FRONT_ROW,
    POSITIONS,
    WHOLE_COURT,
    Limits,
    Position,
    holders_of,
    limits_of,
    row,
)

Role = Literal["setter", "passer", "other"]

APART_M = 0.7  # chosen: about a shoulder's width and a half, so that two players can be told apart
ASIDE_X_M: dict[Position, float] = {1: -3.8, 2: -3.8, 3: 0.0, 4: 3.8, 5: 3.8, 6: 0.0}  # chosen: own column
ASIDE_FRONT_Y_M = 1.0  # chosen: at the net, ready to attack
ASIDE_BACK_Y_M = 8.5  # chosen: by the end line, behind the passers
_PARTNER: dict[Position, Position] = {1: 2, 2: 1, 3: 6, 6: 3, 4: 5, 5: 4}


@dataclass(frozen=True, slots=True)
class Player:
    """One of the six receivers; position is None only where nothing tells it."""

    position: Position | None
    role: Role
    place: Point
    number: int | None = None
    pass_grade: float | None = None
    passes: float | None = None


def complete(
    passers: Sequence[Passer], setter_position: Position | None, setter_place: Point
) -> tuple[Player, ...]:
    """Return all six receivers by position, 1 to 6: the setter, the passers, and the others out of the way.

    Raises RuleBroken when a passer or the setter is off the court, there are no passers or more than
    five, two players share a position, two are out of order, or no positions are legal.
    """
    check_passers(passers, setter_position, setter_place)
    assignment = legal_assignment(passers, setter_position, setter_place)
    if assignment is None:
        raise refusal(passers, setter_position, setter_place)
    return seated(passers, assignment, setter_place)


def seated(passers: Sequence[Passer], assignment: Assignment, setter_place: Point) -> tuple[Player, ...]:
    """Return all six receivers by position, for a legal assignment."""
    known = {
        position: Player(position, "passer", passer.place, passer.number, passer.pass_grade, passer.passes)
        for position, passer in zip(assignment.passers, passers, strict=True)
    }
    known[assignment.setter] = Player(assignment.setter, "setter", setter_place)
    places = {position: player.place for position, player in known.items()}
    aside = _aside(places)
    return tuple(
        known[position] if position in known else Player(position, "other", aside[position])
        for position in POSITIONS
    )


def limits(players: Sequence[Player], index: int) -> Limits:
    """Return where a player may be moved to while all others stay where they are. [m]

    players : in order by the overlap rule. A player whose position is not known has the whole court.
    """
    position = players[index].position
    if position is None:
        return WHOLE_COURT
    return limits_of({p.position: p.place for p in players if p.position is not None}, position)


def holders(players: Sequence[Player], index: int) -> dict[str, Position]:
    """Return the positions of those who set the sides of `limits`, by field; others are set by the court."""
    position = players[index].position
    if position is None:
        return {}
    return holders_of({p.position: p.place for p in players if p.position is not None}, position)


def _aside(places: Mapping[Position, Point]) -> dict[Position, Point]:
    x_m = {**_across(places, FRONT_ROW), **_across(places, BACK_ROW)}
    return {position: Point(x_m[position], _y_m(places, position)) for position in x_m}


def _across(places: Mapping[Position, Point], chain: tuple[Position, ...]) -> dict[Position, float]:
    """Return x of those of a row who are not placed yet: in order, apart where there is room. [m]"""
    x_m: dict[Position, float] = {}
    low = -HALF_WIDTH_M
    for i, position in enumerate(chain):
        if position in places:
            low = places[position].x_m
            continue
        following = next((j for j in range(i, len(chain)) if chain[j] in places), len(chain))
        high = places[chain[following]].x_m if following < len(chain) else HALF_WIDTH_M
        waiting = following - i
        apart = min(APART_M, (high - low) / (waiting + 1))
        low = x_m[position] = max(low + apart, min(ASIDE_X_M[position], high - waiting * apart))
    return x_m


def _y_m(places: Mapping[Position, Point], position: Position) -> float:
    partner = places.get(_PARTNER[position])
    if row(position) == "front":
        return ASIDE_FRONT_Y_M if partner is None else min(ASIDE_FRONT_Y_M, max(partner.y_m - APART_M, 0.0))
    if partner is None:
        return ASIDE_BACK_Y_M
    return max(ASIDE_BACK_Y_M, min(partner.y_m + APART_M, HALF_LENGTH_M))
