"""The search: every spot, pace and aim of a server, coarse first, then fine where it matters.

What depends on spot and landing only is computed once and kept for all paces. The coarse pass values
every aim on a grid of 1 deg by 0.3 m; the fine one, 0.5 deg by 0.15 m, repeats it for those stands and
paces whose coarse aims come near the best; around the few best aims the steps then shrink to
two centimetres. Ties break by a fixed order.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache

from cornerwise.engine.court import Point, service_spots
from cornerwise.engine.maths import Column, Maths

from .aims import Resolution, aims, expected
from .polish import Rank, polish
from .situation import Option, Situation, Stand, preference, stand_at
from .value import Ground, ground, keep_column, shares_in

NEAR = 0.003  # chosen: a stand this near to the best on the coarse grid is searched on the fine one
COARSE_SLACK = 0.03  # chosen: so much more may a coarse aim err where a fine one beside it might not
FINE_SLACK = 0.01  # chosen: likewise for a fine aim and the steps around it
POLISHED = 3  # chosen: how many of the best fine aims are looked around


@dataclass(frozen=True, slots=True)
class Field:
    """All aims of one stand at one pace, with what each is worth."""

    stand: Stand
    pace: int
    landings: Sequence[Point]
    keep: Sequence[float]
    p_in: tuple[float, ...]

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
        self._free: dict[tuple[Stand, ...], Option | None] = {}
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
            known = keep_column(self.m, self.situation, stand, pace, self.ground(stand))
            self._values[stand, pace] = known
        return known

    def ground(self, stand: Stand) -> Ground:
        """Return what every cell of a stand is worth before its flight time is known."""
        known = self._grounds.get(stand)
        if known is None:
            situation = self.situation
            known = ground(self.m, situation.model, situation.receivers, stand.stance)
            self._grounds[stand] = known
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
        """Return the best option of these stands that keeps to the ceiling; None if there is none.

        Where the best of all keeps to it, that is the one; so a higher ceiling finds nothing worse.
        """
        key = tuple(among)
        if key not in self._free:
            self._free[key] = self._best(among, None)
        free = self._free[key]
        if ceiling is None or free is None or free.p_error <= ceiling:
            return free
        return self._best(among, ceiling)

    def _best(self, among: Sequence[Stand], ceiling: float | None) -> Option | None:
        coarse = self.coarse(among)
        floor = max((found.keep for f in coarse if (found := best_in(f, ceiling, self.faces))), default=-1.0)
        hoped = _loosened(ceiling, COARSE_SLACK)
        near = [f for f in coarse if (hope := best_in(f, hoped, self.faces)) and hope.keep >= floor - NEAR]
        fine = (
            best_in(self.field(f.stand, f.pace, "fine"), limit, self.faces)
            for f in near
            for limit in dict.fromkeys((ceiling, _loosened(ceiling, FINE_SLACK)))
        )
        starts = sorted({start for start in fine if start is not None}, key=self.preference)
        ends = [self.polished(start, ceiling, self.preference) for start in starts[:POLISHED]]
        met = [o for o in (*ends, *starts) if ceiling is None or o.p_error <= ceiling]
        return min(met, key=self.preference, default=None)

    def fewest_errors(self, among: Sequence[Stand]) -> Option | None:
        """Return the option of these stands that errs least; of equals the one worth more."""

        def rank(option: Option) -> tuple[float, ...]:
            return round(option.p_error, 9), *self.preference(option)

        coarse = self.coarse(among)
        least = min((1.0 - max(f.p_in) for f in coarse), default=1.0)
        near = [f for f in coarse if 1.0 - max(f.p_in) <= least + COARSE_SLACK]
        starts = [_fewest_errors(self.field(f.stand, f.pace, "fine"), self.faces) for f in near]
        starts.sort(key=rank)
        ends = [self.polished(start, None, rank) for start in starts[:POLISHED]]
        return min(ends, key=rank, default=None)

    def polished(self, start: Option, ceiling: float | None, rank: Rank) -> Option:
        """Return the best option around a start, by ever smaller steps."""
        values = self.values(start.stand, start.pace)
        shares = shares_in(self.m, start.stand.stance, start.pace)
        return polish(self.m, start, values, shares, ceiling, rank)

    def preference(self, option: Option) -> tuple[float, ...]:
        """Return the key by which the better option sorts first."""
        return preference(option, self.faces)

    @property
    def faces(self) -> float:
        """Return the way the setter faces, by which ties break."""
        return self.situation.receivers.faces


def _loosened(ceiling: float | None, slack: float) -> float | None:
    return None if ceiling is None else ceiling + slack


def best_in(field: Field, ceiling: float | None, faces: float) -> Option | None:
    """Return the best option of one field that keeps to the ceiling; None if there is none."""
    if ceiling is None:
        places, keep = list(range(len(field.keep))), field.keep
    else:
        places = _within(field.p_in, ceiling)
        keep = [field.keep[i] for i in places]
    if not keep:
        return None
    least = max(keep) - 1e-9
    ties = [i for i, k in zip(places, keep, strict=True) if k >= least]
    return min((field.option(i) for i in ties), key=lambda o: preference(o, faces))


@lru_cache(maxsize=512)
def _within(p_in: tuple[float, ...], ceiling: float) -> list[int]:
    """Return which aims keep to a ceiling. Depends on the server only, so it is kept."""
    floor = 1.0 - ceiling
    return [i for i, p in enumerate(p_in) if p >= floor]


def _fewest_errors(field: Field, faces: float) -> Option:
    top = max(field.p_in)
    ties = [i for i, p in enumerate(field.p_in) if p >= top - 1e-9]
    return min((field.option(i) for i in ties), key=lambda o: preference(o, faces))
