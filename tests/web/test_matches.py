"""Matches over HTTP: begun, listed, renamed, deleted; opponents met before; a team's own signals."""

from __future__ import annotations

import copy
from typing import Any

import pytest
from cornerwise.engine.match import format_entry
from cornerwise.engine.match.events import Event, MatchOpened, RallyWon, SetStarted, TeamSheet
from cornerwise.engine.match.logbook import logged

URL = "/api/v1/matches"
MINE = "01900000-0000-7000-8000-0000000000aa"


def begun(bench, **match: Any) -> dict[str, Any]:
    response = bench.post(URL, json=match)
    assert response.status_code == 201
    return response.json


def sent(bench, match_id: str, *events: Event) -> None:
    batch = [format_entry(entry) for entry in logged(*events)]
    answer = bench.post(f"{URL}/{match_id}/events", json={"events": batch}).json
    assert len(answer["accepted"]) == len(batch)


def delete_all(bench) -> None:
    for match in bench.get(URL).json["items"]:
        assert bench.delete(f"{URL}/{match['id']}").status_code == 200


def test_a_match_begins_with_nothing_known(bench):
    match = begun(bench)
    assert match["id"][14] == "7"  # the version of its UUID
    assert (match["name"], match["us"], match["them"], match["demo"]) == (None, None, None, False)
    assert (match["status"], match["set_number"], match["position"]) == ("before", 0, 0)
    assert bench.get(f"{URL}/{match['id']}").json == match


def test_a_match_that_a_device_begins_twice_is_one(bench):
    match = begun(bench, id=MINE, name="Cup")
    again = bench.post(URL, json={"id": MINE, "name": "Cup, typed again"})
    assert (again.status_code, again.json) == (200, match)
    assert [one["id"] for one in bench.get(URL).json["items"]].count(MINE) == 1


def test_the_list_says_where_each_match_stands_by_its_log(bench):
    match_id = begun(bench, name="Cup")["id"]
    opened = MatchOpened(us="Quarry Lane", them="Harbour Street", level="college")
    sent(bench, match_id, opened, SetStarted("us"), RallyWon("us"), RallyWon("them"), RallyWon("them"))
    match = bench.get(URL).json["items"][0]
    assert (match["us"], match["them"], match["level"]) == ("Quarry Lane", "Harbour Street", "college")
    assert (match["status"], match["points"], match["sets"]) == (
        "in_play", {"us": 1, "them": 2}, {"us": 0, "them": 0},
    )  # fmt: skip
    assert match["position"] == 5


def test_matches_are_listed_newest_first_in_pages_without_gap_or_repeat(bench):
    delete_all(bench)
    ids = [begun(bench, name=f"match {n}")["id"] for n in range(7)]
    seen, before = [], ""
    for _ in range(4):
        page = bench.get(f"{URL}?limit=3{before}").json
        seen += [match["id"] for match in page["items"]]
        if page["next"] is None:
            break
        before = f"&before={page['next']}"
    assert seen == ids[::-1]


def test_a_page_goes_on_where_it_was_though_the_match_before_it_was_deleted(bench):
    delete_all(bench)
    ids = [begun(bench)["id"] for _ in range(4)]
    page = bench.get(f"{URL}?limit=2").json
    bench.delete(f"{URL}/{page['next']}")
    rest = bench.get(f"{URL}?before={page['next']}").json
    assert [match["id"] for match in rest["items"]] == [ids[1], ids[0]]


def test_a_match_can_be_renamed_and_lose_its_name(bench):
    match_id = begun(bench, name="Cup")["id"]
    assert bench.patch(f"{URL}/{match_id}", json={"name": "Cup, final"}).json["name"] == "Cup, final"
    assert bench.get(f"{URL}/{match_id}").json["name"] == "Cup, final"
    assert bench.patch(f"{URL}/{match_id}", json={"name": None}).json["name"] is None
    assert bench.patch(f"{URL}/{match_id}", json={}).json["name"] is None


@pytest.mark.parametrize("name", ["", "n" * 101, 7, True, ["Cup"]])
def test_a_name_that_is_none_is_refused(bench, name):
    response = bench.post(URL, json={"name": name})
    assert response.status_code == 422
    assert response.json["errors"] == [
        {"field": "name", "value": name, "expected": "text of 1 to 100 characters", "rule": "schema"}
    ]


def test_names_keep_every_character(bench):
    name = "Ünïted “7” — 体育馆 \U0001f3d0 <b>'; DROP TABLE match;--"
    match_id = begun(bench, name=name)["id"]
    assert bench.get(f"{URL}/{match_id}").json["name"] == name


@pytest.mark.parametrize("given", ["7", "01900000-0000-4000-8000-0000000000aa", MINE.upper(), 7])
def test_an_id_that_is_no_uuid_of_version_7_is_refused(bench, given):
    response = bench.post(URL, json={"id": given})
    assert response.status_code == 422
    assert response.json["errors"][0]["expected"] == "a UUIDv7 in lower case"


def test_deleting_says_before_and_after_what_it_means(bench):
    match = begun(bench, id=MINE)
    sent(bench, MINE, MatchOpened(), SetStarted("us"), RallyWon("us"))
    before = bench.get(f"{URL}/{MINE}").json["deleting"]
    assert before.startswith("3 events would be removed for good")
    answer = bench.delete(f"{URL}/{match['id']}")
    assert answer.json == {
        "id": MINE,
        "events_removed": 3,
        "text": before.replace("would be", "were"),
    }
    assert MINE not in [one["id"] for one in bench.get(URL).json["items"]]


