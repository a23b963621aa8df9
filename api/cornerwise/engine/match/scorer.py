"""What the referee and the scorer decide without a rally: time-outs, penalty points, a corrected score."""

from __future__ import annotations

from cornerwise.engine.match.events import Entry, PenaltyPointGiven, ScoreCorrected, TimeOutTaken
from cornerwise.engine.match.rally import with_point, with_service
from cornerwise.engine.match.state import MatchState, with_team, with_violation
from cornerwise.engine.match.terms import SIDES, Both


def time_out_taken(state: MatchState, entry: Entry, event: TimeOutTaken) -> MatchState:
    """A time-out counts, also one above the limit (FIVB 15.1)."""
    team = state.teams.of(event.side)
    state = with_team(state, event.side, team._replace(time_outs=team.time_outs + 1))
    by = tuple(side for side in SIDES if side in state.time_out_by or side == event.side)
    state = state._replace(time_out_by=by)
    if team.time_outs < state.profile.time_outs_per_set:
        return state
    return with_violation(state, entry, "too_many_time_outs", event.side)


def penalty_point_given(state: MatchState, event: PenaltyPointGiven) -> MatchState:
    """A point without a rally; with rotation also the service (FIVB 16.2.3, 21.3.1).

    A side rotated by a penalty need not wait for a rally with its libero (FIVB 19.3.2.1).
    """
    gains_service = event.rotation and state.serving not in (None, event.to)
    state = with_point(state, event.to)
    if not event.rotation:
        return state
    state = with_service(state, event.to)
    if not gains_service:
        return state
    return with_team(state, event.to, state.teams.of(event.to)._replace(libero_ready=True))


def score_corrected(state: MatchState, event: ScoreCorrected) -> MatchState:
    """The score is put right by hand, and the sets won before this one if given."""
    return state._replace(points=Both(event.us, event.them), sets_won=event.sets or state.sets_won)
