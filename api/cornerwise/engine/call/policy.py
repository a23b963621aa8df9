"""The coach's error ceiling: what it costs, what a step is worth, when boldness breaks even."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from cornerwise.engine.flight import TOPSPIN
from cornerwise.engine.names import Level
from cornerwise.engine.players import CEILING_ABOVE_LEAST, START_CEILING, TOPSPIN_CEILING, Server

from .search import Search
from .situation import Option, Stand

STEP = 0.02  # chosen: one tap bolder or safer
HIGHEST = 0.40  # chosen: above this a ceiling says nothing more


@dataclass(frozen=True, slots=True)
class Step:
    """One ceiling beside the present one, and what it would change.

    error_ceiling : None for no ceiling.
    met           : whether any serve keeps to it; if not, the option is the one with the fewest errors.
    """

    error_ceiling: float | None
    met: bool
    option: Option


def chosen(search: Search, among: Sequence[Stand], ceiling: float | None) -> Step | None:
    """Return the best option under a ceiling, or the one that errs least when none keeps to it.

    None if no serve of these stands can be aimed at all: every aim is out of reach or into the net.
    """
    best = search.best(among, ceiling)
    if best is not None:
        return Step(ceiling, True, best)
    fallback = search.fewest_errors(among)
    return None if fallback is None else Step(ceiling, False, fallback)


def start_ceiling(level: Level, server: Server, least_error: float) -> float:
    """Return the ceiling to start from, raised in whole hundredths to what this server can keep to."""
    usual = START_CEILING[level]
    if any(serve.kind in TOPSPIN for serve in server.serves):
        usual += TOPSPIN_CEILING
    reachable = math.ceil(round((least_error + CEILING_ABOVE_LEAST) * 100, 6)) / 100
    return round(min(max(usual, reachable), 1.0), 2)


def neighbours(ceiling: float | None, least_error: float) -> list[float | None]:
    """Return the ceilings one step safer and one bolder, and none at all, in this order."""
    if ceiling is None:
        return []
    safer, bolder = round(ceiling - STEP, 4), round(ceiling + STEP, 4)
    steps: list[float | None] = [safer] if safer >= least_error else []
    if bolder <= HIGHEST:
        steps.append(bolder)
    return [*steps, None]


def break_even_error(safe: Option, bold: Option) -> float | None:
    """Return how many errors the bolder serve could afford and still be worth the safer one.

    1 - keep_safe / P(win | in, bold); None when it is not worth it even without errors.
    """
    win_if_in = bold.keep / bold.p_in if bold.p_in > 0.0 else 0.0
    return 1.0 - safe.keep / win_if_in if win_if_in > safe.keep else None
