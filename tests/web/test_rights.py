"""Every operation of the API, asked by nobody, another club, each role, and a device that was revoked.

The operations come from the document and the least roles from the table, so a new operation is walked as
soon as it is there. It needs a line in the table, a documented example if it takes a body, and below a thing
of the club for each new parameter of its path.
"""

from __future__ import annotations

import json
import re
from dataclasses import dataclass, field
from typing import Any

import pytest
from cornerwise.app import create_app
from cornerwise.engine.match import format_entry
from cornerwise.engine.match.events import MatchOpened, RallyWon, SetStarted
from cornerwise.engine.match.logbook import logged
from cornerwise.service.accounts import ROLES
from cornerwise.web.rights import RIGHTS

from .conftest import Device

document = create_app().test_client().get("/api/openapi.json").json
NOT_THERE = "01900000-0000-7000-8000-00000000dead"
MARK = "Thornfield"  # stands in the name of everything that the club has

OPERATIONS = sorted(
    f"{method.upper()} {path.removeprefix('/api/v1')}"
    for path, methods in document["paths"].items()
    for method in methods
    if method != "parameters"
)
CLOSED = [name for name in OPERATIONS if RIGHTS.get(name) != "open"]
WITH_PLACES = [name for name in CLOSED if "{" in name]
EVENTS = [RallyWon("us")] * 2
ENDS_IT_ALL = {"DELETE /club", "DELETE /session"}


def documented(name: str) -> dict[str, Any]:
    method, path = name.split(" ")
    return document["paths"][f"/api/v1{path}"][method.lower()]


def example(name: str) -> dict[str, Any]:
    """Return the body that the document gives as an example, if the operation takes one."""
    body = documented(name).get("requestBody")
    if body is None:
        return {}
    [(kind, said)] = body["content"].items()
    assert "example" in said, f"{name} takes a body and documents no example"
    given = said["example"]
    return {"json": given} if kind == "application/json" else {"data": given, "content_type": kind}


def ask(device: Device, name: str, places: dict[str, str], **more: Any):
    method, path = name.split(" ")
    return device.open(f"/api/v1{path.format(**places)}", method=method, **{**example(name), **more})


def refusal(response) -> tuple[int, dict[str, Any], bytes]:
    """Return all that an answer tells: status, headers, bytes. Nothing in them names what was asked for."""
    return response.status_code, dict(response.headers), response.data


def is_problem(said: tuple[int, dict[str, Any], bytes], status: int, kind: str | None = None) -> bool:
    if (said[0], said[1]["Content-Type"]) != (status, "application/problem+json"):
        return False
    return kind is None or json.loads(said[2])["type"] == kind


@dataclass
class World:
    """A club with one thing of each kind, devices of each role, and a device of another club."""

    places: dict[str, str]
    devices: dict[str, Device]
    stranger: Device
    nobody: Device
    nowhere: dict[str, str] = field(init=False)

    def __post_init__(self) -> None:
        self.nowhere = {**dict.fromkeys(self.places, NOT_THERE), **self.others}

    @property
    def others(self) -> dict[str, str]:
        """Return those parameters that name no thing of a club."""
        return {name: value for name, value in self.places.items() if not name.endswith("_id")}


def things_of(coach: Device) -> dict[str, str]:
    """Make a thing of each kind; return the parameters of paths that lead to them."""
    match = coach.post("/api/v1/matches", json={"name": f"{MARK} Cup"}).json
    token = coach.post("/api/v1/tokens", json={"label": f"{MARK} sheet", "role": "assistant"}).json
    device = coach.get("/api/v1/devices").json["items"][0]
    return {"match_id": match["id"], "token_id": token["id"], "device_id": device["id"], **PLACES(coach)}


