"""The search: every spot, pace and aim of a server, coarse first, then fine where it matters.

What depends on spot and landing only is computed once and kept for all paces. The coarse pass values
every aim on a grid of 1 deg by 0.3 m; the fine one, 0.5 deg by 0.15 m, repeats it for those stands and
paces whose coarse aims come near the best. Ties break by a fixed order.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from cornerwise.engine.court import Point, service_spots
from cornerwise.engine.maths import Column, Maths

from .grid import Resolution, aims, expected
from .situation import Option, Situation, Stand, preference, stand_at
from .value import Ground, ground, keep_column

NEAR = 0.003  # chosen: a stand this near to the best on the coarse grid is searched on the fine one
CEILING_SLACK = (
    0.03  # chosen: so much more may a coarse aim err when it is asked whether a fine one might not
)


@dataclass(frozen=True, slots=True)
class Field:
    """All aims of one stand at one pace, with what each is worth."""

    stand: Stand
    pace: int
    landings: Sequence[Point]
    keep: Sequence[float]
    p_in: Sequence[float]

    def option(self, i: int) -> Option:
        """Return aim number i as an option."""
        return Option(self.stand, self.pace, self.landings[i], self.keep[i], self.p_in[i])


def stands(situation: Situation, spots: Iterable[Point] | None = None) -> list[Stand]:
    """Return every spot with every kind of serve; the server's own spots unless others are given."""
    chosen = situation.server.spots if spots is None else tuple(spots)
    return [stand_at(situation, spot, serve) for serve in situation.server.serves for spot in chosen]


def other_spots(situation: Situation) -> list[Point]:
    """Return those of the nine stock spots that the server cannot use."""
    return [s for s in service_spots(situation.server.service_line_m) if s not in situation.server.spots]


class Search:
    """The fields of one situation, each computed when first asked for."""

    def __init__(self, m: Maths, situation: Situation) -> None:
        self.m = m
        self.situation = situation
        self._grounds: dict[Stand, Ground] = {}
        self._values: dict[tuple[Stand, int], Column] = {}
        self._fields: dict[tuple[Stand, int, Resolution], Field] = {}

    def field(self, stand: Stand, pace: int, resolution: Resolution) -> Field:
        """Return all aims of a stand at a pace, with their worth."""
        known = self._fields.get((stand, pace, resolution))
        if known is None:
            known = self._fields[stand, pace, resolution] = self._field(stand, pace, resolution)
        return known

    def _field(self, stand: Stand, pace: int, resolution: Resolution) -> Field:
        every = aims(self.m, stand.stance, pace, resolution)
        keep = (
            expected(self.m, stand.stance, pace, resolution, self.values(stand, pace)) if every.places else ()
        )
        return Field(stand, pace, every.landings, keep, every.p_in)

    def values(self, stand: Stand, pace: int) -> Column:
        """Return the value of every cell at a pace: its chance of a win, times its share that is in."""
        known = self._values.get((stand, pace))
        if known is None:
            m, situation = self.m, self.situation
            if stand not in self._grounds:
                self._grounds[stand] = ground(m, situation.model, situation.receivers, stand.stance)
            known = keep_column(m, situation, stand, pace, self._grounds[stand])
            self._values[stand, pace] = known
        return known

    def coarse(self, among: Iterable[Stand]) -> list[Field]:
        """Return the coarse fields of these stands at all their paces; those without any aim are left out."""
        fields = [
            self.field(stand, pace, "coarse")
            for stand in among
            for pace in range(len(stand.serve.speeds_m_s))
        ]
        return [f for f in fields if f.landings]

    def best(self, among: Sequence[Stand], ceiling: float | None) -> Option | None:
        """Return the best option of these stands that keeps to the ceiling; None if there is none."""
        coarse = self.coarse(among)
        floor = max((found.keep for f in coarse if (found := best_in(f, ceiling, self.faces))), default=-1.0)
        slack = None if ceiling is None else ceiling + CEILING_SLACK
        near = [f for f in coarse if (hope := best_in(f, slack, self.faces)) and hope.keep >= floor - NEAR]
        options = [
            o
            for f in near
            if (o := best_in(self.field(f.stand, f.pace, "fine"), ceiling, self.faces)) is not None
        ]
        return min(options, key=lambda o: preference(o, self.faces), default=None)

    def fewest_errors(self, among: Sequence[Stand]) -> Option | None:
        """Return the option of these stands that errs least; of equals the one worth more."""
        coarse = self.coarse(among)
        least = min((1.0 - max(f.p_in) for f in coarse), default=1.0)
        near = [f for f in coarse if 1.0 - max(f.p_in) <= least + CEILING_SLACK]
        found = [_fewest_errors(self.field(f.stand, f.pace, "fine"), self.faces) for f in near]
        return min(found, key=lambda o: (round(o.p_error, 9), preference(o, self.faces)), default=None)

    @property
    def faces(self) -> float:
        """Return the way the setter faces, by which ties break."""
        return self.situation.receivers.faces


def best_in(field: Field, ceiling: float | None, faces: float) -> Option | None:
    """Return the best option of one field that keeps to the ceiling; None if there is none."""
    keep = field.keep
    if ceiling is not None:
        floor = 1.0 - ceiling
        keep = [k if p >= floor else -1.0 for k, p in zip(field.keep, field.p_in, strict=True)]
    top = max(keep, default=-1.0)
    if top < 0.0:
        return None
    ties = [i for i, k in enumerate(keep) if k >= top - 1e-9]
    return min((field.option(i) for i in ties), key=lambda o: preference(o, faces))


def _fewest_errors(field: Field, faces: float) -> Option:
    top = max(field.p_in)
    ties = [i for i, p in enumerate(field.p_in) if p >= top - 1e-9]
    return min((field.option(i) for i in ties), key=lambda o: preference(o, faces))
