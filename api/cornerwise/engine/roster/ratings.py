"""A coach's word for a passer, as the mean pass grade it stands for."""

from __future__ import annotations

from typing import Literal, get_args

from cornerwise.engine.names import Level
from cornerwise.engine.players import RATING_MIDDLE

Rating = Literal["unknown", "weak", "average", "strong"]
RATINGS: tuple[Rating, ...] = get_args(Rating)

WORD_PASSES = 40.0  # chosen: a coach's word weighs as much as some two matches of passes
OFF_THE_MIDDLE: dict[Level, tuple[float, float]] = {
    # chosen: how far weak passers stay below, and strong ones stand above, the mean grade that shifts
    # nothing; passers differ more where they are younger
    "under_14": (0.7, 0.5),
    "high_school": (0.6, 0.45),
    "college": (0.45, 0.35),
    "elite_women": (0.35, 0.3),
    "elite_men": (0.35, 0.3),
}


def rated(rating: Rating, level: Level) -> tuple[float, float] | None:
    """Return the mean pass grade that a word stands for and how many passes it rests on; None for unknown."""
    if rating == "unknown":
        return None
    below, above = OFF_THE_MIDDLE[level]
    return RATING_MIDDLE + {"weak": -below, "average": 0.0, "strong": above}[rating], WORD_PASSES
