"""What a referee would have seen when a rally was played: breaches on the court at the serve."""

from __future__ import annotations

from cornerwise.engine.match.events import Entry
from cornerwise.engine.match.rotation import on_court, place_at, position_of
from cornerwise.engine.match.score import is_deciding, set_is_over, status
from cornerwise.engine.match.state import MatchState, Team, with_team, with_violation
from cornerwise.engine.match.terms import FRONT_ROW, POSITIONS, SIDES, Side


def checked_at_result(state: MatchState, entry: Entry) -> MatchState:
    """Return the state with the breaches under which its present rally was played."""
    state = play_after_the_end(state, entry)
    state = side_change_missed(state, entry)
    for side in SIDES:
        state = players_checked(state, entry, side)
    return server_checked(state, entry)


def set_rule(state: MatchState) -> str:
    """Return the rule that says when the present set is won."""
    return "6.3.2" if is_deciding(state.profile, state.set_number) else "6.2"


def play_after_the_end(state: MatchState, entry: Entry) -> MatchState:
    if status(state) in ("match_over", "abandoned", "forfeited"):
        return with_violation(state, entry, "play_after_match_end")
    if set_is_over(state):
        return with_violation(state, entry, "play_after_set_end", rule=set_rule(state))
    return state


def side_change_is_due(state: MatchState) -> bool:
    """Return whether the sides should have changed in the deciding set and have not (FIVB 18.2.2)."""
    at_points = state.profile.side_change_points
    if at_points is None or state.sides_changed or not is_deciding(state.profile, state.set_number):
        return False
    return max(state.points.us, state.points.them) >= at_points


def side_change_missed(state: MatchState, entry: Entry) -> MatchState:
    if state.side_change_noted or not side_change_is_due(state):
        return state
    return with_violation(state._replace(side_change_noted=True), entry, "side_change_missed")


def liberos_in_front(team: Team) -> list[int]:
    """Return the liberos who stand in the front row now, by position 2 to 4."""
    places = (team.places[place_at(team, position)] for position in FRONT_ROW)
    return [place.libero for place in places if place.libero is not None]


def players_checked(state: MatchState, entry: Entry, side: Side) -> MatchState:
    """A libero in the front row (FIVB 19.3.1.1), a player who was sent off (15.8)."""
    team = state.teams.of(side)
    for libero in liberos_in_front(team):
        state = with_violation(state, entry, "libero_in_front_row", side, libero)
    barred = {*team.expelled, *team.disqualified}
    if not barred:
        return state
    for position in POSITIONS:
        number = on_court(team.places[place_at(team, position)])
        if number in barred:
            state = with_violation(state, entry, "sanctioned_player_on_court", side, number)
    return state


def server_checked(state: MatchState, entry: Entry) -> MatchState:
    """A libero who serves: where she may not at all, or from a second place in the order (FIVB 19.3.1.3)."""
    side = state.serving
    if side is None:
        return state
    team = state.teams.of(side)
    index = place_at(team, 1)
    libero = team.places[index].libero
    if libero is None:
        return state
    if not state.profile.libero_may_serve:
        return with_violation(state, entry, "libero_serves", side, libero)
    if team.libero_served_from is None:
        return with_team(state, side, team._replace(libero_served_from=index))
    if team.libero_served_from == index:
        return state
    return with_violation(state, entry, "libero_serves_second_place", side, libero)


def libero_must_leave(state: MatchState, side: Side) -> bool:
    """Return whether a libero of this side may not be where she is when the next rally starts."""
    team = state.teams.of(side)
    liberos = [i for i, place in enumerate(team.places) if place.libero is not None]
    if any(position_of(team, i) in FRONT_ROW for i in liberos):
        return True
    return side == state.serving and not state.profile.libero_may_serve and place_at(team, 1) in liberos
