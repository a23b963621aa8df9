"""Opponents: what is known of them, their formations, and the call book against them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from cornerwise.engine import bridge
from cornerwise.engine.bridge.hands import Code, signalled
from cornerwise.engine.court import slot_middle_x_m, slot_of
from cornerwise.engine.errors import RuleBroken
from cornerwise.engine.roster import check_lineup, check_ratings
from cornerwise.store import opponents as store
from cornerwise.store.erase import erase
from cornerwise.store.roster_tables import Opponent, OpponentFormation

from . import teams
from .arrays import ARRAYS
from .errors import NoSuchFormation, NoSuchOpponent, TooMany
from .ids import new_id
from .matches import signals

MOST_OPPONENTS = 500  # chosen: some seasons of a large club
COUNTED = 5  # chosen: a missing corner is looked at against so many opponents, those changed last
FIELDS = (
    "level",
    "lineup",
    "setters",
    "setter_position",
    "system",
    "liberos",
    "pass_target",
    "setter_faces",
    "ratings",
    "notes",
)
OF_A_PLAYER = ("position", "x_m", "y_m", "passes", "number")


def page(club: str, after: str | None, limit: int) -> dict[str, Any]:
    """Return opponents by name, with the id to go on from, null at the end."""
    rows = store.page(club, after, limit + 1)
    more = rows[limit - 1][0].id if len(rows) > limit else None
    return {"items": [_listed(row, formations) for row, formations in rows[:limit]], "next": more}


def named(club: str, name: str | None, also: str | None = None) -> dict[str, Any]:
    """Return the opponent of a name as a list of one; empty if there is none, or `also` is another name."""
    wanted = teams.tidy(name)
    row = None if wanted is None or teams.tidy(also) not in (None, wanted) else store.named(club, wanted)
    return {"items": [] if row is None else [_listed(row, len(store.formations([row.id])))], "next": None}


def of_name(club: str, name: str | None) -> dict[str, Any] | None:
    """Return the opponent of a name with its formations, None if there is none."""
    row = None if name is None else store.named(club, teams.tidy(name) or "")
    return None if row is None else described(row, store.formations([row.id]))


def _listed(row: Opponent, formations: int) -> dict[str, Any]:
    return {
        "id": row.id,
        "name": row.name,
        "level": row.level,
        "formations_entered": formations,
        "changed_at": row.changed_at.isoformat(),
    }


def add(club: str, values: Mapping[str, Any]) -> dict[str, Any]:
    """Add an opponent; return it. Raises RuleBroken for a name that is taken, TooMany."""
    if store.count(club) >= MOST_OPPONENTS:
        raise TooMany(f"a club has at most {MOST_OPPONENTS} opponents")
    opponent_id = new_id()
    if not store.add(club, opponent_id, _values(values, {})):
        _refuse_name(values["name"])
    return show(club, opponent_id)


def _values(values: Mapping[str, Any], before: Mapping[str, Any]) -> dict[str, Any]:
    """Return what is to be written, looked at together with what stays as it was."""
    if values.get("pass_slot") is not None:
        values = {**values, "pass_target": _target(values)}
    values = {name: value for name, value in values.items() if name != "pass_slot"}
    whole = {**before, **values}
    check_lineup(whole.get("lineup"), whole.get("liberos") or ())
    check_ratings(whole.get("ratings") or ())
    if "name" not in values:
        return dict(values)
    name = teams.tidy(values["name"])
    if name is None:
        raise RuleBroken("name", values["name"], "a name with letters or digits", "text")
    return {**values, "name": name}


def _target(values: Mapping[str, Any]) -> dict[str, float]:
    """Return the place that a slot and a distance off the net stand for."""
    said = values["pass_slot"]
    if values.get("pass_target") is not None:
        raise RuleBroken("pass_slot", said, "no slot beside a pass target", "one_target")
    return {"x_m": slot_middle_x_m(said["slot"]), "y_m": said["off_net_m"]}


def _refuse_name(name: str) -> None:
    raise RuleBroken("name", name, "a name that no other opponent of the club has", "name_taken")


def found(club: str, opponent_id: str) -> Opponent:
    """Return an opponent. Raises NoSuchOpponent."""
    row = store.find(club, opponent_id)
    if row is None:
        raise NoSuchOpponent
    return row


def show(club: str, opponent_id: str) -> dict[str, Any]:
    """Return an opponent with its formations."""
    return described(found(club, opponent_id), store.formations([opponent_id]))


def described(row: Opponent, formations: Sequence[OpponentFormation]) -> dict[str, Any]:
    """Return an opponent as plain values, in the form that the engine takes."""
    return {
        **_listed(row, len(formations)),
        **{name: getattr(row, name) for name in FIELDS},
        "pass_slot": _slot(row.pass_target),
        "formations": [
            {"setter_position": one.setter_position, "players": one.players} for one in formations
        ],
    }


def _slot(target: Mapping[str, float] | None) -> dict[str, float] | None:
    return None if target is None else {"slot": slot_of(target["x_m"]), "off_net_m": target["y_m"]}


def change(club: str, opponent_id: str, changes: Mapping[str, Any]) -> dict[str, Any]:
    """Change what was given of an opponent; return it."""
    before = described(found(club, opponent_id), ())
    if changes and not store.change(club, opponent_id, _values(changes, before)):
        _refuse_name(changes["name"])
    return show(club, opponent_id)


def remove(club: str, opponent_id: str) -> dict[str, Any]:
    """Delete an opponent with its formations, traces too."""
    found(club, opponent_id)
    store.remove(club, opponent_id)
    return {"id": opponent_id, "traces_gone": erase()}


def formation(club: str, opponent_id: str, setter_position: int) -> dict[str, Any]:
    """Return where their six stand, checked: as entered, else the stock formation, and say which."""
    row = found(club, opponent_id)
    entered = _entered(opponent_id, setter_position)
    asked = {"setter_position": setter_position, "system": row.system}
    if entered is not None:
        asked["players"] = entered
    return {"entered": entered is not None, **bridge.formation(asked)}


def _entered(opponent_id: str, setter_position: int) -> list[dict[str, Any]] | None:
    rows = store.formations([opponent_id])
    return next((row.players for row in rows if row.setter_position == setter_position), None)


def put_formation(
    club: str, opponent_id: str, setter_position: int, given: Mapping[str, Any]
) -> dict[str, Any]:
    """Keep a formation for good: six players, or passers as they were seen in a match, or a stock one.

    Raises RuleBroken when players are out of order, and for what `bridge.formation` refuses.
    """
    row = found(club, opponent_id)
    asked = {"setter_position": setter_position, "system": row.system, **given}
    seen = bridge.formation(asked)
    for breach in seen["breaches"]:
        raise RuleBroken("players", breach["positions"], f"{breach['text']} ({breach['rule']})", "overlap")
    store.put_formations(club, opponent_id, {setter_position: _kept(seen)})
    return formation(club, opponent_id, setter_position)


def _kept(seen: Mapping[str, Any]) -> list[dict[str, Any]]:
    return [{name: player[name] for name in OF_A_PLAYER} for player in seen["players"]]


def remove_formation(club: str, opponent_id: str, setter_position: int) -> dict[str, Any]:
    """Forget a formation; the stock one stands there again."""
    found(club, opponent_id)
    if _entered(opponent_id, setter_position) is None:
        raise NoSuchFormation
    store.remove_formation(opponent_id, setter_position)
    return formation(club, opponent_id, setter_position)


def copy_formation(club: str, opponent_id: str, setter_position: int, to: Sequence[int]) -> dict[str, Any]:
    """Keep a formation for other positions of their setter too, where six players can stand like that.

    Returns {copied, refused}: the formations, and for each position that will not do the reason.
    """
    source = formation(club, opponent_id, setter_position)
    copied, refused = [], []
    for position in dict.fromkeys(to):
        try:
            copied.append(bridge.copied(source, position))
        except RuleBroken as error:
            refused.append({"setter_position": position, "expected": error.expected, "rule": error.rule})
    store.put_formations(club, opponent_id, {one["setter_position"]: _kept(one) for one in copied})
    return {"copied": [{"entered": True, **one} for one in copied], "refused": refused}


def book(club: str, opponent_id: str, team_id: str | None, given: Mapping[str, Any]) -> dict[str, Any]:
    """Return the call book of a team against an opponent; see `bridge.book`.

    team_id : None for the first team by name
    given : serving_first; turn, for one of the six only; lineup, ours, where it is not the usual one
    """
    opponent = show(club, opponent_id)
    team = teams.show(club, team_id or teams.first(club))
    lineup = given.get("lineup") or team["lineup"]
    level = opponent["level"] or team["level"]
    request = {
        "level": level,
        "roster": team["roster"],
        "lineup": lineup,
        "opponent": opponent,
        "serving_first": given.get("serving_first"),
        "turn": given.get("turn"),
    }
    asked = {name: value for name, value in request.items() if value is not None}
    made = bridge.book(asked, ARRAYS)
    code = signals(club, team["name"])
    for rotation in made["rotations"]:
        rotation["calls"] = [_in_code(one, code) for one in rotation["calls"]]
    return {
        "team": {"id": team["id"], "name": team["name"]},
        "opponent": {name: opponent[name] for name in ("id", "name", "notes")},
        **made,
    }


def _in_code(one: Mapping[str, Any], code: Code) -> dict[str, Any]:
    """Return a server's calls in the signals of her team."""
    call = one["call"]
    return {
        **one,
        "call": None if call is None else signalled(call, code),
        "equals": [signalled(option, code) for option in one["equals"]],
    }


def corners(club: str, team_id: str, player_id: str) -> dict[str, Any]:
    """Return what the spots cost that a player cannot use, against the opponents that were changed last."""
    player = teams.player(club, team_id, player_id)
    rows = store.latest(club, COUNTED)
    formations = store.formations([row.id for row in rows])
    opponents = [described(row, [f for f in formations if f.opponent_id == row.id]) for row in rows]
    level = teams.found(club, team_id).level
    asked = {"server": player, "opponents": opponents, **({} if level is None else {"level": level})}
    return bridge.corners(asked, ARRAYS)
