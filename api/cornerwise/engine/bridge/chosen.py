"""The call for a server of ours, with what is kept of her: of several kinds of serve she has, the best."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from cornerwise.engine.call.alternatives import EQUAL
from cornerwise.engine.errors import RuleBroken
from cornerwise.engine.maths import PLAIN, Maths

from .answer import call
from .roster import prepared


def chosen(request: Mapping[str, Any], m: Maths = PLAIN) -> dict[str, Any]:
    """Return the call for one serve, as `call` does, with what was entered put in.

    request : as `prepared` takes it. Where no kind is meant, all her serves are weighed, as in the call book:
        each under its own error ceiling, unless one was set; the best of the others stand among the
        alternatives, as far as they keep to theirs.

    Raises RuleBroken if the request breaks one of RULES: `out_of_reach` where none of her serves gets there.
    """
    answered, unable = [], None
    for kind in _kinds(request):
        try:
            answered.append(call(prepared({**request, "kind": kind}), m))
        except RuleBroken as error:
            if error.rule != "out_of_reach":
                raise
            unable = unable or error
    if unable is not None and not answered:
        raise unable
    answered.sort(key=preference)
    first, *others = answered
    beside = [_beside(other["best"], first["best"]) for other in others if other["policy"]["met"]]
    alternatives = sorted([*first["alternatives"], *beside], key=lambda one: -round(one["keep"], 9))
    return {**first, "alternatives": alternatives}


def preference(answer: Mapping[str, Any]) -> tuple[bool, float]:
    """Return a key by which the better answer sorts first: what keeps to its ceiling, then keep."""
    return not answer["policy"]["met"], -round(answer["best"]["keep"], 9)


def _kinds(request: Mapping[str, Any]) -> list[Any]:
    """Return the kinds that are meant: the one that was said, else all that she has; None for nothing."""
    said = (request["request"].get("server") or {}).get("kind") or request.get("kind")
    if said is not None:
        return [said]
    return [serve["kind"] for serve in (request.get("player") or {}).get("serves") or ()] or [None]


def _beside(other: Mapping[str, Any], best: Mapping[str, Any]) -> dict[str, Any]:
    behind = other["keep"] - best["keep"]
    return {**other, "points_per_100": 100 * behind, "equal": abs(behind) <= EQUAL}
