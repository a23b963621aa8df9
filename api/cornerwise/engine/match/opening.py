"""How a match and its sets are opened: line-ups, who serves first, and what the log left out."""

from __future__ import annotations

from cornerwise.engine.match.events import Entry, MatchOpened, SetStarted, TeamSheet
from cornerwise.engine.match.lineup import team_at_set_start
from cornerwise.engine.match.referee import set_rule
from cornerwise.engine.match.score import (
    ahead,
    is_deciding,
    set_is_over,
    set_winner,
    starting_points,
    status,
)
from cornerwise.engine.match.serve import circumstances
from cornerwise.engine.match.state import (
    ClosedSet,
    MatchState,
    Rally,
    ServingTurn,
    Team,
    with_contradiction,
    with_violation,
)
from cornerwise.engine.match.terms import SIDES, Both, Side


def match_opened(state: MatchState, entry: Entry, event: MatchOpened) -> MatchState:
    """The first opening counts; the profile given beside the log goes before the one in it."""
    if state.opened is not None:
        return state if state.opened == event else with_contradiction(state, entry, "conflicting_match")
    profile = state.profile if state.profile_fixed else event.profile
    return state._replace(opened=event, profile=profile)


def set_started(state: MatchState, entry: Entry, event: SetStarted) -> MatchState:
    """The set before is closed and this one opened (FIVB 12.1: who serves first)."""
    if entry.set_number <= state.set_number:
        if state.set_start == event:
            return state
        return with_contradiction(state, entry, "conflicting_set_start")
    state = left_behind(state, entry)
    state = first_service_checked(state, entry, event.serving_first)
    teams = Both(team_at_set_start(state.teams.us, event.us), team_at_set_start(state.teams.them, event.them))
    state = fresh_set(state, entry.set_number, teams)
    state = state._replace(set_start=event, serving=event.serving_first, served_first=event.serving_first)
    for side in SIDES:
        if len(state.teams.of(side).liberos) > state.profile.liberos:
            state = with_violation(state, entry, "too_many_liberos", side)
    return state


def set_entered(state: MatchState, entry: Entry) -> MatchState:
    """A set that was never started in the log begins with nothing known."""
    state = left_behind(state, entry)
    nothing = TeamSheet()
    teams = Both(team_at_set_start(state.teams.us, nothing), team_at_set_start(state.teams.them, nothing))
    return with_contradiction(fresh_set(state, entry.set_number, teams), entry, "set_not_started")


def left_behind(state: MatchState, entry: Entry) -> MatchState:
    """Return the state with the present set closed; leaving it early is noted, so is a match over."""
    if status(state) in ("match_over", "abandoned", "forfeited"):
        state = with_violation(state, entry, "play_after_match_end")
    if not state.set_number:
        return state
    if not set_is_over(state):
        state = with_violation(state, entry, "set_not_over", rule=set_rule(state))
    return closed(state)


def closed(state: MatchState) -> MatchState:
    """Return the state with the present set among those behind us, won as ended, or by who was ahead."""
    winner = set_winner(state) if set_is_over(state) else ahead(state.points)
    closed_set = ClosedSet(state.set_number, state.points, winner, state.served_first, rallies_so_far(state))
    won = state.sets_won if winner is None else state.sets_won.put(winner, state.sets_won.of(winner) + 1)
    return state._replace(closed_sets=(*state.closed_sets, closed_set), sets_won=won)


def rallies_so_far(state: MatchState) -> tuple[Rally, ...]:
    """Return the set's records, with the present rally, undecided, if anything was logged in it."""
    if state.present is None:
        return state.rallies
    return (*state.rallies, circumstances(state, state.present))


def first_service_checked(state: MatchState, entry: Entry, side: Side) -> MatchState:
    """Except in the deciding set, the side serves first that did not in the set before (FIVB 12.1.2)."""
    if is_deciding(state.profile, entry.set_number) or not state.closed_sets:
        return state
    before = state.closed_sets[-1]
    if before.set_number != entry.set_number - 1 or before.served_first != side:
        return state
    return with_violation(state, entry, "wrong_first_service", side)


def fresh_set(state: MatchState, set_number: int, teams: Both[Team]) -> MatchState:
    """Return the state at the start of a set, before anything is known of it but the sides."""
    points = starting_points(state.profile, is_deciding(state.profile, set_number))
    return state._replace(
        set_number=set_number,
        rally_number=1,
        set_start=None,
        served_first=None,
        serving=None,
        points=Both(points, points),
        set_end=None,
        teams=teams,
        turn=ServingTurn(),
        rallies=(),
        present=None,
        sides_changed=0,
        side_change_noted=False,
        time_out_by=(),
    )


def rally_entered(state: MatchState, entry: Entry) -> MatchState:
    """Rallies without a result are passed over; what was seen in the present one is kept, undecided."""
    state = with_contradiction(
        state, entry, "rallies_missing", None, state.rally_number, entry.rally_number - 1
    )
    return state._replace(rallies=rallies_so_far(state), present=None, rally_number=entry.rally_number)
