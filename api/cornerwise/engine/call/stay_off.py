"""Serves to stay off: natural ones that play into the receivers' hands, and why."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from cornerwise.engine.outcome import Receivers
from cornerwise.engine.passing import flies_over

from .aims import aim_reachable
from .detail import geometry, worth_at
from .search import Search
from .situation import Option, Stand, preference

Why = Literal["over_setter", "over_target", "straight_back", "in_one_view", "easy_pass"]

STRAIGHT_BACK_DEG = 15.0  # chosen: up to this pass angle the ball goes back where it came from
IN_FRONT_DEG = 80.0  # chosen: up to this arrival bearing the setter sees passer and ball in one view
CLEARLY_WORSE = 0.01  # a serve to stay off is at least one point in 100 behind the best call


@dataclass(frozen=True, slots=True)
class StayOff:
    """A serve at a passer's own place that is clearly worse than the best call. passer counts from 0."""

    option: Option
    passer: int
    why: Why


def reason(receivers: Receivers, option: Option) -> Why:
    """Return the main reason why a serve is easy to receive."""
    contact, landing = option.stand.stance.contact, option.landing
    seen = geometry(contact, landing, receivers.setter_start, receivers.target, receivers.faces)
    if flies_over(contact, landing, receivers.setter_start):
        return "over_setter"
    if seen.crosses_setter_lane:
        return "over_target"
    if seen.pass_angle_deg <= STRAIGHT_BACK_DEG:
        return "straight_back"
    if seen.arrival_bearing_deg <= IN_FRONT_DEG:
        return "in_one_view"
    return "easy_pass"


def natural_serves(search: Search, among: Sequence[Stand]) -> Iterator[StayOff]:
    """Yield a serve from each end and from the middle to every passer's own place, each at its best pace."""
    receivers = search.situation.receivers
    for stand in _ends_and_middle(among):
        for k, passer in enumerate(receivers.stands):
            paces = [
                worth_at(search, Option(stand, pace, passer.place, 0.0, 0.0))
                for pace in range(len(stand.serve.speeds_m_s))
                if aim_reachable(stand.stance, pace, passer.place)
            ]
            if paces:
                best = min(paces, key=lambda o: preference(o, search.faces))
                yield StayOff(best, k, reason(receivers, best))


def stay_off(search: Search, among: Sequence[Stand], best: Option, most: int = 3) -> list[StayOff]:
    """Return the worst natural serves, each reason once before any twice, worst first.

    `easy_pass` is a reason only where there is no better one.
    """
    worse = [n for n in natural_serves(search, among) if n.option.keep <= best.keep - CLEARLY_WORSE]
    named = [n for n in worse if n.why != "easy_pass"] or worse
    ordered = sorted(named, key=lambda n: preference(n.option, search.faces), reverse=True)
    first: dict[Why, StayOff] = {}
    for serve in ordered:
        first.setdefault(serve.why, serve)
    rest = [n for n in ordered if n not in first.values()]
    chosen = [*first.values(), *rest][:most]
    return sorted(chosen, key=lambda n: n.option.keep)


def _ends_and_middle(among: Sequence[Stand]) -> list[Stand]:
    """Return, for the first kind of serve, the stands farthest left and right and nearest the middle."""
    kind = among[0].serve.kind
    row = sorted((s for s in among if s.serve.kind == kind), key=lambda s: s.spot.x_m)
    picked = {row[0], min(row, key=lambda s: abs(s.spot.x_m)), row[-1]}
    return [s for s in row if s in picked]
