"""A team's players as a table for any spreadsheet: read with a preview, kept all at once or not at all, and
written so that reading it again gives the same."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from cornerwise.engine.errors import RuleBroken
from cornerwise.store import teams as store
from cornerwise.store.tables import LONGEST_NAME

from . import table, teams
from .ids import new_id
from .player_columns import COLUMNS, READERS, Unreadable, guessed

OWN = ("name", "role", "handedness", "reach_m")
PACES = ("pace_m_s", "pace_km_h", "pace_mph")
OF_A_SERVE = (
    *PACES, "spots", "level", "across_m", "along_m", "measured_serves",
    "error_ceiling", "misses_in_100", "next_job",
)  # fmt: skip
WRITTEN = tuple(name for name in COLUMNS if name not in ("pace_km_h", "pace_mph", "misses_in_100"))
Cells = dict[str, Any]


class Notes:
    """What is wrong in a table, by row and column."""

    def __init__(self) -> None:
        self.errors: list[dict[str, Any]] = []

    def add(self, row: int | None, column: str | None, value: Any, expected: str) -> None:
        self.errors.append({"row": row, "column": column, "value": value, "expected": expected})


def take(
    club: str, team_id: str, text: str, columns: Sequence[str | None] | None, *, dry_run: bool
) -> dict[str, Any]:
    """Return what a table of players comes to, and keep it, unless something is wrong or it is a dry run.

    columns : which column each header stands for, None for none; guessed if not given

    Whoever has a number of the team is changed, others are added; an empty cell changes nothing. Several
    rows with one number are serves of one player, and replace those she had.

    Raises NoSuchTeam, and RuleBroken for a text that is no table.
    """
    teams.found(club, team_id)
    read = table.read(text)
    chosen = guessed(read.header, [row for _, row in read.rows]) if columns is None else list(columns)
    chosen = [*chosen, *[None] * len(read.header)][: len(read.header)]
    notes = Notes()
    _check_columns(chosen, notes)
    players = _players(list(_cells(read, chosen, notes)), notes)
    before = store.players(club, team_id)
    numbers = {row.number: row.id for row in before}
    _check_together(players, numbers, notes)
    imported = 0
    if not notes.errors and not dry_run:
        imported = _keep(club, team_id, players, numbers)
    return {
        "delimiter": read.delimiter,
        "columns": [
            {"header": header, "field": field} for header, field in zip(read.header, chosen, strict=True)
        ],
        "players": [{**one, "exists": one["number"] in numbers} for one in players],
        "errors": notes.errors,
        "imported": imported,
    }


def _check_columns(chosen: Sequence[str | None], notes: Notes) -> None:
    if "number" not in chosen:
        notes.add(1, None, None, "a column with the shirt numbers, e.g. number")
    for i, column in enumerate(chosen):
        if column is not None and column != "name" and column in chosen[:i]:
            notes.add(1, column, i + 1, "one column for this")
    paces = [column for column in PACES if column in chosen]
    if len(paces) > 1:
        notes.add(1, paces[1], None, "the pace in one unit only")


def _cells(read: table.Table, chosen: Sequence[str | None], notes: Notes) -> Iterator[tuple[int, Cells]]:
    """Yield each row's number with what its cells say; what cannot be read is noted and left out."""
    for number, row in read.rows:
        found: Cells = {}
        for column, text in zip(chosen, row, strict=False):
            if column is None or not text:
                continue
            try:
                value = READERS[column](text)
            except Unreadable as error:
                notes.add(number, column, text, str(error))
                continue
            value = f"{found[column]} {value}" if column in found else value
            if column == "name" and len(value) > LONGEST_NAME:
                notes.add(
                    number, column, text, f"at most {LONGEST_NAME} characters, all its columns together"
                )
                continue
            found[column] = value
        if "number" in found:
            yield number, found
        elif "number" in chosen and not _noted(notes, number, "number"):
            notes.add(number, "number", "", "a shirt number from 0 to 99")


def _noted(notes: Notes, row: int, column: str) -> bool:
    return any(error["row"] == row and error["column"] == column for error in notes.errors)


def _players(rows: Sequence[tuple[int, Cells]], notes: Notes) -> list[dict[str, Any]]:
    """Return the players that rows come to, in the order of their first rows."""
    players: dict[int, dict[str, Any]] = {}
    for row, cells in rows:
        empty = {"number": cells["number"], "rows": [], "values": {}, "serves": None, "comes_in_for": None}
        player = players.setdefault(cells["number"], empty)
        player["rows"].append(row)
        for name in OWN:
            if name in cells and player["values"].setdefault(name, cells[name]) != cells[name]:
                expected = f"the same as in row {player['rows'][0]}, or nothing"
                notes.add(row, name, str(cells[name]), expected)
        if "comes_in_for" in cells:
            player["comes_in_for"] = [*(player["comes_in_for"] or ()), *cells["comes_in_for"]]
        _add_serve(player, row, cells, notes)
    return list(players.values())


