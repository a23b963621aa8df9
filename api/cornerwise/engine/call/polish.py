"""The last step of the search: around a good aim, smaller and smaller steps, inside the error ceiling."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import TypeAlias

from cornerwise.engine.maths import Column, Maths

from .aims import AIM_STEPS, aimable_m, bearing_and_range, expected_around, within
from .grid import landing_at
from .situation import Option

Rank: TypeAlias = Callable[[Option], tuple[float, ...]]

ROUNDS = (2, 4, 8)  # chosen: parts of a fine step, down to 0.06 deg and 2 cm
WINDOW = (-1, 0, 1)  # steps around the centre


def polish(
    m: Maths, option: Option, values: Column, shares: Column, ceiling: float | None, rank: Rank
) -> Option:
    """Return the option near a given one that ranks first and keeps to the ceiling; the given one if it does.

    values, shares : of the option's cells, as in `aims.expected`. rank : the smallest is the best.
    """
    bearing_step, range_step = AIM_STEPS["fine"]
    for parts in ROUNDS:
        near = _around(m, option, values, shares, bearing_step / parts, range_step / parts)
        allowed = [o for o in (option, *near) if ceiling is None or o.p_error <= ceiling]
        option = min(allowed, key=rank, default=option)
    return option


def _around(
    m: Maths, option: Option, values: Column, shares: Column, bearing_step: float, range_step: float
) -> Iterator[Option]:
    stance = option.stand.stance
    bearing, range_m = bearing_and_range(stance, option.landing)
    bearings = [bearing + k * bearing_step for k in WINDOW]
    ranges = [range_m + k * range_step for k in WINDOW]
    keep, p_in = expected_around(m, stance, bearings, ranges, values, shares)
    for i, bearing in enumerate(bearings):
        span = aimable_m(stance, option.pace, bearing)
        for j, along_m in enumerate(ranges):
            if within(span, along_m):
                at = i * len(ranges) + j
                landing = landing_at(stance.contact, bearing, along_m)
                yield Option(option.stand, option.pace, landing, keep[at], p_in[at])
