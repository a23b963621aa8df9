"""Libero replacements: no substitutions, back row only, a completed rally between two (FIVB 19.3)."""

from __future__ import annotations

from dataclasses import replace

from cornerwise.engine.match.events import Entry, LiberoReplaced
from cornerwise.engine.match.rotation import (
    BACK_ROW,
    in_order,
    is_libero,
    libero_place,
    place_at,
    position_of,
    regular_place,
    setter_numbers,
    settled,
    unknown_places,
    with_place,
    without_libero,
)
from cornerwise.engine.match.score import status
from cornerwise.engine.match.state import MatchState, Team, with_contradiction, with_team, with_violation
from cornerwise.engine.match.terms import FRONT_ROW, Side


def libero_replaced(state: MatchState, entry: Entry, event: LiberoReplaced) -> MatchState:
    """A libero goes in, goes out, or is exchanged for the other libero."""
    team = state.teams.of(event.side)
    standing = libero_place(team, event.leaves)
    if standing is not None:
        if event.enters is not None and is_libero(team, event.enters):
            return liberos_exchanged(state, entry, event, standing)
        return libero_out(state, entry, event, standing)
    index = place_for_libero(team, event)
    if event.enters is None or index is None:
        number = event.enters if event.leaves is None else event.leaves
        return with_contradiction(state, entry, "not_on_court", event.side, None, number)
    if regular_place(team, event.enters) is not None or team.places[index].libero == event.enters:
        return with_contradiction(state, entry, "already_on_court", event.side, None, event.enters)
    return libero_in(state, entry, event, event.enters, index)


def place_for_libero(team: Team, event: LiberoReplaced) -> int | None:
    """Return the place a libero goes into, as far as it can be known."""
    regular = regular_place(team, event.leaves)
    if regular is not None:
        return regular
    if event.position is not None:
        return place_at(team, event.position)
    unknown = unknown_places(team)
    one = event.leaves is not None and not is_libero(team, event.leaves) and len(unknown) == 1
    return unknown[0] if one else None


def liberos_exchanged(state: MatchState, entry: Entry, event: LiberoReplaced, index: int) -> MatchState:
    """The other libero goes in for the one on court (FIVB 19.3.2.2)."""
    team = state.teams.of(event.side)
    enters = event.enters
    assert enters is not None  # a libero
    moves = libero_place(team, enters) is not None
    state = rally_between(state, entry, event.side, enters, moves)
    team = without_libero(state.teams.of(event.side), enters)
    return with_team(state, event.side, with_place(team, index, replace(team.places[index], libero=enters)))


def libero_out(state: MatchState, entry: Entry, event: LiberoReplaced, index: int) -> MatchState:
    """The libero goes out, and the player whom she replaced is back (FIVB 19.3.2.2)."""
    side, enters = event.side, event.enters
    state = rally_between(state, entry, side, enters if enters is not None else event.leaves)
    team = state.teams.of(side)
    place = replace(team.places[index], libero=None)
    wrong = enters is not None and place.number is not None and enters != place.number
    if wrong:
        state = with_violation(state, entry, "libero_wrong_return", side, enters)
    if enters is not None and enters != place.number:
        if in_order(team, enters):
            state = with_contradiction(state, entry, "already_on_court", side, None, enters)
        else:
            place = settled(place, enters)
    return with_team(state, side, with_place(team, index, place))


def libero_in(state: MatchState, entry: Entry, event: LiberoReplaced, libero: int, index: int) -> MatchState:
    """The libero goes in for the regular player of a place."""
    side = event.side
    team = state.teams.of(side)
    moves = libero_place(team, libero) is not None
    to_serve = side == state.serving and position_of(team, index) == 1
    if not (to_serve and state.profile.libero_exchange_to_serve):
        state = rally_between(state, entry, side, libero, moves)
    team = without_libero(state.teams.of(side), libero)._replace(libero_ready=False)
    if libero not in team.liberos:
        team = team._replace(liberos=(*team.liberos, libero))
        if len(team.liberos) > state.profile.liberos:
            state = with_violation(state, entry, "too_many_liberos", side)
    if any(place.libero is not None for i, place in enumerate(team.places) if i != index):
        state = with_violation(state, entry, "two_liberos_on_court", side, libero)
    if position_of(team, index) in FRONT_ROW:
        state = with_violation(state, entry, "libero_in_front_row", side, libero)
    team = remembered(replaced_filled_in(team, index, event.leaves), index)
    return with_team(state, side, with_place(team, index, replace(team.places[index], libero=libero)))


def remembered(team: Team, index: int) -> Team:
    """Return the side with whom a libero comes in for noted: she will do so again."""
    number = team.places[index].number
    if number is None:
        return team
    others = (n for n in team.libero_came_for if n != number)
    return team._replace(libero_came_for=(number, *others))


def replaced_filled_in(team: Team, index: int, leaves: int | None) -> Team:
    """Return the side with who is replaced in an unknown place written there: she is its regular player."""
    place = team.places[index]
    if leaves is None or place.number is not None or in_order(team, leaves) or is_libero(team, leaves):
        return team
    return with_place(team, index, settled(place, leaves))


def rally_between(
    state: MatchState, entry: Entry, side: Side, number: int | None, moves: bool = False
) -> MatchState:
    """One completed rally must lie between two replacements (FIVB 19.3.2.1).

    A libero who moves straight from one place to another goes out and in without one.
    """
    team = state.teams.of(side)
    if moves or not team.libero_ready:
        state = with_violation(state, entry, "libero_without_rally", side, number)
    return with_team(state, side, team._replace(libero_ready=False))


def may_be_replaced(state: MatchState, side: Side) -> tuple[int, ...]:
    """Return for whom the libero may come in now, who is likeliest first: whom she came in for before,
    then from position 1 to 5, who sets last.

    Nobody while a libero is on court, before a rally was completed since the last replacement (FIVB
    19.3.2.1), or without a libero who may play; in position 1 only where she may serve (19.3.1.3).
    """
    team = state.teams.of(side)
    if status(state) != "in_play" or not free_liberos(team):
        return ()
    ready = [p for p in BACK_ROW if team.libero_ready or exchanges_to_serve(state, side, p)]
    places = (place_at(team, p) for p in ready if p != 1 or side != state.serving or may_serve(state, side))
    numbers = [n for n in (team.places[place].number for place in places) if n is not None]
    setters = setter_numbers(team)
    came = {number: rank for rank, number in enumerate(team.libero_came_for)}
    return tuple(sorted(numbers, key=lambda n: (came.get(n, len(came)), n in setters)))


def free_liberos(team: Team) -> list[int]:
    """Return the liberos who may come in: none while one is on court."""
    if any(place.libero is not None for place in team.places):
        return []
    out = {*team.expelled, *team.disqualified, *team.injured}
    return [n for n in team.liberos if n not in out and not in_order(team, n)]


def exchanges_to_serve(state: MatchState, side: Side, position: int) -> bool:
    """Return whether a libero may come into a position without a rally between: to serve, in some codes."""
    return position == 1 and side == state.serving and state.profile.libero_exchange_to_serve


def may_serve(state: MatchState, side: Side) -> bool:
    """Return whether a libero may serve from position 1: where she may at all, and from one place only."""
    team = state.teams.of(side)
    return state.profile.libero_may_serve and team.libero_served_from in (None, place_at(team, 1))
