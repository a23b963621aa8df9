"""Rotation: which place of the serving order stands in which position, and what follows from it.

A side's order is fixed through the set; it rotates one place clockwise each time it gains the
service (FIVB 7.6.2, 12.2.2.2): 2 to 1, 1 to 6, 6 to 5, 5 to 4, 4 to 3, 3 to 2. So the position of a
player is her place in the order less the number of rotations.
"""

from __future__ import annotations

from dataclasses import replace

from cornerwise.engine.match.state import Place, Team
from cornerwise.engine.match.terms import FRONT_ROW, POSITIONS

BACK_ROW = (1, 6, 5)  # FIVB 7.4.1, in the order in which a player comes to them


def place_at(team: Team, position: int) -> int:
    """Return the place, 0 to 5, whose player stands in position 1 to 6 now."""
    return (team.rotation + position - 1) % 6


def position_of(team: Team, place: int) -> int:
    """Return the position, 1 to 6, in which the player of place 0 to 5 stands now."""
    return (place - team.rotation) % 6 + 1


def rotated(team: Team, steps: int = 1) -> Team:
    """Return the side rotated clockwise by some steps; negative steps go back."""
    return team._replace(rotation=(team.rotation + steps) % 6)


def turned_to(team: Team, places: tuple[int, ...], position: int) -> Team:
    """Return the side rotated forward by the fewest steps that bring one of these places to a position."""
    steps = min((place - place_at(team, position)) % 6 for place in places)
    return rotated(team, steps)


def on_court(place: Place) -> int | None:
    """Return the number of who stands in a place: the libero, if there is one, else the regular player."""
    return place.number if place.libero is None else place.libero


def regular_place(team: Team, number: int | None) -> int | None:
    """Return the place whose regular player has this number, or None."""
    return next((i for i, p in enumerate(team.places) if number is not None and p.number == number), None)


def libero_place(team: Team, number: int | None) -> int | None:
    """Return the place in which this number stands as libero, or None."""
    return next((i for i, p in enumerate(team.places) if number is not None and p.libero == number), None)


def in_order(team: Team, number: int) -> bool:
    """Return whether a number is the regular player or the libero of some place."""
    return any(number in (place.number, place.libero) for place in team.places)


def is_libero(team: Team, number: int | None) -> bool:
    """Return whether a number is one of the side's liberos, or stands as libero."""
    return number in team.liberos or libero_place(team, number) is not None


def unknown_places(team: Team) -> list[int]:
    """Return the places whose regular player is unknown."""
    return [i for i, place in enumerate(team.places) if place.number is None]


def with_place(team: Team, index: int, place: Place) -> Team:
    """Return the side with one place of its order replaced."""
    return team._replace(places=(*team.places[:index], place, *team.places[index + 1 :]))


def settled(place: Place, number: int | None, inferred: bool = False) -> Place:
    """Return a place with its regular player told, who also started there unless somebody was substituted."""
    starter = place.starter if place.substituted else number
    return replace(place, number=number, inferred=inferred and number is not None, starter=starter)


def without_libero(team: Team, number: int) -> Team:
    """Return the side with this libero off the court."""
    index = libero_place(team, number)
    return team if index is None else with_place(team, index, replace(team.places[index], libero=None))


def written(team: Team, index: int, number: int) -> Team:
    """Return the side with a number written into a place, by hand.

    A libero stands in for the place's regular player. The regular player of another place exchanges
    with the one displaced. No number is in the order twice.
    """
    if is_libero(team, number):
        team = without_libero(team, number)
        return with_place(team, index, replace(team.places[index], libero=number))
    place = replace(team.places[index], libero=None)
    elsewhere = regular_place(team, number)
    if elsewhere == index:
        return with_place(team, index, replace(place, inferred=False))
    if elsewhere is not None:
        team = with_place(team, elsewhere, settled(team.places[elsewhere], place.number, inferred=True))
    return with_place(team, index, settled(place, number))


def setter_places(team: Team) -> tuple[int, ...]:
    """Return the places of the setters: those on court with a setter's number, else the marked ones."""
    by_number = tuple(i for i, place in enumerate(team.places) if on_court(place) in team.setters)
    return by_number or team.marked


def setter_numbers(team: Team) -> set[int | None]:
    """Return the numbers of those who set, as far as they are known."""
    return {team.places[place].number for place in setter_places(team)}


def setters_by_number(team: Team) -> bool:
    """Return whether a player on court has a setter's number."""
    return any(on_court(place) in team.setters for place in team.places)


def setter_positions(team: Team) -> tuple[int, ...]:
    """Return the positions of the setters, ascending; empty when unknown."""
    return tuple(sorted(position_of(team, place) for place in setter_places(team)))


def setter_position(team: Team) -> int | None:
    """Return the position of the setter who sets: with two setters the one whose row sets."""
    positions = setter_positions(team)
    row = {"two_setters_back_sets": BACK_ROW, "two_setters_front_sets": FRONT_ROW}.get(team.system, POSITIONS)
    return next((p for p in positions if p in row), positions[0] if positions else None)


def with_setter_in(team: Team, position: int) -> Team:
    """Return the side with its setter in a position, as it was seen.

    With a setter's number on court the order has slipped: the side is turned. Otherwise the place is
    marked (two setters: the opposite one too), and the only setter known by number is inferred there.
    """
    if setters_by_number(team):
        return turned_to(team, setter_places(team), position)
    index = place_at(team, position)
    marked = (index,) if team.system == "one_setter" else (index, (index + 3) % 6)
    team = team._replace(marked=marked)
    place = team.places[index]
    if on_court(place) is not None or len(team.setters) != 1 or is_libero(team, team.setters[0]):
        return team
    number = team.setters[0]
    return team if in_order(team, number) else with_place(team, index, settled(place, number, inferred=True))
