"""A reception formation for one position of their setter: six places, whether they are in order, and how
far each player may be moved. What a screen asks while somebody drags a player."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from cornerwise.engine.court import Point, on_opponents_half
from cornerwise.engine.errors import RuleBroken
from cornerwise.engine.reception import (
    POSITIONS,
    WHOLE_COURT,
    Breach,
    Passer,
    Player,
    Position,
    breaches,
    complete,
    limits,
    setter_row,
    setter_start,
    setting_position,
    stock_formation,
)

from .answer import held_by, limits_fields
from .exact import place, point

RULES = {
    "six_players": "A formation names each of the six positions once.",
    "setter_passes": "Who sets leaves the pass to the others.",
    "player_outside_court": "At the hit every receiver stands inside her own court, lines included.",
}

RULE_NUMBERS = {"y": "FIVB 7.4.3.1", "x": "FIVB 7.4.3.2"}
"""By axis: front and back of a column; left, centre and right of a row."""


def formation(request: Mapping[str, Any]) -> dict[str, Any]:
    """Return six receivers with the box of each, and the pairs that are out of order.

    request : setter_position (of any setter), system, and one of
        players   : six of {position, x_m, y_m, passes, number}: checked as they stand
        passers   : of {x_m, y_m, position, number}, and setter_start: the others are put out of the way
        formation : the name of a stock one, three passers if nothing is given

    Raises RuleBroken for what no six players can stand like; with `players` a pair out of order is an
    answer, not a refusal.
    """
    system = request.get("system", "one_setter")
    setter = setting_position(request["setter_position"], system)
    try:
        players, out_of_order = _players(request, setter)
    except RuleBroken as error:  # said of a call's opponent by the rooms above
        field = error.field.removeprefix("opponent.")
        raise RuleBroken(field, error.value, error.expected, error.rule) from None
    bound_by_all = "players" in request
    return {
        "setter_position": request["setter_position"],
        "setting_position": setter,
        "setter_row": setter_row(setter),
        "system": system,
        "legal": not out_of_order,
        "breaches": [_breach(breach) for breach in out_of_order],
        "players": [_player(players, player, not out_of_order, bound_by_all) for player in players],
    }


def _players(request: Mapping[str, Any], setter: Position) -> tuple[tuple[Player, ...], tuple[Breach, ...]]:
    if "players" in request:
        players = standing(request["players"], setter)
        return players, breaches({p.position: p.place for p in players if p.position is not None})
    start = request.get("setter_start")
    place_of_setter = None if start is None else point(start)
    if "passers" in request:
        passers = [Passer(point(p), p.get("position"), p.get("number")) for p in request["passers"]]
        return complete(passers, setter, place_of_setter or setter_start(setter)), ()
    return stock_formation(setter, request.get("formation", "three"), place_of_setter), ()


def standing(given: Sequence[Mapping[str, Any]], setter: Position) -> tuple[Player, ...]:
    """Return six players as they were given, by position.

    Raises RuleBroken when a position is missing or there twice, a player stands off the court, the one
    who sets passes, or nobody does.
    """
    by_position = {player["position"]: player for player in given}
    if sorted(player["position"] for player in given) != list(POSITIONS):
        positions = [player["position"] for player in given]
        raise RuleBroken("players", positions, "each of the positions 1 to 6 once", "six_players")
    for i, player in enumerate(given):
        if not on_opponents_half(point(player)):
            expected = "a place in their court: x from -4.5 to 4.5 m, y from 0 to 9 m"
            raise RuleBroken(f"players.{i}", place(point(player)), expected, "player_outside_court")
        if player["position"] == setter and player.get("passes", False):
            raise RuleBroken(f"players.{i}.passes", True, "false for the one who sets", "setter_passes")
    if not any(player.get("passes", False) for player in given):
        raise RuleBroken("players", [], "at least one player who passes", "no_passers")
    return tuple(_standing(by_position[position], position, setter) for position in POSITIONS)


def _standing(given: Mapping[str, Any], position: Position, setter: Position) -> Player:
    role = "setter" if position == setter else "passer" if given.get("passes", False) else "other"
    return Player(position, role, point(given), given.get("number"))  # type: ignore[arg-type]


def _breach(breach: Breach) -> dict[str, Any]:
    return {
        "positions": [breach.first, breach.second],
        "axis": breach.axis,
        "rule": RULE_NUMBERS[breach.axis],
        "text": breach.rule,
    }


def _player(
    players: tuple[Player, ...], player: Player, in_order: bool, bound_by_all: bool
) -> dict[str, Any]:
    """Return a player with the box she may be moved in. Those who were put out of the way make room for the
    others; while somebody is out of order there may be no box, so it is the whole court."""
    bound = tuple(p for p in players if bound_by_all or p.role != "other" or p == player)
    index = bound.index(player)
    box = limits(bound, index) if in_order else WHOLE_COURT
    by = held_by(bound, index, box)
    return {
        "position": player.position,
        "number": player.number,
        "role": player.role,
        "passes": player.role == "passer",
        **place(player.place),
        "limits": {**limits_fields(box), "by": by},
    }


def copied(source: Mapping[str, Any], to: int) -> dict[str, Any]:
    """Return a formation for another position of their setter: the same places of passers, the setter at
    her usual start there, positions as the overlap rule allows. `source` : as `formation` returns it.

    Raises RuleBroken when nobody could stand like that there.
    """
    passers = [_place(player) for player in source["players"] if player["passes"]]
    return formation({"setter_position": to, "system": source["system"], "passers": passers})


def _place(player: Mapping[str, Any]) -> dict[str, float]:
    return place(Point(float(player["x_m"]), float(player["y_m"])))