def test_a_deleted_match_is_gone_and_no_device_brings_it_back(bench):
    begun(bench, id=MINE)
    bench.delete(f"{URL}/{MINE}")
    batch = {"events": [format_entry(entry) for entry in logged(MatchOpened())]}
    answers = [
        bench.get(f"{URL}/{MINE}"),
        bench.patch(f"{URL}/{MINE}", json={"name": "back"}),
        bench.delete(f"{URL}/{MINE}"),
        bench.post(URL, json={"id": MINE}),
        bench.post(f"{URL}/{MINE}/events", json=batch),
        *(bench.get(f"{URL}/{MINE}/{what}") for what in ("events", "state", "review", "log", "serves.csv")),
        bench.post(f"{URL}/{MINE}/call", json={}),
    ]
    assert {answer.status_code for answer in answers} == {410}
    assert {answer.content_type for answer in answers} == {"application/problem+json"}


def test_a_match_that_never_was_is_not_found(bench):
    for what in ("", "/events", "/state", "/review", "/log", "/serves.csv"):
        answer = bench.get(f"{URL}/{MINE}{what}")
        assert (answer.status_code, answer.json["detail"]) == (404, "there is no such match")
    assert bench.get(f"{URL}/seven").status_code == 404


def test_the_last_line_up_of_an_opponent_begins_the_next_match_against_them(bench):
    delete_all(bench)
    older, newer = TeamSheet((1, 2, 3, 4, 5, 6)), TeamSheet((3, 8, 12, 5, 17, 10), setter_position=6)
    for sheet in (older, newer):
        played = [RallyWon("us"), RallyWon("them"), RallyWon("us")]
        opened = MatchOpened(them="Harbour Street", level="college")
        sent(bench, begun(bench)["id"], opened, SetStarted("us", them=sheet), *played)
    sent(bench, begun(bench)["id"], MatchOpened(them="Mill Road"), SetStarted("us"))
    sent(bench, begun(bench)["id"], MatchOpened(), SetStarted("us"))
    mill, harbour = bench.get(f"{URL}/opponents").json["items"]
    assert (mill["name"], harbour["name"], harbour["level"]) == ("Mill Road", "Harbour Street", "college")
    assert harbour["sheet"]["lineup"] == [3, 8, 12, 5, 17, 10]
    assert harbour["sheet"]["setter_position"] == 6  # where she started, though she has rotated since
    match_id = begun(bench)["id"]
    start = {"serving_first": "them", "them": harbour["sheet"], "type": "set_started", "device": "phone"}
    event = {**start, "id": MINE, "counter": 0, "set_number": 1, "rally_number": 1}
    assert bench.post(f"{URL}/{match_id}/events", json={"events": [event]}).json["refused"] == []
    them = bench.get(f"{URL}/{match_id}/state").json["state"]["sides"]["them"]
    assert [player["number"] for player in them["lineup"]] == [3, 8, 12, 5, 17, 10]
    assert them["setter_position"] == 6


def test_a_code_that_has_been_read_is_changed_for_the_team_and_its_next_matches(bench):
    first, other = begun(bench)["id"], begun(bench)["id"]
    sent(bench, first, MatchOpened(us="Quarry Lane"), SetStarted("us"))
    sent(bench, other, MatchOpened(us="Quarry Lane II"), SetStarted("us"))
    start = bench.get(f"{URL}/{first}").json["signals"]
    code = copy.deepcopy(start)
    code["zone"]["1"], code["zone"]["5"] = code["zone"]["5"], code["zone"]["1"]
    assert bench.patch(f"{URL}/{first}", json={"signals": code}).json["signals"] == code
    later = begun(bench)["id"]
    assert bench.get(f"{URL}/{later}").json["signals"] == start
    sent(bench, later, MatchOpened(us="Quarry Lane"))
    assert bench.get(f"{URL}/{later}").json["signals"] == code
    assert bench.get(f"{URL}/{other}").json["signals"] == start


def test_a_code_in_which_two_things_look_alike_is_refused_by_name(bench):
    match = begun(bench)
    code = copy.deepcopy(match["signals"])
    code["depth"]["deep"] = code["depth"]["short"]
    response = bench.patch(f"{URL}/{match['id']}", json={"signals": code})
    assert response.status_code == 422
    assert response.json["errors"] == [
        {
            "field": "signals.depth.deep",
            "value": [False] * 5,
            "expected": "another pose than that of short",
            "rule": "same_pose",
        }
    ]
    assert bench.get(f"{URL}/{match['id']}").json["signals"] == match["signals"]


@pytest.mark.parametrize("pose", [[True] * 4, [True] * 6, [1, 0, 0, 0, 0], None, "fist"])
def test_a_pose_that_is_not_five_fingers_is_refused(bench, pose):
    match = begun(bench)
    code = copy.deepcopy(match["signals"])
    code["spot"]["middle"] = pose
    response = bench.patch(f"{URL}/{match['id']}", json={"signals": code})
    assert response.status_code == 422
    assert response.json["errors"][0]["field"].startswith("signals.spot.middle")


@pytest.mark.parametrize(
    ("query", "field"),
    [("limit=0", "limit"), ("limit=51", "limit"), ("limit=ten", "limit"), ("limit=1.5", "limit"),
     ("before=7", "before"), ("page=2", "page")],
)  # fmt: skip
def test_a_question_that_is_none_is_refused_by_its_field(bench, query, field):
    response = bench.get(f"{URL}?{query}")
    assert response.status_code == 422
    assert [error["field"] for error in response.json["errors"]] == [field]
