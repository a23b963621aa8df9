"""How sets and matches end by word of the referee: ended, abandoned, forfeited (FIVB 6.4)."""

from __future__ import annotations

from cornerwise.engine.match.events import Entry, Forfeited, SetEnded
from cornerwise.engine.match.referee import set_rule
from cornerwise.engine.match.score import (
    ahead,
    is_deciding,
    points_needed,
    set_is_over,
    sets,
    side_with_the_sets,
    winner_by_score,
)
from cornerwise.engine.match.state import (
    Finish,
    MatchState,
    SetEnd,
    with_contradiction,
    with_violation,
)
from cornerwise.engine.match.terms import Both, Side, other


def set_ended(state: MatchState, entry: Entry, event: SetEnded) -> MatchState:
    """The set is over, whatever the score: won as given, else by the score, else by who is ahead."""
    leader = ahead(state.points)
    winner = event.winner or winner_by_score(state) or leader
    if state.set_end is not None:
        same = state.set_end.winner == winner
        return state if same else with_contradiction(state, entry, "conflicting_set_end")
    if winner_by_score(state) is None:
        state = with_violation(state, entry, "set_ended_early", rule=set_rule(state))
    if event.winner is not None and leader not in (None, event.winner):
        state = with_contradiction(state, entry, "set_winner_differs", None, leader, event.winner)
    return state._replace(set_end=SetEnd(winner))


def match_ended(state: MatchState, entry: Entry) -> MatchState:
    """The match is over, whatever the sets."""
    if state.finish is None and side_with_the_sets(state) is None:
        state = with_violation(state, entry, "match_ended_early")
    return finished(state, entry, Finish("ended"))


def match_abandoned(state: MatchState, entry: Entry) -> MatchState:
    """The match is broken off and has no winner."""
    return finished(state, entry, Finish("abandoned"))


def finished(state: MatchState, entry: Entry, finish: Finish) -> MatchState:
    """Return the state with the match over; the first end that was logged counts."""
    if state.finish is None:
        return state._replace(finish=finish)
    if state.finish.kind == finish.kind:
        return state
    return with_contradiction(state, entry, "conflicting_match_end")


def forfeited(state: MatchState, entry: Entry, event: Forfeited) -> MatchState:
    """A side forfeits the set or the match.

    Incomplete (FIVB 6.4.3): the other side gets the points and sets it still needs, this one keeps its own.
    By default (FIVB 6.4.1, 6.4.2): the match is lost by all sets to none and all points to none.
    """
    winner = other(event.side)
    if event.scope == "set":
        return set_given(state, winner)
    if state.finish is not None:
        return finished(state, entry, Finish("forfeited"))
    if event.how == "default":
        return lost_by_default(state, winner)
    state = set_given(state, winner)
    needed = sets(state).put(winner, state.profile.sets_to_win)
    return state._replace(finish=Finish("forfeited", winner, needed))


def set_given(state: MatchState, winner: Side) -> MatchState:
    """Return the state with the present set, unless it is over, given to a side with the points it needs."""
    if not state.set_number or set_is_over(state):
        return state
    deciding = is_deciding(state.profile, state.set_number)
    own, others = state.points.of(winner), state.points.of(other(winner))
    needed = points_needed(state.profile, deciding, own, others)
    return state._replace(points=state.points.put(winner, needed), set_end=SetEnd(winner))


def lost_by_default(state: MatchState, winner: Side) -> MatchState:
    """Return the state with the match given to a side by all sets to none."""
    none = Both(0, 0)
    return state._replace(
        closed_sets=(),
        points=none.put(winner, state.profile.points),
        set_end=SetEnd(winner) if state.set_number else None,
        finish=Finish("forfeited", winner, none.put(winner, state.profile.sets_to_win)),
    )
