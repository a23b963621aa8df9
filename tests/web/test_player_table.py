"""Players as a table: columns guessed, a preview, errors by row and column, all or nothing, and back."""

from __future__ import annotations

from typing import Any

import pytest
from cornerwise.service import player_table, table, teams
from cornerwise.service.player_columns import COLUMNS
from cornerwise.web.parsing import BATCH_LIMIT_BYTES
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

URL = "/api/v1/teams"
TABLE = """Shirt No.;Player;Position;Hand;Reach (cm);Serve;Pace km/h;Spots;Misses in 100;Defends in
4;Ilse Marn;Setter;R;225;Jump float;56;left / middle;12;1
4;;;;;standing float;54;;;
7;"Quill; Runa";Outside hitter;left;2,31 m;jump topspin;72,5 / 80;all;15;5
13;Odile Ash;libero;;;;;;;
"""


@pytest.fixture
def team(bench) -> str:
    return bench.post(URL, json={"name": "First team"}).json["id"]


def sent(bench, team: str, text: str | bytes, query: str = "", csv: bool = True) -> Any:
    url = f"{URL}/{team}/players/import{query}"
    if csv:
        body = text.encode() if isinstance(text, str) else text
        return bench.post(url, data=body, content_type="text/csv")
    return bench.post(url, json={"text": text})


def roster(bench, team: str) -> list[dict[str, Any]]:
    players = bench.get(f"{URL}/{team}").json["roster"]
    return [{name: value for name, value in player.items() if name != "id"} for player in players]


def test_columns_are_guessed_from_their_words_and_shown_with_what_the_table_comes_to(bench, team):
    preview = sent(bench, team, TABLE).json
    assert preview["delimiter"] == ";"
    assert [one["field"] for one in preview["columns"]] == [
        "number", "name", "role", "handedness", "reach_m", "serve", "pace_km_h", "spots",
        "misses_in_100", "next_job",
    ]  # fmt: skip
    assert preview["errors"] == []
    ilse, quill, odile = preview["players"]
    assert (ilse["rows"], ilse["exists"], ilse["values"]["reach_m"]) == ([2, 3], False, 2.25)
    assert [serve["kind"] for serve in ilse["serves"]] == ["jump_float", "standing_float"]
    assert ilse["serves"][0]["speeds_m_s"] == [pytest.approx(15.5556, abs=1e-4)]  # 56 km/h
    assert (ilse["serves"][0]["error_ceiling"], ilse["serves"][0]["next_job"]) == (0.12, 1)
    assert (quill["values"]["name"], quill["values"]["role"]) == ("Quill; Runa", "outside")
    assert quill["serves"][0]["spots"] is None
    assert odile["serves"] is None


def test_nothing_is_imported_until_it_is_accepted(bench, team):
    assert sent(bench, team, TABLE).json["imported"] == 0
    assert roster(bench, team) == []
    assert sent(bench, team, TABLE, "?dry_run=0").json["imported"] == 3
    assert [player["number"] for player in roster(bench, team)] == [4, 7, 13]


def test_pasted_text_and_a_file_say_the_same(bench, team):
    assert sent(bench, team, TABLE, csv=False).json == sent(bench, team, TABLE).json


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16"])
def test_files_of_spreadsheets_are_read_with_their_marks(bench, team, encoding):
    text = "number\tname\n4\tÉlise Åsgård\n"
    preview = sent(bench, team, text.encode(encoding)).json
    assert preview["players"][0]["values"]["name"] == "Élise Åsgård"


def test_a_file_that_is_no_utf_8_is_refused_with_what_to_do(bench, team):
    response = sent(bench, team, "number,name\n4,Élise\n".encode("latin-1"))
    assert response.status_code == 400
    assert "save it as CSV in UTF-8" in response.json["detail"]


