"""Our own teams and their players: what a coach enters once and uses all season."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from cornerwise.engine.errors import RuleBroken
from cornerwise.engine.roster import check_lineup, check_number, check_serves, check_substitute
from cornerwise.store import teams as store
from cornerwise.store.erase import erase
from cornerwise.store.roster_tables import Player, Team

from .errors import NoSuchPlayer, NoSuchTeam, TooMany
from .ids import new_id

MOST_TEAMS = 200  # chosen: a large club has some 40
MOST_PLAYERS = 60  # chosen: a team has some 15, with those who have left kept
OWN = ("number", "name", "role", "handedness", "reach_m")
OF_A_SERVE = ("kind", "speeds_m_s", "spots", "level", "scatter", "error_ceiling", "next_job")


def tidy(name: str | None) -> str | None:
    """Return a name without needless spaces and line breaks; None if nothing is left."""
    return " ".join((name or "").split()) or None


def page(club: str, after: str | None, limit: int) -> dict[str, Any]:
    """Return teams by name, with the id to go on from, null at the end."""
    rows = store.page(club, after, limit + 1)
    more = rows[limit - 1][0].id if len(rows) > limit else None
    return {"items": [_listed(team, players) for team, players in rows[:limit]], "next": more}


def named(club: str, name: str | None) -> dict[str, Any]:
    """Return the team of a name as a list of one, empty if there is none."""
    team = None if name is None else store.named(club, tidy(name) or "")
    listed = [] if team is None else [_listed(team, len(store.players(club, team.id)))]
    return {"items": listed, "next": None}


def _listed(team: Team, players: int) -> dict[str, Any]:
    return {
        "id": team.id,
        "name": team.name,
        "level": team.level,
        "lineup": team.lineup,
        "players": players,
        "changed_at": team.changed_at.isoformat(),
        "deleting": consequence(players),
    }


def consequence(players: int) -> str:
    """Return what deleting a team means, in words."""
    them = "1 player" if players == 1 else f"{players} players"
    return (
        f"{them} with names and serves would be gone for good, here and on every device that looks again."
        " Matches stay: their logs hold shirt numbers only."
    )


def add(club: str, values: Mapping[str, Any]) -> dict[str, Any]:
    """Add a team; return it. Raises RuleBroken for a name that is taken, TooMany."""
    if store.count(club) >= MOST_TEAMS:
        raise TooMany(f"a club has at most {MOST_TEAMS} teams")
    team_id = new_id()
    if not store.add(club, team_id, _team_values(values)):
        _refuse_name(values["name"])
    return show(club, team_id)


def _team_values(values: Mapping[str, Any]) -> dict[str, Any]:
    check_lineup(values.get("lineup"))
    if "name" not in values:
        return dict(values)
    name = tidy(values["name"])
    if name is None:
        raise RuleBroken("name", values["name"], "a name with letters or digits", "text")
    return {**values, "name": name}


def _refuse_name(name: str) -> None:
    raise RuleBroken("name", name, "a name that no other team of the club has", "name_taken")


def found(club: str, team_id: str) -> Team:
    """Return a team. Raises NoSuchTeam."""
    team = store.find(club, team_id)
    if team is None:
        raise NoSuchTeam
    return team


def first(club: str) -> str:
    """Return the id of the first team by name. Raises NoSuchTeam if there is none."""
    for team, _ in store.page(club, None, 1):
        return team.id
    raise NoSuchTeam


def of_number(club: str, name: str | None, number: int | None) -> dict[str, Any] | None:
    """Return the player with a number in the team of a name, None if there is none."""
    team = None if name is None or number is None else store.named(club, tidy(name) or "")
    if team is None:
        return None
    return next((one for one in players(club, team.id) if one["number"] == number), None)


def show(club: str, team_id: str) -> dict[str, Any]:
    """Return a team with all its players."""
    team = found(club, team_id)
    roster = players(club, team_id)
    return {**_listed(team, len(roster)), "roster": roster}


def change(club: str, team_id: str, changes: Mapping[str, Any]) -> dict[str, Any]:
    """Change a team's name, level or usual line-up; return it."""
    found(club, team_id)
    if changes and not store.change(club, team_id, _team_values(changes)):
        _refuse_name(changes["name"])
    return show(club, team_id)


