"""Score: who has won a set or the match (FIVB 6.2, 6.3), what a side still needs, where the match stands."""

from __future__ import annotations

from typing import Literal

from cornerwise.engine.match.profiles import RuleProfile
from cornerwise.engine.match.state import MatchState
from cornerwise.engine.match.terms import SIDES, Both, Side, other

Status = Literal["before", "in_play", "set_over", "match_over", "abandoned", "forfeited"]


def is_deciding(profile: RuleProfile, set_number: int) -> bool:
    """Return whether this is the set in which both sides need one more."""
    return set_number == 2 * profile.sets_to_win - 1


def set_target(profile: RuleProfile, deciding: bool) -> int:
    """Return the points that win a set with the lead."""
    return profile.deciding_points if deciding else profile.points


def set_cap(profile: RuleProfile, deciding: bool) -> int | None:
    """Return the points that win a set with any lead, or None."""
    return profile.deciding_cap if deciding else profile.cap


def starting_points(profile: RuleProfile, deciding: bool) -> int:
    """Return the points with which both sides start a set."""
    return profile.deciding_starting_points if deciding else profile.starting_points


def wins(profile: RuleProfile, deciding: bool, own: int, others: int) -> bool:
    """Return whether a side with its own points against the other's has won the set, by the score only."""
    cap = set_cap(profile, deciding)
    if cap is not None and own >= cap:
        return own > others
    return own >= set_target(profile, deciding) and own - others >= profile.lead


def points_needed(profile: RuleProfile, deciding: bool, own: int, others: int) -> int:
    """Return the points with which a side will have won the set when the other gets no more (FIVB 6.4.3)."""
    while not wins(profile, deciding, own, others):
        own += 1
    return own


def ahead(points: Both[int]) -> Side | None:
    """Return the side with more points, or None."""
    if points.us == points.them:
        return None
    return "us" if points.us > points.them else "them"


def winner_by_score(state: MatchState) -> Side | None:
    """Return who has won the present set by its present score, or None."""
    deciding = is_deciding(state.profile, state.set_number)
    leader = ahead(state.points)
    if leader is None or not state.set_number:
        return None
    own, others = state.points.of(leader), state.points.of(other(leader))
    return leader if wins(state.profile, deciding, own, others) else None


def set_winner(state: MatchState) -> Side | None:
    """Return who has won the present set: as the referee ended it, else by the score."""
    return state.set_end.winner if state.set_end is not None else winner_by_score(state)


def set_is_over(state: MatchState) -> bool:
    """Return whether the present set is over, by the referee or by the score."""
    return state.set_end is not None or winner_by_score(state) is not None


def sets(state: MatchState) -> Both[int]:
    """Return the sets won by each side, the present one included when it is over."""
    if state.finish is not None and state.finish.sets is not None:
        return state.finish.sets
    winner = set_winner(state)
    return state.sets_won if winner is None else state.sets_won.put(winner, state.sets_won.of(winner) + 1)


def side_with_the_sets(state: MatchState) -> Side | None:
    """Return the side that has won the sets of a match, or None."""
    won = sets(state)
    return next((side for side in SIDES if won.of(side) >= state.profile.sets_to_win), None)


def status(state: MatchState) -> Status:
    """Return where the match stands."""
    if state.finish is not None and state.finish.kind != "ended":
        return state.finish.kind
    if state.finish is not None or side_with_the_sets(state) is not None:
        return "match_over"
    if not state.set_number:
        return "before"
    return "set_over" if set_is_over(state) else "in_play"


def match_winner(state: MatchState) -> Side | None:
    """Return who has won the match, or None."""
    finish = state.finish
    if finish is not None and finish.kind == "forfeited":
        return finish.winner
    champion = side_with_the_sets(state)
    if champion is None and finish is not None and finish.kind == "ended":
        return ahead(sets(state))
    return champion


def first_serving_next(state: MatchState) -> Side | None:
    """Return who serves first in the next set: who did not in this one (FIVB 12.1.2).

    None before a toss, which the first set and the deciding one have (12.1.1), when nobody knows who served
    first in this set, and when there is no next set.
    """
    over = status(state) not in ("in_play", "set_over")
    if over or state.served_first is None or is_deciding(state.profile, state.set_number + 1):
        return None
    return None if is_deciding(state.profile, state.set_number) else other(state.served_first)
