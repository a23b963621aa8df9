"""A match going on, over HTTP: where it stands, and what to serve next."""

from __future__ import annotations

from typing import Any

import pytest
from cornerwise.engine.match import format_entry
from cornerwise.engine.match.events import (
    Event,
    LineupCorrected,
    MatchEnded,
    MatchOpened,
    RallyWon,
    ReceptionFormationSeen,
    Retracted,
    SetStarted,
    TeamSheet,
)
from cornerwise.engine.match.logbook import entry_id, logged

from ..engine.review.scripts import script

US = TeamSheet((4, 11, 7, 2, 15, 9), setters=(4,))
THEM = TeamSheet((3, 8, 12, 5, 17, 10), setter_position=6)
SERVING = (MatchOpened(us="Quarry Lane", level="college"), SetStarted("us", US, THEM))
RECEIVING = (MatchOpened(level="college"), SetStarted("them", US, THEM))


def as_sent(*events: Event) -> list[dict[str, Any]]:
    return [format_entry(entry) for entry in logged(*events)]


@pytest.fixture
def match(bench):
    """Begin a match with these events; return its address."""

    def begin(*events: Event, log: list[dict] | None = None) -> str:
        url = f"/api/v1/matches/{bench.post('/api/v1/matches', json={}).json['id']}"
        log = as_sent(*events) if log is None else log
        for start in range(0, len(log), 500):
            bench.post(f"{url}/events", json={"events": log[start : start + 500]})
        return url

    return begin


@pytest.mark.parametrize("seed", range(3))
def test_the_state_of_a_match_is_what_a_replay_of_its_log_says(bench, match, seed):
    log = script(seed)
    url = match(log=log)
    state = bench.get(f"{url}/state").json
    assert state.pop("position") == len(log)
    assert state == bench.post("/api/v1/replay", json={"events": log}).json
    assert bench.get(f"{url}/log").json["events"] == log


def test_the_state_follows_each_event_and_each_undo(bench, match):
    url = match(*SERVING)
    events = as_sent(*SERVING, RallyWon("us"), RallyWon("them"))[2:]

    def points_after(event: dict) -> tuple[int, dict]:
        bench.post(f"{url}/events", json={"events": [event]})
        answer = bench.get(f"{url}/state").json
        return answer["position"], answer["state"]["points"]

    assert points_after(events[0]) == (3, {"us": 1, "them": 0})
    assert points_after(events[1]) == (4, {"us": 1, "them": 1})
    undo = as_sent(Retracted(events[1]["id"]))[0] | {"id": entry_id(99), "set_number": 1, "rally_number": 2}
    assert points_after(undo) == (5, {"us": 1, "them": 0})


def test_a_replay_can_go_by_another_profile(bench):
    events = as_sent(*SERVING)
    answer = bench.post("/api/v1/replay", json={"profile": "us_high_school", "events": events})
    assert answer.json["state"]["seconds_to_serve"] == 5
    bad = bench.post("/api/v1/replay", json={"profile": "beach", "events": events})
    assert bad.status_code == 422
    assert bad.json["errors"][0]["rule"] == "profile"


def test_a_replay_of_what_cannot_be_read_is_refused_by_its_field(bench):
    events = [*as_sent(*SERVING), {"type": "rally_won"}]
    answer = bench.post("/api/v1/replay", json={"events": events})
    assert answer.status_code == 422
    assert answer.json["errors"][0]["field"].startswith("events.2")


def test_a_replay_may_weigh_8_megabytes_and_no_more(bench):
    body = b'{"events": []' + b" " * (8 * 1024 * 1024 - 14) + b"}"
    assert len(body) == 8 * 1024 * 1024
    assert bench.post("/api/v1/replay", data=body, content_type="application/json").status_code == 200
    assert bench.post("/api/v1/replay", data=body + b" ", content_type="application/json").status_code == 413


