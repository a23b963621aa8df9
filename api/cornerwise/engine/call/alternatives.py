"""Real alternatives to the best call: another spot or another place, far enough away to matter."""

from __future__ import annotations

from collections.abc import Sequence

from cornerwise.engine.court import SPOT_NAMES, SpotName, distance_m, spot_name

from .search import Field, Search
from .situation import Key, Option, Stand

SPOTS_APART_M = 2.0  # chosen: two spots nearer than this are one to the eye of the receivers
TARGETS_APART_M = 1.5  # chosen: about the scatter of a good server
WORTH_SHOWING = 0.0005  # what would be shown as 0.0 in 100 is no difference
EQUAL = 0.01  # options within one point in 100 are equals: then the coach's eye decides


def alternatives(
    search: Search, among: Sequence[Stand], best: Option, ceiling: float | None, most: int = 2
) -> list[Option]:
    """Return other options under the ceiling, best first, each far enough from the others."""
    chosen = [best]
    for _ in range(most):
        coarse = (_best_that_matters(field, ceiling, chosen) for field in search.coarse(among))
        option = min((o for o in coarse if o is not None), key=search.preference, default=None)
        if option is None:
            break
        fine = search.field(option.stand, option.pace, "fine")
        chosen.append(_best_that_matters(fine, ceiling, chosen, option.key) or option)
    return sorted(chosen[1:], key=search.preference)


def _best_that_matters(
    field: Field, ceiling: float | None, chosen: Sequence[Option], key: Key | None = None
) -> Option | None:
    """Return the best option of a field that differs enough from those chosen; only of that key, if given."""
    floor = -1.0 if ceiling is None else 1.0 - ceiling
    for i in sorted(range(len(field.keep)), key=field.keep.__getitem__, reverse=True):
        option = field.option(i)
        allowed = option.p_in >= floor and key in (None, option.key)
        if allowed and all(matters(option, other) for other in chosen):
            return option
    return None


def matters(a: Option, b: Option) -> bool:
    """Return whether two options differ enough to be a choice: by name, and by more than a step."""
    if a.key == b.key and a.stand.serve.kind == b.stand.serve.kind:
        return False
    spots_apart = distance_m(a.stand.spot, b.stand.spot) >= SPOTS_APART_M
    return spots_apart or distance_m(a.landing, b.landing) >= TARGETS_APART_M


def missing_spots(
    search: Search, others: Sequence[Stand], best: Option, ceiling: float | None
) -> list[tuple[SpotName, Option]]:
    """Return the spots, by name, that the server lacks and where she would win more, most first."""
    own = {spot_name(spot.x_m) for spot in search.situation.server.spots}
    found: list[tuple[SpotName, Option]] = []
    for name in SPOT_NAMES:
        if name not in own:
            option = search.best([s for s in others if spot_name(s.spot.x_m) == name], ceiling)
            if option is not None and option.keep >= best.keep + WORTH_SHOWING:
                found.append((name, option))
    return sorted(found, key=lambda pair: -pair[1].keep)
