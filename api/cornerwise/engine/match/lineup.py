"""Line-ups: how a side starts a set, and how its order is put right by hand."""

from __future__ import annotations

from dataclasses import replace

from cornerwise.engine.match.events import Lineup, LineupCorrected, ServerCorrected, TeamSheet
from cornerwise.engine.match.rotation import (
    libero_place,
    place_at,
    regular_place,
    rotated,
    settled,
    turned_to,
    with_place,
    with_setter_in,
    written,
)
from cornerwise.engine.match.state import MatchState, Place, ServingTurn, Team, with_team
from cornerwise.engine.match.terms import POSITIONS


def team_at_set_start(before: Team, sheet: TeamSheet) -> Team:
    """Return a side at the start of a set: the sheet's line-up; what the sheet leaves open as before.

    Who was disqualified or replaced exceptionally stays out, and formations seen are kept.
    """
    numbers = [number for number in sheet.lineup if number is not None]
    carried = tuple(number for number in before.liberos if number not in numbers)
    team = Team(
        places=tuple(Place(number=number, starter=number) for number in sheet.lineup),
        setters=before.setters if sheet.setters is None else sheet.setters,
        system=before.system if sheet.system is None else sheet.system,
        liberos=carried if sheet.liberos is None else sheet.liberos,
        libero_came_for=before.libero_came_for,
        disqualified=before.disqualified,
        injured=before.injured,
        formations=before.formations,
    )
    return team if sheet.setter_position is None else with_setter_in(team, sheet.setter_position)


def lineup_corrected(state: MatchState, event: LineupCorrected) -> MatchState:
    """The order is put right: liberos, setters, system, rotation, numbers, setter's position, in turn."""
    team = state.teams.of(event.side)
    if event.liberos is not None:
        team = with_liberos(team, event.liberos)
    if event.setters is not None:
        team = team._replace(setters=event.setters)
    if event.system is not None:
        team = team._replace(system=event.system)
    team = rotated(team, event.rotate or 0)
    if event.lineup is not None:
        team = with_numbers(team, event.lineup)
    if event.setter_position is not None:
        team = with_setter_in(team, event.setter_position)
    return with_team(state, event.side, team)


def with_liberos(team: Team, liberos: tuple[int, ...]) -> Team:
    """Return the side with its liberos told; one taken for a regular player stands in for an unknown one."""
    team = team._replace(liberos=liberos)
    for index, place in enumerate(team.places):
        if place.number in liberos and place.number is not None:
            libero = place.number if place.libero is None else place.libero
            team = with_place(team, index, replace(settled(place, None), libero=libero))
    return team


def with_numbers(team: Team, lineup: Lineup) -> Team:
    """Return the side with the numbers of a line-up written into the positions as they are now."""
    for position, number in zip(POSITIONS, lineup, strict=True):
        if number is not None:
            team = written(team, place_at(team, position), number)
    return team


def server_corrected(state: MatchState, event: ServerCorrected) -> MatchState:
    """A side serves, and the player named, if any: her side is turned, or she is written into position 1."""
    state = state._replace(serving=event.side, turn=ServingTurn())
    if event.number is None:
        return state
    team = state.teams.of(event.side)
    index = libero_place(team, event.number)
    if index is None:
        index = regular_place(team, event.number)
    if index is None:
        return with_team(state, event.side, written(team, place_at(team, 1), event.number))
    return with_team(state, event.side, turned_to(team, (index,), 1))
