"""What one serve is worth that somebody chose: her spot, her target."""

from __future__ import annotations

from typing import Any

from cornerwise.engine.call.aims import aim_reachable
from cornerwise.engine.call.detail import worth_at
from cornerwise.engine.call.recommend import explained
from cornerwise.engine.call.search import Search, stands
from cornerwise.engine.call.situation import Option
from cornerwise.engine.court import on_opponents_half
from cornerwise.engine.errors import RuleBroken
from cornerwise.engine.maths import PLAIN, Maths

from .answer import call_fields, situation_fields
from .ask import asked
from .exact import place, point


def aimed(request: dict[str, Any], m: Maths = PLAIN) -> dict[str, Any]:
    """Return {serve, situation}: the serve that was aimed, with all that a call says of itself.

    request : as `call` takes it, and `target`, where the ball should land. Of the server's spots and
    paces the best are taken; her error ceiling does not count, because the serve was chosen.

    Raises RuleBroken if the request breaks one of RULES: `out_of_reach` for a target that no pace
    carries the ball to over the net.
    """
    target = point(request["target"])
    if not on_opponents_half(target):
        expected = "a place in their court: x from -4.5 to 4.5 m, y from 0 to 9 m"
        raise RuleBroken("target", place(target), expected, "target_outside_court")
    ask = asked({name: value for name, value in request.items() if name != "target"})
    search = Search(m, ask.situation)
    options = [
        worth_at(search, Option(stand, pace, target, 0.0, 0.0))
        for stand in stands(ask.situation)
        for pace in range(len(stand.serve.speeds_m_s))
        if aim_reachable(stand.stance, pace, target)
    ]
    if not options:
        expected = "a target that a pace of hers carries the ball to over the net"
        raise RuleBroken("target", place(target), expected, "out_of_reach")
    chosen = min(options, key=search.preference)
    return {"serve": call_fields(ask, explained(search, chosen)), "situation": situation_fields(ask)}
