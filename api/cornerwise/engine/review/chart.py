"""The course of a set: one entry for each rally, as it was played from, and who won it."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from cornerwise.engine.match.serve import ending_of
from cornerwise.engine.match.state import Rally

from .serves import PlayedSet, left_out


def set_course(played: PlayedSet) -> dict[str, Any]:
    """Return a set's score and its rallies in order, those without a result left out."""
    return {
        "set_number": played.set_number,
        "points": asdict(played.points),
        "winner": played.winner,
        "rallies": [rally_course(r) for r in played.rallies if left_out(r) != "undecided"],
    }


def rally_course(rally: Rally) -> dict[str, Any]:
    return {
        "rally_number": rally.rally_number,
        "serving": rally.serving,
        "server": rally.server,
        "points_before": asdict(rally.points_before),
        "rotations": asdict(rally.rotations),
        "setter_positions": asdict(rally.setter_positions),
        "winner": rally.winner,
        "ending": ending_of(rally),
        "cancelled": rally.cancelled,
    }
