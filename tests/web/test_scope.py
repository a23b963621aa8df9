"""What a device sees that was let in for one match, or as a server view: walked over every operation."""

from __future__ import annotations

import re
from typing import Any

from cornerwise.engine.match import format_entry
from cornerwise.engine.match.events import MatchOpened, SetStarted, TeamSheet
from cornerwise.engine.match.logbook import logged

from .conftest import Device
from .test_rights import CLOSED, ENDS_IT_ALL, NOT_THERE, OPERATIONS, WITH_PLACES, ask, opened, refusal

PLACE_NAMES = {place for name in OPERATIONS for place in re.findall(r"\{(\w+)\}", name)}
NOWHERE = {**dict.fromkeys(PLACE_NAMES, NOT_THERE), "setter_position": "1"}


def walked(device: Device, **kinds: list[str]) -> dict[str, set[str]]:
    """Return for each kind of place which of some a device gets any answer about, over all operations."""
    reached: dict[str, set[str]] = {kind: set() for kind in kinds}
    for name in WITH_PLACES:
        if not name.startswith("GET"):
            continue
        for kind, ids in kinds.items():
            for one in ids if f"{{{kind}}}" in name else ():
                if ask(device, name, {**NOWHERE, kind: one}).status_code < 400:
                    reached[kind].add(one)
    return reached


def roster_of(coach: Device, name: str) -> tuple[str, str, str]:
    """Make a team with a named player, and an opponent; return their ids."""
    team = coach.post("/api/v1/teams", json={"name": name}).json["id"]
    player = coach.post(f"/api/v1/teams/{team}/players", json={"number": 4, "name": f"Girl of {name}"}).json[
        "id"
    ]
    opponent = coach.post("/api/v1/opponents", json={"name": f"Rivals of {name}"}).json["id"]
    return team, player, opponent


def test_a_device_for_one_match_reads_its_two_teams_and_no_other_roster(new_coach, joined):
    coach = new_coach()
    ours, player, theirs = roster_of(coach, "Juniors")
    other, other_player, others = roster_of(coach, "Seniors")
    log = [
        format_entry(e) for e in logged(MatchOpened(us="Juniors", them="Rivals of Juniors"), SetStarted("us"))
    ]
    match_id = coach.post("/api/v1/matches", json={}).json["id"]
    coach.post(f"/api/v1/matches/{match_id}/events", json={"events": log})
    device = joined(coach, "assistant", match=match_id)
    assert walked(device, team_id=[ours, other], opponent_id=[theirs, others]) == {
        "team_id": {ours}, "opponent_id": {theirs},
    }  # fmt: skip
    assert device.get(f"/api/v1/teams/{ours}").json["roster"][0]["name"] == "Girl of Juniors"
    assert device.get(f"/api/v1/teams/{ours}/players/{player}").status_code == 200
    for path in (f"teams/{other}", f"teams/{other}/players/{other_player}", f"opponents/{others}"):
        beside = device.get(f"/api/v1/{path}")
        assert refusal(beside) == refusal(
            device.get(f"/api/v1/{re.sub(r'/[0-9a-f-]{36}', f'/{NOT_THERE}', path)}")
        )
    for name in CLOSED:
        if name.startswith("GET"):
            answer = ask(device, name, NOWHERE)
            assert "Seniors" not in answer.text, name
    for query in ("", "?name=Rivals%20of%20Seniors"):
        assert "Seniors" not in device.get(f"/api/v1/opponents{query}").text
    assert device.get("/api/v1/opponents?name=Rivals%20of%20Juniors").json["items"][0]["id"] == theirs


