"""Our own teams over HTTP: players by number, serves, serving substitutes, and what goes with a deletion."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import sqlalchemy as sa
from cornerwise.store.clubs import keep_signals, signals
from cornerwise.store.roster_tables import Player, Serve, ServingSubstitute
from cornerwise.store.tables import db

URL = "/api/v1/teams"
FLOAT = {"kind": "jump_float", "speeds_m_s": [15.5], "spots": ["left", "middle"], "next_job": 1}


def made(bench, name: str = "First team", **more: Any) -> str:
    response = bench.post(URL, json={"name": name, **more})
    assert response.status_code == 201, response.json
    return response.json["id"]


def added(bench, team: str, number: int, **more: Any) -> dict[str, Any]:
    response = bench.post(f"{URL}/{team}/players", json={"number": number, **more})
    assert response.status_code == 201, response.json
    return response.json


def refusals(response) -> list[tuple[str, Any, str]]:
    assert response.status_code == 422
    return [(error["field"], error["value"], error["rule"]) for error in response.json["errors"]]


def test_a_number_suffices_for_a_player(bench):
    player = added(bench, made(bench), 7)
    assert player["id"][14] == "7"  # the version of its UUID
    del player["id"]
    assert player == {
        "number": 7, "name": None, "role": None, "handedness": None, "reach_m": None,
        "serves": [], "comes_in_for": [],
    }  # fmt: skip


def test_a_player_has_her_serves_in_her_order_and_what_is_not_said_is_null(bench):
    team = made(bench)
    player = added(bench, team, 4, name="  Ilse \n Marn ", serves=[FLOAT, {"kind": "standing_float"}])
    assert player["name"] == "Ilse Marn"
    nothing = {"level": None, "scatter": None, "error_ceiling": None}
    assert player["serves"] == [
        {**nothing, **FLOAT},
        {**nothing, "kind": "standing_float", "speeds_m_s": None, "spots": None, "next_job": None},
    ]
    assert bench.get(f"{URL}/{team}").json["roster"] == [player]


def test_what_is_not_given_in_a_change_stays(bench):
    team = made(bench)
    before = added(bench, team, 4, role="setter", reach_m=2.25, serves=[FLOAT])
    url = f"{URL}/{team}/players/{before['id']}"
    assert bench.patch(url, json={"reach_m": 2.3}).json == {**before, "reach_m": 2.3}
    assert bench.patch(url, json={"role": None}).json == {**before, "reach_m": 2.3, "role": None}
    assert bench.patch(url, json={"serves": []}).json["serves"] == []


def test_a_number_that_another_player_has_is_refused_by_its_field(bench):
    team = made(bench)
    added(bench, team, 4)
    other = added(bench, team, 5)
    again = bench.post(f"{URL}/{team}/players", json={"number": 4})
    assert refusals(again) == [("number", 4, "number_taken")]
    moved = bench.patch(f"{URL}/{team}/players/{other['id']}", json={"number": 4})
    assert refusals(moved) == [("number", 4, "number_taken")]
    assert added(bench, made(bench, "Second team"), 4)["number"] == 4


@pytest.mark.parametrize(
    ("values", "refused"),
    [
        ({"serves": [FLOAT, FLOAT]}, ("serves.1.kind", "jump_float", "kind_twice")),
        ({"comes_in_for": [7]}, ("comes_in_for.0", 7, "own_substitute")),
        ({"comes_in_for": [4, 8]}, ("comes_in_for.1", 8, "no_such_number")),
        ({"reach_m": 225}, ("reach_m", 225, "schema")),
        ({"serves": [{**FLOAT, "next_job": 2}]}, ("serves.0.next_job", 2, "schema")),
    ],
)
def test_what_does_not_fit_a_player_is_refused_by_its_field(bench, values, refused):
    team = made(bench)
    added(bench, team, 4)
    response = bench.post(f"{URL}/{team}/players", json={"number": 7, **values})
    assert refusals(response) == [refused]
    assert [player["number"] for player in bench.get(f"{URL}/{team}").json["roster"]] == [4]


def test_two_teams_of_a_club_have_different_names(bench):
    made(bench, "First team")
    other = made(bench, "Second team")
    again = bench.post(URL, json={"name": " First  team"})
    assert refusals(again) == [("name", " First  team", "name_taken")]
    taken = bench.patch(f"{URL}/{other}", json={"name": "First team"})
    assert refusals(taken) == [("name", "First team", "name_taken")]


def test_a_number_stands_once_in_a_line_up(bench):
    twice = {"name": "First team", "lineup": [4, 11, 7, None, 4, 9]}
    assert refusals(bench.post(URL, json=twice)) == [("lineup.4", 4, "twice_in_lineup")]


def test_a_deleted_player_is_gone_from_every_row_and_from_the_substitutes(bench):
    team = made(bench)
    star = added(bench, team, 4, name="Ilse Marn", serves=[FLOAT])
    added(bench, team, 21, comes_in_for=[4])
    answer = bench.delete(f"{URL}/{team}/players/{star['id']}").json
    assert answer == {"id": star["id"], "traces_gone": True}
    assert [one["comes_in_for"] for one in bench.get(f"{URL}/{team}").json["roster"]] == [[]]
    assert bench.get(f"{URL}/{team}/players/{star['id']}").status_code == 404
    for table in (Player, Serve, ServingSubstitute):
        rows = db.session.execute(sa.select(table.__table__)).all()
        assert "Ilse" not in repr(rows)


def everything_held() -> bytes:
    """Return the bytes of SQLite's files, or every live row of PostgreSQL."""
    if db.engine.dialect.name == "sqlite":
        files = [Path(f"{db.engine.url.database}{end}") for end in ("", "-wal")]
        return b"".join(file.read_bytes() for file in files if file.exists())
    rows = [db.session.execute(sa.select(table)).all() for table in db.metadata.sorted_tables]
    return repr(rows).encode()


