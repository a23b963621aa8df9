"""Opponents over HTTP: what is known of them, formations looked at, kept and copied, and the call book."""

from __future__ import annotations

from typing import Any

import pytest
from cornerwise.engine import bridge
from cornerwise.engine.bridge.roster import opponent_request, serve_request
from cornerwise.engine.match import format_entry
from cornerwise.engine.match.events import MatchOpened
from cornerwise.engine.match.logbook import logged
from cornerwise.service.arrays import ARRAYS

URL = "/api/v1/opponents"
LOOK = "/api/v1/formations"
LINEUP = [3, 8, 12, 5, 17, 10]


def made(bench, name: str = "Harbour Street", **more: Any) -> str:
    response = bench.post(URL, json={"name": name, **more})
    assert response.status_code == 201, response.json
    return response.json["id"]


def six(bench, setter_position: int, **asked: Any) -> list[dict[str, Any]]:
    """Return a stock formation as it is sent back after dragging."""
    seen = bench.post(LOOK, json={"setter_position": setter_position, **asked}).json
    return [{n: p[n] for n in ("position", "x_m", "y_m", "passes")} for p in seen["players"]]


def test_a_name_suffices_for_an_opponent(bench):
    shown = bench.get(f"{URL}/{made(bench)}").json
    assert (shown["name"], shown["lineup"], shown["setters"], shown["formations"]) == (
        "Harbour Street", None, [], [],
    )  # fmt: skip
    assert shown["system"] == "one_setter"


def test_where_passes_go_is_said_as_a_place_or_as_a_slot(bench):
    opponent = made(bench, pass_slot={"slot": 6, "off_net_m": 1.5})
    shown = bench.get(f"{URL}/{opponent}").json
    assert shown["pass_target"] == {"x_m": -1.0, "y_m": 1.5}  # slots of 1 m from their left: 4.5 - 5.5
    assert shown["pass_slot"] == {"slot": 6, "off_net_m": 1.5}
    both = {"pass_slot": {"slot": 1, "off_net_m": 1}, "pass_target": {"x_m": 0, "y_m": 1}}
    assert bench.patch(f"{URL}/{opponent}", json=both).json["errors"][0]["rule"] == "one_target"
    assert bench.patch(f"{URL}/{opponent}", json={"pass_slot": None}).json["pass_slot"] == shown["pass_slot"]
    assert bench.patch(f"{URL}/{opponent}", json={"pass_target": None}).json["pass_slot"] is None


@pytest.mark.parametrize(
    ("values", "field", "rule"),
    [
        ({"lineup": LINEUP, "liberos": [17]}, "lineup.4", "twice_in_lineup"),
        ({"ratings": [{"number": 8}, {"number": 8}]}, "ratings.1.number", "rated_twice"),
        ({"ratings": [{"number": 8, "rating": "weak", "pass_grade": 2}]}, "ratings.0.rating", "rated_twice"),
        ({"pass_target": {"x_m": 5, "y_m": 1}}, "pass_target.x_m", "schema"),
        ({"name": "  "}, "name", "text"),
    ],
)
def test_what_does_not_fit_an_opponent_is_refused_by_its_field(bench, values, field, rule):
    response = bench.patch(f"{URL}/{made(bench)}", json=values)
    assert response.status_code == 422
    assert [(one["field"], one["rule"]) for one in response.json["errors"]] == [(field, rule)]


def test_a_libero_given_later_is_looked_at_together_with_the_line_up_that_stays(bench):
    opponent = made(bench, lineup=LINEUP)
    response = bench.patch(f"{URL}/{opponent}", json={"liberos": [8]})
    assert response.json["errors"][0]["field"] == "lineup.1"