def PLACES(coach: Device) -> dict[str, str]:  # noqa: N802 - as a table: each part of the API adds its own here
    """Return the parameters of the rosters' paths, each leading to a thing made for it."""
    team = coach.post("/api/v1/teams", json={"name": f"{MARK} Juniors"}).json["id"]
    player = coach.post(f"/api/v1/teams/{team}/players", json={"number": 8, "name": f"{MARK} Ash"}).json["id"]
    opponent = coach.post("/api/v1/opponents", json={"name": f"{MARK} Rovers"}).json["id"]
    formation = f"/api/v1/opponents/{opponent}/formations/1"
    assert coach.put(formation, json={"formation": "three"}).status_code == 200
    return {"team_id": team, "player_id": player, "opponent_id": opponent, "setter_position": "1"}


@pytest.fixture
def world(new_coach, new_device, joined) -> World:
    coach = new_coach(f"{MARK} Club", "Ida Brook")
    places = things_of(coach)
    devices = {
        "coach": coach,
        "assistant": joined(coach, "assistant"),
        "server": joined(coach, "server", match=places["match_id"]),
    }
    return World(places, devices, new_coach("Mill Road", "Ada Stone"), new_device())


def test_every_operation_has_its_line_in_the_table_of_rights():
    assert set(OPERATIONS) == RIGHTS.keys()


def test_the_document_says_of_each_operation_who_may():
    for name in OPERATIONS:
        said = documented(name)
        if RIGHTS[name] == "open":
            assert said["security"] == [], name
        else:
            assert said["security"] == [{"cookie": []}, {"bearer": []}], name
            assert {"401", "403"} <= said["responses"].keys(), name
    assert document["components"]["securitySchemes"].keys() == {"cookie", "bearer"}


def test_every_parameter_of_a_path_leads_to_a_thing_that_is_there(world):
    needed = {place for name in OPERATIONS for place in re.findall(r"\{(\w+)\}", name)}
    assert needed == world.places.keys() & needed
    for name in WITH_PLACES:
        if name.startswith("GET"):
            assert ask(world.devices["coach"], name, world.places).status_code == 200, name


def test_nobody_is_asked_to_sign_in_whatever_is_there(world):
    for name in CLOSED:
        there = refusal(ask(world.nobody, name, world.places))
        assert is_problem(there, 401, "/problems/signed_out"), name
        assert refusal(ask(world.nobody, name, world.nowhere)) == there
        bad = ask(world.nobody, name, world.places, headers={"Authorization": "Bearer cornerwise_nothing"})
        assert refusal(bad) == there


def test_another_club_hears_of_what_is_not_hers_what_she_hears_of_what_is_not_there(world):
    for name in WITH_PLACES:
        not_hers = refusal(ask(world.stranger, name, world.places))
        assert is_problem(not_hers, 404), name
        assert refusal(ask(world.stranger, name, world.nowhere)) == not_hers, name


def test_another_club_finds_nothing_of_this_one_in_any_answer(world):
    for name in [*[n for n in CLOSED if n not in WITH_PLACES and n not in ENDS_IT_ALL], "DELETE /club"]:
        answer = ask(world.stranger, name, {})
        assert answer.status_code < 500
        assert MARK not in answer.text, name
        assert not any(place in answer.text for place in world.places.values() if len(place) > 10), name
    mine = world.devices["coach"].get("/api/v1/club").json
    assert (mine["name"], mine["matches"]) == (f"{MARK} Club", 1)


@pytest.mark.parametrize("role", ROLES)
def test_a_role_is_refused_what_it_may_not_do_whatever_is_there_and_may_do_the_rest(world, role):
    device = world.devices[role]
    for name in sorted(CLOSED, key=lambda name: (name in ENDS_IT_ALL, name == "DELETE /session")):
        if ROLES.index(role) < ROLES.index(RIGHTS[name]):
            there = refusal(ask(device, name, world.places))
            assert is_problem(there, 403, "/problems/role"), name
            assert refusal(ask(device, name, world.nowhere)) == there
        elif name not in ENDS_IT_ALL:
            answer = ask(device, name, world.nowhere)
            assert answer.status_code not in (403, 405, 500), name
            assert answer.json is None or answer.json.get("type") != "/problems/signed_out", name


