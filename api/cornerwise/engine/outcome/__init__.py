"""What becomes of a serve: how hard the pass is, which grade it gets, and who wins the rally."""

from .model import (
    BEHIND_FROM_DEG,
    PARTS,
    Behind,
    OutcomeModel,
    Part,
    Receivers,
    Terms,
    grade_probabilities,
    late_part,
    move_part,
    outcome_model,
    rally_won,
    speed_part,
    standing_part,
    terms,
    win_shares,
)

__all__ = [
    "BEHIND_FROM_DEG",
    "PARTS",
    "Behind",
    "OutcomeModel",
    "Part",
    "Receivers",
    "Terms",
    "grade_probabilities",
    "late_part",
    "move_part",
    "outcome_model",
    "rally_won",
    "speed_part",
    "standing_part",
    "terms",
    "win_shares",
]
