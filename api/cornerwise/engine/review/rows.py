"""One row of a review: what a group of serves came to. Every share and mean says how many it rests on."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from typing import Any

from cornerwise.engine.match.terms import SERVE_ERRORS

from .serves import Serve


def share(count: int, of: int) -> dict[str, Any]:
    """Return a share with its numbers; nothing of nothing has none."""
    return {"count": count, "of": of, "share": count / of if of else None}


def mean(values: Sequence[int]) -> dict[str, Any]:
    """Return a mean with the number of values it rests on."""
    return {"mean": sum(values) / len(values) if values else None, "of": len(values)}


def row(serves: Sequence[Serve], all_serves: int, *, in_turns: bool = True) -> dict[str, Any]:
    """Return what a group of serves came to.

    all_serves : how many its side served in all
    in_turns   : whether a serving turn lies wholly in one such group; else nothing is said of turns
    """
    missed = [serve for serve in serves if serve.missed]
    kinds = Counter(serve.rally.parts.error for serve in missed)
    points_of_turns = points_by_turn(serves).values()
    return {
        "serves": share(len(serves), all_serves),
        "errors": share(len(missed), len(serves)),
        "errors_by_kind": {**{kind: kinds[kind] for kind in SERVE_ERRORS}, "unknown": kinds[None]},
        "aces": share(sum(serve.ace for serve in serves), len(serves)),
        "won": share(sum(serve.won for serve in serves), len(serves)),
        "pass_grade": mean([serve.grade for serve in serves if serve.grade is not None]),
        "points_per_turn": mean(list(points_of_turns)) if in_turns else None,
        "longest_run": max(points_of_turns, default=0) if in_turns else None,
    }


def points_by_turn(serves: Iterable[Serve]) -> dict[int, int]:
    """Return the points won in each serving turn."""
    points: dict[int, int] = {}
    for serve in serves:
        points[serve.turn] = points.get(serve.turn, 0) + serve.won
    return points