def test_a_revoked_device_is_told_so_whatever_it_asks_and_nothing_else(world, joined):
    coach = world.devices["coach"]
    for role in ("assistant", "server"):
        device = world.devices[role]
        assert coach.delete(f"/api/v1/devices/{device.club}").status_code == 204
        for name in CLOSED:
            there = ask(device, name, world.places)
            assert is_problem(refusal(there), 401, "/problems/revoked"), name
            assert refusal(ask(device, name, world.nowhere)) == refusal(there)
            assert MARK not in there.text
        assert device.get("/api/v1/session").json == {"who": None, "revoked": True, "now_playing": None}


def test_a_token_that_was_revoked_is_worth_nothing(world):
    coach = world.devices["coach"]
    made = coach.post("/api/v1/tokens", json={"label": "sheet", "role": "coach"}).json
    script = {"Authorization": f"Bearer {made['token']}"}
    assert world.nobody.get("/api/v1/matches", headers=script).status_code == 200
    assert made["token"] not in coach.get("/api/v1/tokens").text
    assert world.nobody.delete(f"/api/v1/tokens/{made['id']}", headers=script).status_code == 204
    for name in CLOSED:
        assert ask(world.nobody, name, world.places, headers=script).status_code == 401


def test_whoever_may_do_everything_without_signing_in_uses_the_engine_only(world):
    for name in set(OPERATIONS) - set(CLOSED):
        answer = ask(world.nobody, name, {})
        assert answer.status_code == (401 if name in ("POST /session", "POST /join") else 200), name
        assert MARK not in answer.text


def test_a_device_for_one_match_sees_that_match_and_no_other(world, joined):
    coach = world.devices["coach"]
    other = coach.post("/api/v1/matches", json={"name": "Friendly"}).json["id"]
    device = joined(coach, "assistant", match=world.places["match_id"])
    assert device.get("/api/v1/teams").json == {"items": [], "next": None}  # the match has no team yet
    listed = [match["id"] for match in device.get("/api/v1/matches").json["items"]]
    assert listed == [world.places["match_id"]]
    assert device.get(f"/api/v1/matches/{listed[0]}/state").status_code == 200
    for name in [name for name in WITH_PLACES if "{match_id}" in name and RIGHTS[name] != "coach"]:
        beside = refusal(ask(device, name, {**world.places, "match_id": other}))
        assert beside == refusal(ask(device, name, world.nowhere))
        assert beside[0] == 404
    assert device.post("/api/v1/matches", json={}).status_code == 403
    assert device.get("/api/v1/matches/opponents").status_code == 403


def opened(coach: Device, us: str, rallies: int = 0) -> str:
    match_id = coach.post("/api/v1/matches", json={}).json["id"]
    log = [format_entry(entry) for entry in logged(MatchOpened(us=us), SetStarted("us"), *EVENTS[:rallies])]
    assert coach.post(f"/api/v1/matches/{match_id}/events", json={"events": log}).json["refused"] == []
    return match_id


def test_a_server_view_has_the_call_of_its_team_and_of_no_other(world, joined):
    coach = world.devices["coach"]
    view = joined(coach, "server", team="Quarry Lane II")
    assert view.get("/api/v1/session").json["now_playing"] is None
    theirs, ours = opened(coach, "Quarry Lane"), opened(coach, "Quarry Lane II", rallies=2)
    opened(coach, "Quarry Lane")
    assert view.get("/api/v1/session").json["now_playing"] == ours
    body = {"opponent": {"setter_position": 4}}
    assert view.post(f"/api/v1/matches/{ours}/call", json=body).json["best"]["words"]["call"]
    for match_id in (theirs, NOT_THERE):
        answer = view.post(f"/api/v1/matches/{match_id}/call", json=body)
        assert (answer.status_code, answer.json["detail"]) == (404, "there is no such match")
    coach.delete(f"/api/v1/matches/{theirs}")
    assert view.post(f"/api/v1/matches/{theirs}/call", json=body).status_code == 404
    coach.delete(f"/api/v1/matches/{ours}")
    assert view.get("/api/v1/session").json["now_playing"] is None
