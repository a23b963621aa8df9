"""Who stands where in a rotation, and which of their rotations each of our servers meets.

A side rotates when it wins the service. So between two of our serving turns each side rotates once, and
each of our servers meets one rotation of theirs all through a set (FIVB 7.6.2, 12.2.2.2).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from cornerwise.engine.match.terms import Side
from cornerwise.engine.reception import Position

Lineup = Sequence[int | None]


@dataclass(frozen=True, slots=True)
class Turn:
    """One of our serving turns.

    server_position : where our server of this turn stood at the start of the set
    setter_position : where their setter stands in it; the other of two stands opposite
    """

    server_position: Position
    setter_position: Position


def turned_back(position: int, rotations: int) -> Position:
    """Return where a player from a position stands after so many rotations: 1, 6, 5, 4, 3, 2, 1."""
    found: Position = (position - 1 - rotations) % 6 + 1  # type: ignore[assignment]
    return found


def turns(setter_position: int, serving_first: Side) -> tuple[Turn, ...]:
    """Return our next six serving turns from the start of a set, in order.

    setter_position : where their setter stands at the start.

    When they serve first, we rotate before our first serve, so our player from position 2 begins it;
    when we do, they stand in our second turn as one rotation later.
    """
    ours = 0 if serving_first == "us" else 1
    return tuple(
        Turn(turned_back(1, -(ours + turn)), turned_back(setter_position, turn)) for turn in range(6)
    )


def setter_start_position(lineup: Lineup, setters: Sequence[int], given: int | None) -> int | None:
    """Return where the first setter who is in a line-up stands, unless a position was given; None if unknown.

    lineup : six shirt numbers, positions 1 to 6, None where not known
    """
    if given is not None:
        return given
    return next((lineup.index(number) + 1 for number in setters if number in lineup), None)


def number_at(lineup: Lineup, start: int, setter_position: int, position: int) -> int | None:
    """Return who stands in a position when the setter, who started in `start`, is in `setter_position`."""
    rotations = start - setter_position
    return lineup[(position - 1 + rotations) % 6]