def test_a_deleted_players_name_is_absent_from_all_that_the_database_holds(bench):
    team = made(bench)
    player = added(bench, team, 4, name="Zephyrine Quillfeather")
    added(bench, team, 5, name="Odile Ash")
    assert b"Zephyrine" in everything_held()
    bench.delete(f"{URL}/{team}/players/{player['id']}")
    assert b"Odile Ash" in everything_held()
    assert b"Zephyrine" not in everything_held()


def test_a_deleted_players_name_is_in_no_export_and_her_team_has_changed(bench):
    """So that every device which keeps the team fetches it anew, and her name goes from there too."""
    team = made(bench)
    added(bench, team, 5, name="Odile Ash")
    player = added(bench, team, 4, name="Zephyrine Quillfeather", serves=[FLOAT])
    listed = bench.get(URL).json["items"][0]
    exports = (f"{URL}/{team}/players.csv", "/api/v1/club/export")
    assert all("Zephyrine" in bench.get(path).text for path in exports)
    bench.delete(f"{URL}/{team}/players/{player['id']}")
    now = bench.get(URL).json["items"][0]
    assert now["changed_at"] > listed["changed_at"]
    for path in exports:
        assert "Odile Ash" in bench.get(path).text
        assert "Zephyrine" not in bench.get(path).text


def test_a_deleted_team_takes_its_players_with_it(bench):
    team = made(bench)
    added(bench, team, 4, serves=[FLOAT])
    added(bench, team, 21, comes_in_for=[4])
    listed = bench.get(URL).json["items"][0]
    assert (listed["players"], listed["deleting"][:9]) == (2, "2 players")
    assert bench.delete(f"{URL}/{team}").json["players_removed"] == 2
    assert bench.get(URL).json == {"items": [], "next": None}
    assert db.session.scalar(sa.select(sa.func.count()).select_from(Player)) == 0


def test_another_clubs_team_is_not_there(new_coach):
    mine, theirs = new_coach("Quarry Lane", "Ida Brook"), new_coach("Harbour Street", "Mo Fenn")
    team = made(mine)
    player = added(mine, team, 4)
    for path in (team, f"{team}/players/{player['id']}", f"{team}/players.csv"):
        said = [theirs.get(f"{URL}/{one}") for one in (path, path.replace(team, player["id"]))]
        assert [one.status_code for one in said] == [404, 404]
        assert said[0].json == said[1].json
    assert theirs.get(URL).json["items"] == []


def test_a_team_that_is_renamed_keeps_the_code_of_its_hands(bench):
    team = made(bench, "First team")
    keep_signals(bench.club, "First team", {"spot": {}})
    assert bench.patch(f"{URL}/{team}", json={"name": "Firsts"}).status_code == 200
    assert (signals(bench.club, "Firsts"), signals(bench.club, "First team")) == ({"spot": {}}, None)
    made(bench, "Seconds")
    assert bench.patch(f"{URL}/{team}", json={"name": "Seconds"}).status_code == 422
    assert signals(bench.club, "Firsts") == {"spot": {}}