def test_while_we_serve_the_present_serve_is_called(bench, match):
    url = match(*SERVING, RallyWon("us"))
    call = bench.post(f"{url}/call", json={}).json
    made_for = call["made_for"]
    assert (made_for["side_outs"], made_for["server"]["number"], made_for["setter_position"]) == (0, 4, 6)
    assert (made_for["points"], made_for["position"]) == ({"us": 1, "them": 0}, 3)
    assert call["situation"]["setter_position"] == 6
    assert call["situation"]["level"] == "college"


def test_while_they_serve_the_serve_after_the_next_side_out_is_called(bench, match):
    made_for = bench.post(f"{match(*RECEIVING)}/call", json={}).json["made_for"]
    assert (made_for["side_outs"], made_for["server"]["number"], made_for["points"]) == (
        1, 11, {"us": 1, "them": 0},
    )  # fmt: skip


def test_the_call_is_the_one_that_anybody_gets_who_asks_the_same(bench, match):
    url = match(*SERVING)
    request = bench.get(f"{url}/state").json["coming"][0]["request"]
    policy = {"policy": {"error_ceiling": 0.1}}
    call = bench.post(f"{url}/call", json=policy).json
    call.pop("made_for")
    assert call == bench.post("/api/v1/calls", json={**request, **policy}).json


def test_the_serves_after_the_next_one_can_be_called_too(bench, match):
    url = match(*SERVING)
    calls = [bench.post(f"{url}/call", json={"serve": serve}).json["made_for"] for serve in range(3)]
    assert [(c["server"]["number"], c["setter_position"]) for c in calls] == [(4, 6), (11, 5), (7, 4)]
    assert bench.post(f"{url}/call", json={"serve": 3}).status_code == 422


def test_what_is_given_goes_before_what_the_log_says(bench, match):
    url = match(*SERVING, ReceptionFormationSeen("them", "two"))
    assert bench.post(f"{url}/call", json={}).json["situation"]["formation"] == "two"
    given = {"level": "elite_men", "server": {"kind": "jump_topspin"}, "opponent": {"setter_faces": "right"}}
    situation = bench.post(f"{url}/call", json=given).json["situation"]
    assert (situation["level"], situation["server"]["kind"]) == ("elite_men", "jump_topspin")
    assert (situation["setter_faces"], situation["setter_position"]) == ("right", 6)
    assert situation["formation"] == "two"
    moved = bench.post(f"{url}/call", json={"opponent": {"setter_position": 4}}).json["situation"]
    assert (moved["setter_position"], moved["formation"]) == (4, "three")  # it was seen with her in 6


def test_a_call_needs_one_way_to_know_their_setter(bench, match):
    url = match(MatchOpened(), SetStarted("us", US))
    answer = bench.post(f"{url}/call", json={})
    assert (answer.status_code, answer.json["errors"][0]["rule"]) == (422, "setter_unknown")
    known = bench.post(f"{url}/call", json={"opponent": {"setter_position": 2}})
    assert known.json["situation"]["setter_position"] == 2


def test_a_zone_tapped_for_their_setter_is_called_against_at_once(bench, match):
    url = match(MatchOpened(), SetStarted("us", US), LineupCorrected("them", setter_position=3))
    assert bench.post(f"{url}/call", json={}).json["situation"]["setter_position"] == 3


@pytest.mark.parametrize("events", [(), (MatchOpened(),), (*SERVING, MatchEnded())])
def test_where_no_serve_is_to_come_none_is_called(bench, match, events):
    answer = bench.post(f"{match(*events)}/call", json={})
    assert (answer.status_code, answer.content_type) == (409, "application/problem+json")


def test_a_call_is_signalled_in_the_teams_own_code(bench, match):
    url = match(*SERVING)
    before = bench.post(f"{url}/call", json={}).json
    code = bench.get(url).json["signals"]
    for of, poses in code.items():
        code[of] = {name: [not finger for finger in pose] for name, pose in poses.items()}
    assert bench.patch(url, json={"signals": code}).status_code == 200
    after = bench.post(f"{url}/call", json={}).json
    for one, other in zip(
        (before["best"], *before["alternatives"]), (after["best"], *after["alternatives"]), strict=True
    ):
        assert [p["fingers"] for p in other["signal"]] == [
            [not finger for finger in pose["fingers"]] for pose in one["signal"]
        ]
        assert {**one, "signal": None} == {**other, "signal": None}