@pytest.mark.parametrize("query", ["", "?dry_run=0"])
def test_a_file_over_1_mb_is_refused_whole(bench, team, query):
    row = "4,Ilse\n"
    response = sent(bench, team, "number,name\n" + row * (BATCH_LIMIT_BYTES // len(row)), query)
    assert response.status_code == 413
    assert "1024 KB" in response.json["detail"]
    assert roster(bench, team) == []


BAD = """number,name,reach,serve,spots
4,Ilse,2.25,jump float,left
x7,Runa,2.31,jump float,left
9,Odile,231 feet,jump flot,left corner / attic
"""


def test_what_is_wrong_is_said_by_row_and_column_with_what_was_expected(bench, team):
    errors = sent(bench, team, BAD).json["errors"]
    assert [(one["row"], one["column"], one["value"]) for one in errors] == [
        (3, "number", "x7"),
        (4, "reach_m", "231 feet"),
        (4, "serve", "jump flot"),
        (4, "spots", "left corner / attic"),
    ]
    assert errors[0]["expected"] == "a shirt number from 0 to 99"
    assert errors[1]["expected"] == "a reach from 1.2 to 3 m, or in cm"
    assert "jump float" in errors[2]["expected"]


def test_with_one_bad_row_nothing_is_imported(bench, team):
    response = sent(bench, team, BAD, "?dry_run=0")
    assert response.status_code == 422
    assert [(one["field"], one["rule"]) for one in response.json["errors"]][:2] == [
        ("rows.3.number", "table_cell"),
        ("rows.4.reach_m", "table_cell"),
    ]
    assert roster(bench, team) == []


@pytest.mark.parametrize(
    ("text", "row", "column"),
    [
        ("number,name\n4,Ilse\n4,Runa\n", 3, "name"),
        ("number,serve\n4,jump float\n4,jump float\n", 3, "serve"),
        ("number,pace m/s\n4,15\n", 2, "serve"),
        ("number,serve,across\n4,jump float,0.8\n", 2, "along_m"),
        ("number,comes in for\n4,9\n", 2, "comes_in_for"),
        ("name,role\nIlse,setter\n", 1, None),
        ("number,number\n4,5\n", None, None),
        ("number,name\n,Ilse\n", 2, "number"),
        ("number\n" + "\n".join(map(str, range(61))), None, "number"),
    ],
)
def test_rows_that_do_not_go_together_are_named(bench, team, text, row, column):
    errors = sent(bench, team, text).json["errors"]
    named = [(one["row"], one["column"]) for one in errors]
    assert named == ([] if (row, column) == (None, None) else [(row, column)])


def test_a_player_the_team_has_is_changed_and_an_empty_cell_changes_nothing(bench, team):
    sent(bench, team, TABLE, "?dry_run=0")
    before = {player["number"]: player for player in roster(bench, team)}
    again = "number,name,reach\n4,,2.30\n9,Neve,\n"
    assert [one["exists"] for one in sent(bench, team, again).json["players"]] == [True, False]
    sent(bench, team, again, "?dry_run=0")
    after = {player["number"]: player for player in roster(bench, team)}
    assert after[4] == {**before[4], "reach_m": 2.3}
    assert (after[7], after[9]["name"]) == (before[7], "Neve")


def test_columns_can_be_named_where_the_guess_was_wrong(bench, team):
    text = "No,Nickname,Junk,Pace\n4,Ilse,x,34\n"
    assert [one["field"] for one in sent(bench, team, text).json["columns"]] == [
        "number", None, None, "pace_m_s",
    ]  # fmt: skip
    preview = sent(bench, team, text, "?columns=number,name,,").json
    assert (preview["players"][0]["values"], preview["errors"]) == ({"name": "Ilse"}, [])
    wrong = sent(bench, team, text, "?columns=number,nickname,,")
    assert wrong.status_code == 422


def test_a_pace_without_a_unit_is_taken_for_the_one_that_fits():
    assert player_table.guessed(["number", "pace"], [["4", "15.5"]])[1] == "pace_m_s"
    assert player_table.guessed(["number", "pace"], [["4", "56"]])[1] == "pace_km_h"


@pytest.mark.parametrize(
    "text", ["", "\n\n", "number\n" + "4\n" * 501, ",".join("x" * 61), "number\n" + "4" * 501]
)
def test_a_text_that_is_no_table_of_a_team_is_refused(bench, team, text):
    response = sent(bench, team, text)
    assert response.status_code == 422
    assert response.json["errors"][0]["rule"] == "table"


def test_an_export_cannot_be_run_by_a_spreadsheet(bench, team):
    """OWASP, "CSV Injection": cells that begin with = + - @ or a tab are made text."""
    for number, name in enumerate(("=cmd()", "+1", "-1", "@x", "'=1", "\uff1d1")):
        bench.post(f"{URL}/{team}/players", json={"number": number, "name": name})
    text = bench.get(f"{URL}/{team}/players.csv").get_data(as_text=True)
    cells = [line.split(",")[1] for line in text.splitlines()[1:]]
    assert cells == ["'=cmd()", "'+1", "'-1", "'@x", "''=1", "'\uff1d1"]
    other = bench.post(URL, json={"name": "Second team"}).json["id"]
    sent(bench, other, text, "?dry_run=0")
    assert roster(bench, other) == roster(bench, team)


NAMES = st.none() | st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\0"), max_size=12)
SERVES = st.builds(
    dict,
    kind=st.sampled_from(("underhand", "jump_float", "short_float", "jump_topspin")),
    speeds_m_s=st.none() | st.lists(st.floats(3, 40), min_size=1, max_size=4, unique=True),
    spots=st.none() | st.lists(st.sampled_from(("left_corner", "left", "middle")), min_size=1, unique=True),
    level=st.none() | st.sampled_from(("under_14", "elite_women")),
    scatter=st.none()
    | st.fixed_dictionaries(
        {
            "across_m": st.floats(0.2, 5),
            "along_m": st.floats(0.2, 5),
            "serves": st.none() | st.integers(1, 999),
        }
    ),
    error_ceiling=st.none() | st.floats(0, 1),
    next_job=st.none() | st.sampled_from((1, 5, 6)),
)
PLAYERS = st.lists(
    st.builds(
        dict,
        number=st.integers(0, 99),
        name=NAMES,
        role=st.none() | st.sampled_from(("setter", "libero")),
        handedness=st.none() | st.sampled_from(("left", "right")),
        reach_m=st.none() | st.floats(1.2, 3.0),
        serves=st.lists(SERVES, max_size=3, unique_by=lambda serve: serve["kind"]),
        comes_in_for=st.just([]),
    ),
    max_size=5,
    unique_by=lambda player: player["number"],
)
several = settings(
    max_examples=60,
    deadline=None,
    derandomize=True,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)


@given(PLAYERS)
@several
def test_reading_what_was_written_gives_the_same_players(players):
    for player in players:
        player["name"] = teams.tidy(player["name"])
    if len(players) > 1:
        players[0]["comes_in_for"] = [players[1]["number"]]
    rows = [row for player in players for row in player_table._rows(player)]
    written = [[row.get(name, "") for name in player_table.WRITTEN] for row in rows]
    read = table.read(table.written(player_table.WRITTEN, written))
    chosen = player_table.guessed(read.header, [row for _, row in read.rows])
    assert chosen == list(player_table.WRITTEN)
    notes = player_table.Notes()
    found = player_table._players(list(player_table._cells(read, chosen, notes)), notes)
    assert notes.errors == []
    assert [
        {
            "number": one["number"],
            **dict.fromkeys(player_table.OWN),
            **one["values"],
            "serves": one["serves"] or [],
            "comes_in_for": one["comes_in_for"] or [],
        }
        for one in found
    ] == players


FRAGMENTS = st.sampled_from(
    [*COLUMNS, "4", "7", ",", ";", "\t", "\n", "\r", '"', "'", "=", "left", "1e999", "½", "²"]
)


@given(st.binary(max_size=80) | st.lists(FRAGMENTS, max_size=40).map(lambda one: "".join(one).encode()))
@several
def test_no_bytes_whatever_bring_the_import_down(bench, team, body):
    for query in ("", "?dry_run=0"):
        assert sent(bench, team, body, query).status_code in (200, 400, 422)