def test_what_a_device_for_one_match_logs_opens_no_other_roster_to_it(new_coach, joined):
    coach = new_coach()
    ours, _, _ = roster_of(coach, "Juniors")
    other, _, _ = roster_of(coach, "Seniors")
    match_id = opened(coach, "Juniors")
    url = f"/api/v1/matches/{match_id}"
    device = joined(coach, "assistant", match=match_id)
    [first] = [item["event"] for item in device.get(f"{url}/events").json["items"] if item["position"] == 1]
    again = [format_entry(e) for e in logged(MatchOpened(us="Juniors"), MatchOpened(us="Seniors"))][1]
    fixed = {
        **again,
        "id": "01900000-0000-7000-8000-0000000000f1",
        "type": "retracted",
        "event_id": first["id"],
    }
    fixed = {name: fixed[name] for name in fixed if name not in ("us", "profile", "them", "level")}
    other_opening = {**again, "id": "01900000-0000-7000-8000-0000000000f2", "counter": 900}
    posted = device.post(f"{url}/events", json={"events": [fixed, other_opening]}).json
    assert len(posted["accepted"]) == 2, posted
    assert device.get(url).json["us"] == "Seniors"  # so the log says
    assert walked(device, team_id=[ours, other])["team_id"] == {ours}
    assert [team["id"] for team in device.get("/api/v1/teams").json["items"]] == [ours]
    code = coach.get(url).json["signals"]
    refused = device.patch(url, json={"signals": code})
    assert (refused.status_code, refused.json["type"]) == (403, "/problems/role")
    coach.delete(url)
    assert walked(device, team_id=[ours, other])["team_id"] == set()


def test_a_coach_is_let_in_for_everything(new_coach):
    coach = new_coach()
    match_id = opened(coach, "Juniors")
    refused = coach.post("/api/v1/devices/codes", json={"role": "coach", "match": match_id})
    assert (refused.status_code, refused.json["errors"][0]["rule"]) == (422, "server_scope")


def keys_in(value: Any) -> set[str]:
    """Return the names of all members, however deep."""
    if isinstance(value, dict):
        return set(value) | {name for inner in value.values() for name in keys_in(inner)}
    return {name for inner in value for name in keys_in(inner)} if isinstance(value, list) else set()


def test_a_server_view_gets_the_call_and_whose_it_is_and_not_one_name_of_the_club(new_coach, joined):
    """All that it reaches: who it is, the call, and the questions that anybody may ask without signing in."""
    coach = new_coach()
    team, _, _ = roster_of(coach, "Juniors")
    opponent = coach.get("/api/v1/opponents").json["items"][0]["id"]
    coach.patch(f"/api/v1/opponents/{opponent}", json={"notes": "Tells of their secret"})
    log = [format_entry(e) for e in logged(
        MatchOpened(us="Juniors", them="Rivals of Juniors"),
        SetStarted("us", us=TeamSheet(lineup=(4, 5, 6, 7, 8, 9)), them=TeamSheet(setter_position=4)),
    )]  # fmt: skip
    match_id = coach.post("/api/v1/matches", json={"name": "Cup tie"}).json["id"]
    assert coach.post(f"/api/v1/matches/{match_id}/events", json={"events": log}).json["refused"] == []
    view = joined(coach, "server", team="Juniors")
    places = {**NOWHERE, "match_id": match_id, "team_id": team, "opponent_id": opponent}
    asked = {name: ask(view, name, places) for name in CLOSED if name not in ENDS_IT_ALL}
    reached = {name for name, answer in asked.items() if answer.status_code < 400}
    assert reached == {"POST /matches/{match_id}/call"}
    call = view.post(f"/api/v1/matches/{match_id}/call", json={})
    assert call.json["made_for"]["server"]["number"] == 4
    assert not keys_in(call.json) & {"roster", "opponent", "player", "events", "lineup", "notes", "us_name"}
    for word in (
        "Girl of",
        "Rivals of",
        "secret",
        "Cup tie",
        "Ida Brook",
        "Juniors",
        coach.club,
        team,
        opponent,
    ):
        assert word not in call.text
    who = view.get("/api/v1/session").json
    assert who["now_playing"] == match_id
    assert who["who"].keys() == {
        "club", "name", "label", "role", "device_id", "team", "match_id", "has_password",
    }  # fmt: skip
    assert (who["who"]["name"], who["who"]["team"], who["who"]["club"].keys()) == (
        None,
        "Juniors",
        {"id", "name"},
    )
