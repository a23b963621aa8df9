"""The whole answer: the best call, real alternatives, what to stay off, and what the ceiling costs."""

from __future__ import annotations

from dataclasses import dataclass, replace

from cornerwise.engine.court import SpotName
from cornerwise.engine.flight import TOPSPIN, DragModel
from cornerwise.engine.maths import Maths
from cornerwise.engine.outcome import Part
from cornerwise.engine.players import Level

from .alternatives import alternatives, missing_spots
from .detail import Detail, detail, worth_at
from .policy import STEP, Step, break_even_error, chosen, neighbours, start_ceiling
from .search import Search, other_spots, stands
from .shares import plain_option, shares
from .situation import Option, Situation
from .stay_off import StayOff, stay_off


@dataclass(frozen=True, slots=True)
class Explained:
    """One call with all that is shown of it.

    plain  : the plain serve that it is measured against.
    shares : each part's worth in chance of winning the rally; they add up to keep minus the plain serve's.
    """

    detail: Detail
    plain: Option
    shares: dict[Part, float]

    @property
    def option(self) -> Option:
        """The call itself."""
        return self.detail.option


@dataclass(frozen=True, slots=True)
class Answer:
    """All that is said before a serve.

    error_ceiling   : the ceiling asked for, or the one to start from.
    met             : whether any serve keeps to it.
    ceiling_cost    : keep without a ceiling minus keep of the best call.
    steps           : the present ceiling and its neighbours, safest first, none last.
    missing         : spots the server cannot use that would be worth more, with what they offer.
    other_model     : the other drag model's best call, for topspin serves; None if it has none.
    """

    best: Explained
    alternatives: list[Explained]
    stay_off: list[StayOff]
    error_ceiling: float | None
    met: bool
    least_error: float
    start_ceiling: float
    ceiling_cost: float
    break_even_error: float | None
    steps: list[Step]
    missing: list[tuple[SpotName, Option]]
    other_model: Option | None


def recommend(m: Maths, situation: Situation, level: Level, use_start_ceiling: bool = False) -> Answer | None:
    """Return the answer for one serve; None if no aim of this server reaches the court over the net.

    use_start_ceiling : take the level's starting ceiling instead of the situation's own.
    """
    search = Search(m, situation)
    among = stands(situation)
    safest = search.fewest_errors(among)
    if safest is None:
        return None
    start = start_ceiling(level, situation.server, safest.p_error)
    ceiling = start if use_start_ceiling else situation.error_ceiling
    present = chosen(search, among, ceiling)
    free = search.best(among, None)
    assert present is not None  # an aim exists, see above
    assert free is not None
    best = present.option
    if best.keep > free.keep:
        free = best
    safest = min(safest, best, free, key=lambda o: o.p_error)
    room = ceiling if present.met else best.p_error + STEP
    steps = [
        Step(None, True, free) if c is None else step
        for c in neighbours(ceiling, safest.p_error)
        if (step := chosen(search, among, c)) is not None
    ]
    bolder = free if ceiling is not None and free.keep > best.keep else best
    safer = best if bolder is not best else safest
    others = stands(situation, other_spots(situation))
    return Answer(
        explained(search, best),
        [explained(search, option) for option in alternatives(search, among, best, room)],
        stay_off(search, among, best),
        ceiling,
        present.met,
        safest.p_error,
        start,
        free.keep - best.keep,
        break_even_error(safer, bolder),
        _in_order([present, *steps]),
        sorted(missing_spots(search, others, best, ceiling), key=lambda found: -found[1].keep),
        _other_model(m, situation, ceiling) if best.stand.serve.kind in TOPSPIN else None,
    )


def explained(search: Search, option: Option) -> Explained:
    """Return one call with all that is shown of it."""
    plain = worth_at(search, plain_option(search.situation, option))
    gain = option.keep - plain.keep
    return Explained(detail(search, option), plain, shares(search.m, search.situation, option, gain))


def _in_order(steps: list[Step]) -> list[Step]:
    return sorted(steps, key=lambda s: 1.0 if s.error_ceiling is None else s.error_ceiling)


def other_drag_model(model: DragModel) -> DragModel:
    """Return the other of the two published parametrisations."""
    return "A" if model == "B" else "B"


def _other_model(m: Maths, situation: Situation, ceiling: float | None) -> Option | None:
    other = replace(situation, drag_model=other_drag_model(situation.drag_model))
    step = chosen(Search(m, other), stands(other), ceiling)
    return None if step is None else step.option
