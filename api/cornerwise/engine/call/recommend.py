"""The whole answer: the best call, real alternatives, what to stay off, and what the ceiling costs."""

from __future__ import annotations

from dataclasses import dataclass, replace

from cornerwise.engine.court import SpotName
from cornerwise.engine.flight import TOPSPIN, DragModel
from cornerwise.engine.maths import Maths
from cornerwise.engine.names import Level
from cornerwise.engine.outcome import Part

from .alternatives import alternatives, missing_spots
from .detail import Detail, detail, worth_at
from .policy import STEP, Step, break_even_error, chosen, neighbours, start_ceiling
from .search import Search, other_spots, stands
from .shares import plain_option, shares
from .situation import Option, Situation, Stand
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

    use_start_ceiling : take the level's starting ceiling instead of the situation's own. It is one for
    the server, wherever she may stand, so that two spots are compared under the same.
    """
    search = Search(m, situation)
    among, others = stands(situation), stands(situation, other_spots(situation))
    anywhere, safest = search.fewest_errors([*among, *others]), search.fewest_errors(among)
    if anywhere is None or safest is None:
        return None
    start = start_ceiling(level, situation.server, anywhere.p_error)
    ceiling = start if use_start_ceiling else situation.error_ceiling
    present, free = chosen(search, among, ceiling), search.best(among, None)
    assert present is not None  # an aim exists, see above
    assert free is not None
    best = present.option
    free = max(free, best, key=lambda o: o.keep)
    safest = min(safest, best, free, key=lambda o: o.p_error)
    room = ceiling if present.met else best.p_error + STEP
    return Answer(
        best=explained(search, best),
        alternatives=[explained(search, o) for o in alternatives(search, among, best, room)],
        stay_off=stay_off(search, among, best),
        error_ceiling=ceiling,
        met=present.met,
        least_error=safest.p_error,
        start_ceiling=start,
        ceiling_cost=free.keep - best.keep,
        break_even_error=break_even_error(best, free) if free is not best else break_even_error(safest, best),
        steps=_steps(search, among, present, free, safest.p_error),
        missing=missing_spots(search, others, best, ceiling),
        other_model=_other_model(m, situation, ceiling) if best.stand.serve.kind in TOPSPIN else None,
    )


def _steps(search: Search, among: list[Stand], present: Step, free: Option, least_error: float) -> list[Step]:
    """Return the present ceiling and its neighbours, safest first, none last."""
    steps = [present]
    for ceiling in neighbours(present.error_ceiling, least_error):
        step = Step(None, True, free) if ceiling is None else chosen(search, among, ceiling)
        if step is not None:
            steps.append(step)
    return sorted(steps, key=lambda s: 1.0 if s.error_ceiling is None else s.error_ceiling)


def explained(search: Search, option: Option) -> Explained:
    """Return one call with all that is shown of it."""
    plain = worth_at(search, plain_option(search.situation, option))
    gain = option.keep - plain.keep
    return Explained(detail(search, option), plain, shares(search.m, search.situation, option, gain))


def other_drag_model(model: DragModel) -> DragModel:
    """Return the other of the two published parametrisations."""
    return "A" if model == "B" else "B"


def _other_model(m: Maths, situation: Situation, ceiling: float | None) -> Option | None:
    other = replace(situation, drag_model=other_drag_model(situation.drag_model))
    step = chosen(Search(m, other), stands(other), ceiling)
    return None if step is None else step.option