def test_opponents_are_listed_by_name_in_pages_and_found_by_name(bench):
    for name in ("Cedar", "Alder", "Birch"):
        made(bench, name)
    first = bench.get(f"{URL}?limit=2").json
    second = bench.get(f"{URL}?limit=2&after={first['next']}").json
    assert [one["name"] for page in (first, second) for one in page["items"]] == ["Alder", "Birch", "Cedar"]
    assert [one["name"] for one in bench.get(f"{URL}?name=Birch").json["items"]] == ["Birch"]
    assert bench.get(f"{URL}?name=Elm").json["items"] == []


def test_somebody_dragged_out_of_order_is_named_with_her_pair_and_the_rule(bench):
    players = six(bench, 1)
    players[5] |= {"x_m": -3.5}  # position 6 beyond position 1, who is to her right
    seen = bench.post(LOOK, json={"setter_position": 1, "players": players}).json
    assert not seen["legal"]
    assert [(one["positions"], one["rule"]) for one in seen["breaches"]] == [([1, 6], "FIVB 7.4.3.2")]


def test_every_player_has_a_box_inside_which_she_is_in_order(bench):
    players = six(bench, 5, formation="two")
    seen = bench.post(LOOK, json={"setter_position": 5, "players": players}).json
    for i, player in enumerate(seen["players"]):
        box = player["limits"]
        for side, inside in (("x_max_m", True), ("x_max_m", False)):
            x_m = box[side] - 0.01 if inside else box[side] + 0.01
            if not inside and box["by"][side] == "the sideline":
                continue
            moved = [dict(one) for one in players]
            moved[i]["x_m"] = x_m
            answer = bench.post(LOOK, json={"setter_position": 5, "players": moved}).json
            assert answer["legal"] == inside


@pytest.mark.parametrize(
    ("change", "field", "rule"),
    [
        ({"passes": True}, "players.0.passes", "setter_passes"),
        ({"position": 2}, "players", "six_players"),
        ({"x_m": 4.6}, "players.0.x_m", "schema"),
    ],
)
def test_what_no_six_players_can_stand_like_is_refused(bench, change, field, rule):
    players = six(bench, 1)
    players[0] |= change
    response = bench.post(LOOK, json={"setter_position": 1, "players": players})
    assert [(one["field"], one["rule"]) for one in response.json["errors"]] == [(field, rule)]


def test_a_formation_is_kept_as_it_was_dragged_and_forgotten_on_request(bench):
    url = f"{URL}/{made(bench)}/formations/1"
    assert bench.get(url).json["entered"] is False
    players = six(bench, 1)
    players[2] |= {"x_m": -2.0, "y_m": 6.0, "number": 14}
    kept = bench.put(url, json={"players": players}).json
    assert kept["entered"] is True
    assert [(p["x_m"], p["y_m"], p["number"]) for p in kept["players"]][2] == (-2.0, 6.0, 14)
    assert bench.get(url).json == kept
    assert bench.delete(url).json["entered"] is False
    assert bench.delete(url).status_code == 404


def test_a_formation_out_of_order_is_not_kept(bench):
    url = f"{URL}/{made(bench)}/formations/1"
    players = six(bench, 1)
    players[5] |= {"x_m": -3.5}
    [error] = bench.put(url, json={"players": players}).json["errors"]
    assert (error["field"], error["rule"], error["value"]) == ("players", "overlap", [1, 6])
    assert bench.get(url).json["entered"] is False


def test_passers_as_they_were_seen_in_a_match_are_kept_for_good(bench):
    """The parts of a `reception_formation_seen` event, and where the setter stood."""
    url = f"{URL}/{made(bench)}/formations/6"
    seen = {"passers": [{"x_m": 1.9, "y_m": 6.2}, {"x_m": -1.9, "y_m": 6.2}], "formation": "two"}
    kept = bench.put(url, json=seen).json
    assert [(p["x_m"], p["y_m"]) for p in kept["players"] if p["passes"]] == [(-1.9, 6.2), (1.9, 6.2)]


