"""Which position each passer may hold, when only her place is known."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from cornerwise.engine.court import Point, distance_m

from .overlap import FRONT_ROW, POSITIONS, Breach, Position, breaches, fits
from .setters import SETTER_STARTS

ZONE_MIDDLES: dict[Position, Point] = {  # middles of the six zones of 3 m by 4.5 m [m]
    1: Point(-3.0, 6.75),
    2: Point(-3.0, 2.25),
    3: Point(0.0, 2.25),
    4: Point(3.0, 2.25),
    5: Point(3.0, 6.75),
    6: Point(0.0, 6.75),
}


@dataclass(frozen=True, slots=True)
class Passer:
    """A player who passes. position, number and ratings are None when not known.

    place : where she stands when the serve is hit. [m]
    pass_grade : mean grade of her passes, 0 to 3. passes : how many that mean rests on.
    """

    place: Point
    position: Position | None = None
    number: int | None = None
    pass_grade: float | None = None
    passes: float | None = None


@dataclass(frozen=True, slots=True)
class Assignment:
    """Positions for a setter and for her passers, in the order they were given."""

    setter: Position
    passers: tuple[Position, ...]

    def places(self, setter_place: Point, passers: Sequence[Passer]) -> dict[Position, Point]:
        """Return where each of them stands, by position."""
        taken = {position: passer.place for position, passer in zip(self.passers, passers, strict=True)}
        return {self.setter: setter_place, **taken}


def legal_assignment(
    passers: Sequence[Passer], setter_position: Position | None, setter_place: Point
) -> Assignment | None:
    """Return positions for all such that nobody, seen or unseen, is out of order; None if there are none.

    Positions that are given stay. Of several assignments the one with the fewest front-row passers
    is taken, then the smallest sum of squared distances from the middles of the passers' own zones,
    then the lowest positions from the receivers' left to their right. An unknown setter's position is
    the one with the nearest usual start for which there is an assignment.
    """
    return next(
        (
            best
            for setter in setter_choices(passers, setter_position, setter_place)
            if (best := _best(passers, setter, setter_place))
        ),
        None,
    )


def setter_choices(
    passers: Sequence[Passer], setter_position: Position | None, setter_place: Point
) -> tuple[Position, ...]:
    """Return the positions the setter may hold, likeliest first."""
    if setter_position is not None:
        return (setter_position,)
    taken = {passer.position for passer in passers}
    free = (position for position in POSITIONS if position not in taken)
    return tuple(sorted(free, key=lambda position: distance_m(SETTER_STARTS[position], setter_place)))


def least_breach(
    passers: Sequence[Passer], setter: Position, setter_place: Point
) -> tuple[tuple[Breach, ...], bool]:
    """Return the breaches of the assignment that comes nearest to legal, and if all are with the setter.

    Nearest: the fewest breaches among passers, then the fewest in all. There may be none.

    Raises ValueError if no assignment gives everyone a position of her own.
    """

    def nearness(found: tuple[Breach, ...]) -> tuple[int, int]:
        return sum(setter not in (breach.first, breach.second) for breach in found), len(found)

    ways = _ways({setter: setter_place}, passers, lambda *_: True)
    tried = (breaches(Assignment(setter, way).places(setter_place, passers)) for way in ways)
    nearest = min(tried, key=nearness)
    return nearest, nearness(nearest)[0] == 0


def _best(passers: Sequence[Passer], setter: Position, setter_place: Point) -> Assignment | None:
    order = sorted(range(len(passers)), key=lambda i: (-passers[i].place.x_m, passers[i].place.y_m))
    from_left = [passers[i] for i in order]
    ways = _ways({setter: setter_place}, from_left, fits)
    best = min(ways, key=lambda way: _cost(way, from_left), default=None)
    if best is None:
        return None
    positions = dict(zip(order, best, strict=True))
    return Assignment(setter, tuple(positions[i] for i in range(len(passers))))


def _cost(way: tuple[Position, ...], from_left: Sequence[Passer]) -> tuple[int, float, tuple[Position, ...]]:
    away = (
        distance_m(passer.place, ZONE_MIDDLES[position]) ** 2
        for position, passer in zip(way, from_left, strict=True)
    )
    return sum(position in FRONT_ROW for position in way), math.fsum(away), way


def _ways(
    taken: Mapping[Position, Point],
    waiting: Sequence[Passer],
    may_stand: Callable[[Mapping[Position, Point], Position, Point], bool],
) -> Iterator[tuple[Position, ...]]:
    if not waiting:
        yield ()
        return
    first, rest = waiting[0], waiting[1:]
    for position in POSITIONS if first.position is None else (first.position,):
        if position not in taken and may_stand(taken, position, first.place):
            for others in _ways({**taken, position: first.place}, rest, may_stand):
                yield (position, *others)