def remove(club: str, team_id: str) -> dict[str, Any]:
    """Delete a team with its players, traces too."""
    found(club, team_id)
    removed = store.remove(club, team_id)
    return {"id": team_id, "players_removed": removed, "traces_gone": erase()}


def players(club: str, team_id: str) -> list[dict[str, Any]]:
    """Return a team's players by number, each with her serves and whom she may come in for."""
    return described(store.players(club, team_id))


def described(rows: Sequence[Player]) -> list[dict[str, Any]]:
    """Return players as plain values, those of a team together."""
    ids, numbers = [row.id for row in rows], {row.id: row.number for row in rows}
    serves: dict[str, list[dict[str, Any]]] = {player_id: [] for player_id in ids}
    for serve in store.serves(ids):
        serves[serve.player_id].append({name: getattr(serve, name) for name in OF_A_SERVE})
    comes_in: dict[str, list[int]] = {player_id: [] for player_id in ids}
    for enters, leaves in store.substitutes(ids):
        comes_in[enters].append(numbers[leaves])
    return [
        {
            "id": row.id,
            **{name: getattr(row, name) for name in OWN},
            "serves": serves[row.id],
            "comes_in_for": sorted(comes_in[row.id]),
        }
        for row in rows
    ]


def player(club: str, team_id: str, player_id: str) -> dict[str, Any]:
    """Return a player. Raises NoSuchTeam, NoSuchPlayer."""
    found(club, team_id)
    for one in players(club, team_id):
        if one["id"] == player_id:
            return one
    raise NoSuchPlayer


def add_player(club: str, team_id: str, values: Mapping[str, Any]) -> dict[str, Any]:
    """Add a player; return her. Raises RuleBroken for a number that is taken, TooMany."""
    found(club, team_id)
    others = store.players(club, team_id)
    if len(others) >= MOST_PLAYERS:
        raise TooMany(f"a team has at most {MOST_PLAYERS} players")
    player_id = new_id()
    _put(club, team_id, [prepared(player_id, values, others, new=True)])
    return player(club, team_id, player_id)


def change_player(club: str, team_id: str, player_id: str, changes: Mapping[str, Any]) -> dict[str, Any]:
    """Change what was given of a player; return her. Serves are replaced as a whole."""
    before = player(club, team_id, player_id)
    others = [row for row in store.players(club, team_id) if row.id != player_id]
    whole = {"number": before["number"], **changes}
    written = prepared(player_id, whole, others, new=False)
    _put(club, team_id, [written])
    return player(club, team_id, player_id)


def remove_player(club: str, team_id: str, player_id: str) -> dict[str, Any]:
    """Delete a player, traces too. Her number stays in the logs of matches."""
    player(club, team_id, player_id)
    store.remove_player(club, team_id, player_id)
    return {"id": player_id, "traces_gone": erase()}


def prepared(
    player_id: str, values: Mapping[str, Any], others: Iterable[Player], *, new: bool
) -> dict[str, Any]:
    """Return what the store is to write of a player, looked at by the rules.

    values : what was given, her number in any case; others : the team's other players
    """
    ids = {row.number: row.id for row in others}
    number = values["number"]
    check_number(number, list(ids))
    serves, comes_in_for = values.get("serves"), values.get("comes_in_for")
    if serves is not None:
        check_serves(serves)
        serves = [{name: serve.get(name) for name in OF_A_SERVE} for serve in serves]
    if comes_in_for is not None:
        check_substitute(number, comes_in_for, list(ids))
        comes_in_for = [ids[other] for other in dict.fromkeys(comes_in_for)]
    own = {name: values[name] for name in OWN if name in values}
    if "name" in own:
        own["name"] = tidy(own["name"])
    return {"id": player_id, "new": new, "values": own, "serves": serves, "comes_in_for": comes_in_for}


def _put(club: str, team_id: str, written: list[dict[str, Any]]) -> None:
    if not store.put_players(club, team_id, written):  # somebody else was quicker
        number = written[0]["values"]["number"]
        check_number(number, [number])
