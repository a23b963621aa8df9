"""What is refused of a roster or an opponent: shapes are looked at before, these are the rules."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from cornerwise.engine.errors import RuleBroken

RULES: dict[str, str] = {
    "number_taken": "In a team no two players have the same number.",
    "name_taken": "No two teams of a club, and no two of its opponents, have the same name.",
    "no_such_number": "A number stands for a player of this team.",
    "own_substitute": "Nobody comes in to serve for herself.",
    "kind_twice": "A player has each kind of serve once.",
    "twice_in_lineup": "A number stands once in a line-up, and no libero in it.",
    "rated_twice": "A passer has one rating: a word, or a mean pass grade.",
    "one_target": "Where passes go is said once: as a place, or as a slot and a distance off the net.",
    "table": "A table is text with a header, rows of cells and closed quotes, within its limits.",
    "table_cell": "A cell of a table holds what its column takes.",
}
"""Rule name: one sentence."""


def check_serves(serves: Sequence[Mapping[str, Any]], field: str = "serves") -> None:
    """Raise RuleBroken for a kind of serve that is there twice."""
    kinds: list[str] = []
    for i, serve in enumerate(serves):
        if serve["kind"] in kinds:
            expected = f"another kind than serve {kinds.index(serve['kind']) + 1} has"
            raise RuleBroken(f"{field}.{i}.kind", serve["kind"], expected, "kind_twice")
        kinds.append(serve["kind"])


def check_substitute(number: int, comes_in_for: Sequence[int], numbers: Sequence[int]) -> None:
    """Raise RuleBroken unless a player comes in for others of her team.

    numbers : of all players of the team
    """
    for i, other in enumerate(comes_in_for):
        if other == number:
            raise RuleBroken(f"comes_in_for.{i}", other, "another player's number", "own_substitute")
        if other not in numbers:
            raise RuleBroken(
                f"comes_in_for.{i}", other, "the number of a player of this team", "no_such_number"
            )


def check_number(number: int, taken: Sequence[int], field: str = "number") -> None:
    """Raise RuleBroken for a number that another player of the team has."""
    if number in taken:
        expected = "a number that no other player of this team has"
        raise RuleBroken(field, number, expected, "number_taken")


def check_lineup(lineup: Sequence[int | None] | None, liberos: Sequence[int] = ()) -> None:
    """Raise RuleBroken for a number that is in a line-up twice, or there beside being a libero's."""
    seen: list[int] = []
    for i, number in enumerate(lineup or ()):
        if number is None:
            continue
        if number in seen or number in liberos:
            expected = "a number that is not in the line-up yet" if number in seen else "no libero"
            raise RuleBroken(f"lineup.{i}", number, expected, "twice_in_lineup")
        seen.append(number)


def check_ratings(ratings: Sequence[Mapping[str, Any]]) -> None:
    """Raise RuleBroken for a passer who is rated twice, or both in a word and by a mean grade."""
    seen: list[int] = []
    for i, one in enumerate(ratings):
        if one["number"] in seen:
            expected = "a number that is not rated yet"
            raise RuleBroken(f"ratings.{i}.number", one["number"], expected, "rated_twice")
        seen.append(one["number"])
        if one.get("rating") is not None and one.get("pass_grade") is not None:
            expected = "no word beside a mean pass grade"
            raise RuleBroken(f"ratings.{i}.rating", one["rating"], expected, "rated_twice")
