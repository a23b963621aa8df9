"""What a log says beside the state: breaches of the rules, and contradictions in what was logged.

Neither stops the fold. A violation cites the rule's number in the FIVB Official Volleyball Rules
(2021-2024 and 2025-2028 agree on these; 15.7, 15.8, 6.4 and 19.3.2.2 are cited from memory). A
contradiction says that either our log slipped or they are wrong: the screen asks, quietly, once.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Literal

from cornerwise.engine.match.profiles import RuleProfile
from cornerwise.engine.match.terms import Side

ViolationCode = Literal[
    "too_many_substitutions",
    "wrong_place",
    "entered_twice",
    "left_twice",
    "wrong_partner",
    "injured_player_enters",
    "sanctioned_player_enters",
    "sanctioned_player_on_court",
    "libero_in_substitution",
    "too_many_time_outs",
    "too_many_liberos",
    "two_liberos_on_court",
    "libero_in_front_row",
    "libero_serves",
    "libero_serves_second_place",
    "libero_without_rally",
    "libero_wrong_return",
    "wrong_server",
    "wrong_first_service",
    "side_change_missed",
    "set_not_over",
    "set_ended_early",
    "play_after_set_end",
    "play_after_match_end",
    "match_ended_early",
]

RULE_OF: Mapping[ViolationCode, str] = {
    "too_many_substitutions": "15.1",
    "wrong_place": "15.6.1",
    "entered_twice": "15.6.2",
    "left_twice": "15.6.1",
    "wrong_partner": "15.6.2",
    "injured_player_enters": "15.7",
    "sanctioned_player_enters": "15.8",
    "sanctioned_player_on_court": "15.8",
    "libero_in_substitution": "19.3.2",
    "too_many_time_outs": "15.1",
    "too_many_liberos": "19.1",
    "two_liberos_on_court": "19.1",
    "libero_in_front_row": "19.3.1.1",
    "libero_serves": "19.3.1.3",
    "libero_serves_second_place": "19.3.1.3",
    "libero_without_rally": "19.3.2.1",
    "libero_wrong_return": "19.3.2.2",
    "wrong_server": "7.7",
    "wrong_first_service": "12.1.2",
    "side_change_missed": "18.2.2",
    "set_not_over": "6.2",
    "set_ended_early": "6.2",
    "play_after_set_end": "6.2",
    "play_after_match_end": "6.3.1",
    "match_ended_early": "6.3.1",
}

VIOLATION_TEXTS: Mapping[ViolationCode, str] = {
    "too_many_substitutions": "{Owner} substitution is one too many: {substitutions_per_set} are allowed",
    "wrong_place": "{Owner} #{number} comes back in another place than her own",
    "entered_twice": "{Owner} #{number} enters for the second time in this set",
    "left_twice": "{Owner} #{number} leaves for the second time in this set",
    "wrong_partner": "{Owner} #{number} comes in for a substitute: only the starter may do so",
    "injured_player_enters": "{Owner} #{number} was replaced exceptionally and may not come back",
    "sanctioned_player_enters": "{Owner} #{number} was sent off and may not enter",
    "sanctioned_player_on_court": "{Owner} #{number} was sent off and is still on the court",
    "libero_in_substitution": "{Owner} #{number} is a libero: she is replaced, not substituted",
    "too_many_time_outs": "{Owner} time-out is one too many: {time_outs_per_set} are allowed",
    "too_many_liberos": "{Owner} side has more liberos than the {liberos} allowed",
    "two_liberos_on_court": "{Owner} side has two liberos on the court",
    "libero_in_front_row": "{Owner} libero #{number} is in the front row",
    "libero_serves": "{Owner} libero #{number} serves",
    "libero_serves_second_place": "{Owner} libero #{number} serves from a second place in the order",
    "libero_without_rally": "No completed rally between two replacements by {owner} libero",
    "libero_wrong_return": "{Owner} #{number} is not the player whom the libero replaced",
    "wrong_server": "{Owner} side served out of order",
    "wrong_first_service": "{Owner} side also served first in the set before",
    "side_change_missed": "The sides change at {side_change_points} in the deciding set",
    "set_not_over": "The set before was not over by its score",
    "set_ended_early": "The set was not over by its score",
    "play_after_set_end": "Play went on although the set was over",
    "play_after_match_end": "Play went on although the match was over",
    "match_ended_early": "Nobody had won enough sets",
}

ContradictionCode = Literal[
    "other_server_expected",
    "other_side_serves",
    "not_on_court",
    "already_on_court",
    "conflicting_result",
    "conflicting_part",
    "result_does_not_fit",
    "rallies_missing",
    "set_not_started",
    "conflicting_set_start",
    "conflicting_match",
    "conflicting_set_end",
    "conflicting_match_end",
    "set_winner_differs",
    "unknown_event",
]

CONTRADICTION_TEXTS: Mapping[ContradictionCode, str] = {
    "other_server_expected": "{They} should be serving {expected}, but #{seen} was seen",
    "other_side_serves": "By the log the service is with the other side",
    "not_on_court": "{Owner} #{seen} is not on the court by the log",
    "already_on_court": "{Owner} #{seen} is on the court already by the log",
    "conflicting_result": "Two results were logged for this rally: the first counts",
    "conflicting_part": "Two values were logged for one part of this serve: the first counts",
    "result_does_not_fit": "The rally's result does not fit who served it",
    "rallies_missing": "No result was logged for rally {expected} to {seen}",
    "set_not_started": "The set was never started in the log",
    "conflicting_set_start": "Two starts were logged for this set: the first counts",
    "conflicting_match": "The match was opened twice: the first counts",
    "conflicting_set_end": "Two ends were logged for this set: the first counts",
    "conflicting_match_end": "Two ends were logged for this match: the first counts",
    "set_winner_differs": "The set was given to the side that was behind",
    "unknown_event": "What was to be undone is not in the log",
}


@dataclass(frozen=True, slots=True)
class Violation:
    """A breach of the rules, by the event that shows it."""

    code: ViolationCode
    rule: str
    event_id: str
    set_number: int
    rally_number: int
    side: Side | None = None
    number: int | None = None


@dataclass(frozen=True, slots=True)
class Contradiction:
    """Two things in the log that cannot both be so; what was expected and what was logged."""

    code: ContradictionCode
    event_id: str
    set_number: int
    rally_number: int
    side: Side | None = None
    expected: Any = None
    seen: Any = None


def violation_text(violation: Violation, profile: RuleProfile) -> str:
    """Return a breach in plain words."""
    ours = violation.side == "us"
    return VIOLATION_TEXTS[violation.code].format(
        Owner="Our" if ours else "Their",
        owner="our" if ours else "their",
        number=violation.number,
        substitutions_per_set=profile.substitutions_per_set,
        time_outs_per_set=profile.time_outs_per_set,
        liberos=profile.liberos,
        side_change_points=profile.side_change_points,
    )


def contradiction_text(contradiction: Contradiction) -> str:
    """Return a contradiction in plain words."""
    ours = contradiction.side == "us"
    expected = contradiction.expected
    if contradiction.code == "other_server_expected":
        expected = "another player" if expected is None else f"#{expected}"
    return CONTRADICTION_TEXTS[contradiction.code].format(
        They="We" if ours else "They",
        Owner="Our" if ours else "Their",
        expected=expected,
        seen=contradiction.seen,
    )
