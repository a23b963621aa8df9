"""Real alternatives to the best call: another spot or another place, far enough away to matter."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache

from cornerwise.engine.court import Depth, SpotName, Zone, depth, distance_m, spot_name, zone
from cornerwise.engine.maths import Maths

from .grid import Resolution, Stance, aims
from .search import Field, Search
from .situation import Option, Stand, preference

Key = tuple[SpotName, Zone, Depth]

SPOTS_APART_M = 2.0  # chosen: two spots nearer than this are one to the eye of the receivers
TARGETS_APART_M = 1.5  # chosen: about the scatter of a good server
EQUAL = 0.01  # options within one point in 100 are equals: then the coach's eye decides


@lru_cache(maxsize=512)
def _places(m: Maths, stance: Stance, pace: int, resolution: Resolution) -> tuple[tuple[Zone, Depth], ...]:
    return tuple((zone(p), depth(p)) for p in aims(m, stance, pace, resolution).landings)


def _by_key(search: Search, field: Field, resolution: Resolution, ceiling: float | None) -> dict[Key, Option]:
    floor = -1.0 if ceiling is None else 1.0 - ceiling
    name = spot_name(field.stand.spot.x_m)
    best: dict[tuple[Zone, Depth], int] = {}
    places = _places(search.m, field.stand.stance, field.pace, resolution)
    for i, (place, keep, p_in) in enumerate(zip(places, field.keep, field.p_in, strict=True)):
        if p_in >= floor and (place not in best or keep > field.keep[best[place]]):
            best[place] = i
    return {(name, *place): field.option(i) for place, i in best.items()}


def alternatives(
    search: Search, among: Sequence[Stand], best: Option, ceiling: float | None, most: int = 2
) -> list[Option]:
    """Return other options under the ceiling, best first, each far enough from the others."""
    options: list[Option] = []
    for field in search.coarse(among):
        options += _by_key(search, field, "coarse", ceiling).values()
    found: list[Option] = []
    for option in sorted(options, key=lambda o: preference(o, search.faces)):
        if len(found) == most:
            break
        if all(matters(option, other) for other in (best, *found)):
            finer = _finer(search, option, ceiling)
            if all(matters(finer, other) for other in (best, *found)):
                found.append(finer)
    return sorted(found, key=lambda o: preference(o, search.faces))


def _finer(search: Search, option: Option, ceiling: float | None) -> Option:
    """Return the best fine aim of the same spot, zone and depth."""
    field = search.field(option.stand, option.pace, "fine")
    return _by_key(search, field, "fine", ceiling).get(option.key, option)


def matters(a: Option, b: Option) -> bool:
    """Return whether two options differ enough to be a choice: by name, and by more than a step."""
    if a.key == b.key and a.stand.serve.kind == b.stand.serve.kind:
        return False
    spots_apart = distance_m(a.stand.spot, b.stand.spot) >= SPOTS_APART_M
    return spots_apart or distance_m(a.landing, b.landing) >= TARGETS_APART_M


def missing_spots(
    search: Search, others: Sequence[Stand], best: Option, ceiling: float | None
) -> Iterator[tuple[SpotName, Option]]:
    """Yield each spot name that the server lacks where it would be worth more, with the option it offers."""
    names: dict[SpotName, list[Stand]] = {}
    for stand in others:
        names.setdefault(spot_name(stand.spot.x_m), []).append(stand)
    for name, stands in names.items():
        option = search.best(stands, ceiling)
        if option is not None and option.keep > best.keep:
            yield name, option