def test_a_formation_is_copied_where_six_players_can_stand_like_that(bench):
    opponent = made(bench)
    bench.put(f"{URL}/{opponent}/formations/1", json={"formation": "four"})
    answer = bench.post(f"{URL}/{opponent}/formations/1/copy", json={"to": [2, 3, 4, 5, 6]}).json
    done = {one["setter_position"] for one in answer["copied"]}
    assert done | {one["setter_position"] for one in answer["refused"]} == {2, 3, 4, 5, 6}
    places = {(3.3, 5.2), (1.2, 7.0), (-1.2, 7.0), (-3.3, 5.2)}
    for one in answer["copied"]:
        assert one["legal"]
        assert {(p["x_m"], p["y_m"]) for p in one["players"] if p["passes"]} == places
    shown = bench.get(f"{URL}/{opponent}").json
    assert {one["setter_position"] for one in shown["formations"]} == done | {1}


def test_a_deleted_opponent_is_gone_with_its_formations(bench):
    opponent = made(bench)
    bench.put(f"{URL}/{opponent}/formations/1", json={"formation": "three"})
    assert bench.delete(f"{URL}/{opponent}").json == {"id": opponent, "traces_gone": True}
    assert bench.get(f"{URL}/{opponent}").status_code == 404
    assert bench.get(URL).json["items"] == []


def test_another_clubs_opponent_is_not_there(new_coach):
    mine, theirs = new_coach("Quarry Lane", "Ida Brook"), new_coach("Harbour Street", "Mo Fenn")
    opponent, team = made(mine), mine.post("/api/v1/teams", json={"name": "First team"}).json["id"]
    own = made(theirs)
    asked = [opponent, f"{opponent}/formations/1", f"{opponent}/book?team={team}", f"{own}/book?team={team}"]
    assert [theirs.get(f"{URL}/{one}").status_code for one in asked] == [404] * 4


@pytest.fixture
def prepared(bench) -> tuple[str, str]:
    """A team of three servers, one of whom comes in, and an opponent with a formation in one rotation."""
    team = bench.post("/api/v1/teams", json={"name": "First team", "level": "high_school"}).json["id"]
    for player in (
        {"number": 4, "serves": [{"kind": "standing_float", "spots": ["middle"], "next_job": 5}]},
        {"number": 7, "reach_m": 2.3, "serves": [{"kind": "jump_float", "error_ceiling": 0.15}]},
        {"number": 21, "name": "Runa Sill", "comes_in_for": [7]},
        {"number": 13, "role": "libero"},
    ):
        assert bench.post(f"/api/v1/teams/{team}/players", json=player).status_code == 201
    assert bench.patch(f"/api/v1/teams/{team}", json={"lineup": [4, 7, *[None] * 4]}).status_code == 200
    opponent = made(bench, lineup=LINEUP, setters=[3], ratings=[{"number": 17, "rating": "weak"}])
    assert bench.put(f"{URL}/{opponent}/formations/6", json={"formation": "three"}).status_code == 200
    return opponent, team


def test_the_book_has_the_rotations_in_the_order_they_are_met_with_our_servers_in_theirs(bench, prepared):
    opponent, team = prepared
    book = bench.get(f"{URL}/{opponent}/book?team={team}&serving_first=us").json
    assert book["order_known"]
    assert [one["setter_position"] for one in book["rotations"]] == [1, 6, 5, 4, 3, 2]
    assert [one["server"] for one in book["rotations"]] == [4, 7, None, None, None, None]
    assert [one["formation_entered"] for one in book["rotations"]] == [False, True, *[False] * 4]
    assert [one["number"] for one in book["servers"]] == [4, 7, 21]
    second = book["rotations"][1]["calls"]
    assert [(one["server"], one["meets"]) for one in second] == [(4, False), (7, True), (21, True)]
    assert second[2]["name"] == "Runa Sill"
    assert second[2]["comes_in_for"] == [7]