def _add_serve(player: dict[str, Any], row: int, cells: Cells, notes: Notes) -> None:
    if "serve" not in cells:
        said = next((name for name in OF_A_SERVE if name in cells), None)
        if said is not None and not _noted(notes, row, "serve"):
            notes.add(row, "serve", "", "the kind of serve that this row is about")
        return
    serves = player["serves"] = player["serves"] or []
    if any(serve["kind"] == cells["serve"] for serve in serves):
        notes.add(row, "serve", cells["serve"], "each kind of serve of a player once")
        return
    if ("across_m" in cells) != ("along_m" in cells):
        lacks = "along_m" if "across_m" in cells else "across_m"
        if not _noted(notes, row, lacks):
            notes.add(row, lacks, "", "scatter across and along together")
        return
    serves.append(_serve(cells))


def _serve(cells: Cells) -> dict[str, Any]:
    scatter = None
    if "across_m" in cells:
        scatter = {
            "across_m": cells["across_m"],
            "along_m": cells["along_m"],
            "serves": cells.get("measured_serves"),
        }
    return {
        "kind": cells["serve"],
        "speeds_m_s": next((cells[name] for name in PACES if name in cells), None),
        "spots": cells.get("spots"),
        "level": cells.get("level"),
        "scatter": scatter,
        "error_ceiling": cells.get("error_ceiling", cells.get("misses_in_100")),
        "next_job": cells.get("next_job"),
    }


def _check_together(players: Sequence[Mapping[str, Any]], numbers: Mapping[int, str], notes: Notes) -> None:
    """Note who comes in for herself or for nobody, and too many players."""
    everyone = {*numbers, *(player["number"] for player in players)}
    for player in players:
        for other in player["comes_in_for"] or ():
            if other == player["number"] or other not in everyone:
                notes.add(player["rows"][0], "comes_in_for", other, "the number of another player")
    if len(everyone) > teams.MOST_PLAYERS:
        expected = f"at most {teams.MOST_PLAYERS} players in a team, those it has counted"
        notes.add(None, "number", len(everyone), expected)


def _keep(club: str, team_id: str, players: Sequence[Mapping[str, Any]], numbers: Mapping[int, str]) -> int:
    ids = {**{player["number"]: new_id() for player in players}, **numbers}
    rows = [
        {
            "id": ids[player["number"]],
            "new": player["number"] not in numbers,
            "values": _tidy({"number": player["number"], **player["values"]}),
            "serves": player["serves"],
            "comes_in_for": None
            if player["comes_in_for"] is None
            else [ids[other] for other in dict.fromkeys(player["comes_in_for"])],
        }
        for player in players
    ]
    if not store.put_players(club, team_id, rows):  # somebody else was quicker
        raise RuleBroken("text", "", "numbers that nobody else is adding just now: try again", "number_taken")
    return len(rows)


def _tidy(values: Mapping[str, Any]) -> dict[str, Any]:
    return {**values, **({"name": teams.tidy(values["name"])} if "name" in values else {})}


def export(club: str, team_id: str) -> str:
    """Return a team's players as a table, a row for each serve; `take` reads it."""
    teams.found(club, team_id)
    rows = (row for player in teams.players(club, team_id) for row in _rows(player))
    return table.written(WRITTEN, ([row.get(name, "") for name in WRITTEN] for row in rows))


def _rows(player: Mapping[str, Any]) -> Iterator[Cells]:
    own = {"number": player["number"], **{name: player[name] for name in OWN}}
    own["comes_in_for"] = " / ".join(map(str, player["comes_in_for"]))
    serves = [_serve_cells(serve) for serve in player["serves"]]
    yield _given({**own, **(serves[0] if serves else {})})
    yield from ({"number": player["number"], **serve} for serve in map(_given, serves[1:]))


def _serve_cells(serve: Mapping[str, Any]) -> Cells:
    scatter = serve["scatter"] or {}
    return {
        "serve": serve["kind"].replace("_", " "),
        "pace_m_s": " / ".join(str(speed) for speed in serve["speeds_m_s"] or ()),
        "spots": " / ".join(name.replace("_", " ") for name in serve["spots"] or ()),
        "level": (serve["level"] or "").replace("_", " "),
        "across_m": scatter.get("across_m"),
        "along_m": scatter.get("along_m"),
        "measured_serves": scatter.get("serves"),
        "error_ceiling": serve["error_ceiling"],
        "next_job": serve["next_job"],
    }


def _given(cells: Cells) -> Cells:
    return {name: value for name, value in cells.items() if value is not None}