ROSTERED = {
    "number": 4,
    "reach_m": 2.4,
    "serves": [
        {"kind": "jump_float", "speeds_m_s": [16.5], "spots": ["left_corner", "left"], "next_job": 1,
         "scatter": {"across_m": 0.9, "along_m": 1.1, "serves": 40}, "error_ceiling": 0.11},
    ],
}  # fmt: skip


def test_a_call_in_a_match_is_made_for_what_was_entered_of_our_server_and_of_the_opponent(bench, match):
    url = match(MatchOpened(us="Quarry Lane", them="Alder Point", level="college"), *SERVING[1:])
    stock = bench.post(f"{url}/call", json={}).json
    team = bench.post("/api/v1/teams", json={"name": "Quarry Lane"}).json["id"]
    assert bench.post(f"/api/v1/teams/{team}/players", json=ROSTERED).status_code == 201
    opponent = bench.post("/api/v1/opponents", json={"name": "Alder Point"}).json["id"]
    bench.put(f"/api/v1/opponents/{opponent}/formations/6", json={"formation": "four"})
    profile = bench.get(f"/api/v1/opponents/{opponent}").json

    said = bench.post(f"{url}/call", json={}).json
    known = {"player": {name: ROSTERED[name] for name in ("reach_m", "serves")}}
    theirs = {name: profile[name] for name in ("system", "liberos", "ratings", "formations")}
    log_says = bench.get(f"{url}/state").json["coming"][0]["request"]
    body = {**known, "opponent": theirs, "request": log_says}
    prepared = bench.post("/api/v1/prepared", json=body).json["request"]
    alone = bench.post("/api/v1/calls", json=prepared).json
    del said["made_for"]
    assert said == alone
    assert said["situation"]["server"]["scatter"] == {"across_m": 0.9, "along_m": 1.1}
    assert said["policy"]["error_ceiling"] == 0.11
    assert said["best"]["spot"]["name"] in ("left_corner", "left")
    assert said["best"]["next_job"]["position"] == 1
    assert len([p for p in said["situation"]["players"] if p["role"] == "passer"]) == 4
    assert said["best"]["keep"] != stock["best"]["keep"]


def test_all_serves_that_a_server_has_are_weighed_and_a_kind_that_is_given_goes_first(bench, match):
    url = match(MatchOpened(us="Quarry Lane", level="college"), *SERVING[1:])
    team = bench.post("/api/v1/teams", json={"name": "Quarry Lane"}).json["id"]
    serves = [{"kind": "underhand", "spots": ["middle"]}, *ROSTERED["serves"]]
    assert bench.post(f"/api/v1/teams/{team}/players", json=ROSTERED | {"serves": serves}).status_code == 201
    said = bench.post(f"{url}/call", json={}).json
    assert said["best"]["kind"] == "jump_float"
    assert "underhand" in {one["kind"] for one in said["alternatives"]}
    log_says = bench.get(f"{url}/state").json["coming"][0]["request"]
    player = {"reach_m": ROSTERED["reach_m"], "serves": serves}
    alone = bench.post("/api/v1/chosen", json={"request": log_says, "player": player}).json
    del said["made_for"]
    assert said == alone
    given = bench.post(f"{url}/call", json={"server": {"kind": "underhand"}}).json
    assert given["best"]["kind"] == "underhand"


def test_whom_nobody_entered_serves_as_the_levels_usual_server(bench, match):
    url = match(*SERVING)
    before = bench.post(f"{url}/call", json={}).json
    bench.post("/api/v1/teams", json={"name": "Quarry Lane"})
    assert bench.post(f"{url}/call", json={}).json == before


def test_what_is_to_be_put_into_a_request_is_looked_at_first(bench):
    bad = {"request": {"opponent": {"setter_position": 1}}, "player": {"serves": [{"kind": "sky_ball"}]}}
    answer = bench.post("/api/v1/prepared", json=bad)
    assert answer.status_code == 422
    assert answer.json["errors"][0]["field"] == "player.serves.0.kind"