def test_a_call_of_the_book_is_the_call_that_is_asked_for_alone(bench, prepared):
    opponent, team = prepared
    shown = bench.get(f"{URL}/{opponent}").json
    [rotation] = bench.get(f"{URL}/{opponent}/book?team={team}&turn=2").json["rotations"]
    assert rotation["setter_position"] == 6
    serve = {"kind": "jump_float", "error_ceiling": 0.15}
    frame = {"level": "high_school"}
    asked = {**frame, **serve_request(frame, serve, 2.3)}
    asked["opponent"] = opponent_request(shown, 6, "high_school")
    alone = bridge.call(asked, ARRAYS)
    call = rotation["calls"][1]["call"]
    assert {name: call[name] for name in ("words", "spot", "target", "keep", "p_error", "signal")} == {
        name: alone["best"][name] for name in ("words", "spot", "target", "keep", "p_error", "signal")
    }
    assert asked["opponent"]["passers"] == [
        {"x_m": p["x_m"], "y_m": p["y_m"], "position": p["position"], "number": p["number"], **rated}
        for p in rotation["receivers"]
        if p["role"] == "passer"
        for rated in [{"pass_grade": 1.4, "passes": 40.0} if p["number"] == 17 else {}]
    ]


def test_a_corner_that_a_server_cannot_use_is_shown_with_what_it_costs(bench, prepared):
    opponent, team = prepared
    book = bench.get(f"{URL}/{opponent}/book?team={team}").json
    [hers] = [one["missing"] for one in book["servers"] if one["number"] == 4]
    assert {one["spot"] for one in hers} <= {"left_corner", "left", "right", "right_corner"}
    for one in hers:
        named = [
            lack["points_per_100"]
            for rotation in book["rotations"]
            for lack in rotation["calls"][0]["missing_spots"]
            if lack["spot"] == one["spot"]
        ]
        assert one["points_per_100"] == pytest.approx(sum(named) / 6)
        assert one["most_per_100"] == max(named)
    player = bench.get(f"/api/v1/teams/{team}").json["roster"][0]["id"]
    corners = bench.get(f"/api/v1/teams/{team}/players/{player}/corners").json
    assert [(one["spot"], one["points_per_100"]) for one in corners["missing"]] == [
        (one["spot"], pytest.approx(one["points_per_100"])) for one in hers
    ]
    assert corners["opponents"][0]["name"] == "Harbour Street"


def test_without_a_line_up_all_servers_are_in_the_book_but_no_libero(bench, prepared):
    opponent, team = prepared
    bench.patch(f"/api/v1/teams/{team}", json={"lineup": None})
    book = bench.get(f"{URL}/{opponent}/book?team={team}&turn=1").json
    assert [one["number"] for one in book["servers"]] == [4, 7]
    given = bench.get(f"{URL}/{opponent}/book?team={team}&turn=1&lineup=9,,,,,7").json
    assert [one["number"] for one in given["servers"]] == [9, 7, 21]


def test_the_book_signals_in_the_teams_own_hands(bench, prepared):
    opponent, team = prepared
    match = bench.post("/api/v1/matches", json={}).json
    opened = MatchOpened(us="First team")
    batch = [format_entry(entry) for entry in logged(opened)]
    bench.post(f"/api/v1/matches/{match['id']}/events", json={"events": batch})
    code = match["signals"]
    code["spot"]["left_corner"], code["spot"]["middle"] = code["spot"]["middle"], code["spot"]["left_corner"]
    assert bench.patch(f"/api/v1/matches/{match['id']}", json={"signals": code}).status_code == 200
    [rotation] = bench.get(f"{URL}/{opponent}/book?team={team}&turn=1").json["rotations"]
    call = rotation["calls"][0]["call"]  # she serves from the middle only
    assert call["spot"]["name"] == "middle"
    assert call["signal"][0]["fingers"] == code["spot"]["middle"] == [False, True, False, False, False]
