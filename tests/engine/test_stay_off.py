"""What to stay off: natural serves that are clearly worse, each for a reason that is true of it."""

from __future__ import annotations

import cmath
import math
from functools import cache
from typing import Any

import pytest
from cornerwise.engine.bridge.ask import asked
from cornerwise.engine.call.search import Search, stands
from cornerwise.engine.call.stay_off import natural_serves, stay_off
from cornerwise.service.arrays import ARRAYS
from shapely import LineString
from shapely import Point as ShapelyPoint

from .asking import ask, places, setter_in

HIGH_SCHOOL = {"level": "high_school", "server": {"kind": "standing_float"}}
PRECISE = {"level": "elite_women", "server": {"kind": "jump_float"}}
WILD = {"across_m": 2.0, "along_m": 2.0}
ASKED = [
    *(HIGH_SCHOOL | {"opponent": {"setter_position": k}} for k in range(1, 7)),
    *(PRECISE | {"opponent": {"setter_position": k, "formation": "four"}} for k in range(1, 7)),
    HIGH_SCHOOL
    | {"opponent": {"setter_position": 4, "setter_faces": "right", "pass_target": {"x_m": 1.0, "y_m": 1.0}}},
    {"opponent": {"setter_position": 1}, "server": {"spots": ["middle"]}},
    {"opponent": {"setter_position": 5}, "server": {"spots": ["right", "right_corner"]}},
]
SAYS = {
    "over_setter": "over their setter, an easy pass",
    "over_target": "over the place their passes go to, an easy pass",
    "straight_back": "straight back where it came from",
    "in_one_view": "their setter sees ball and passer in one view",
    "easy_pass": "an easy pass",
}


@cache
def answers() -> list[dict[str, Any]]:
    return [ask(asked_for) for asked_for in ASKED]


def serves() -> list[tuple[dict[str, Any], dict[str, Any]]]:
    """Return every serve to stay off, with the answer it stands in."""
    return [(answer, serve) for answer in answers() for serve in answer["stay_off"]]


def as_complex(place: dict[str, float]) -> complex:
    return complex(place["x_m"], place["y_m"])


def lane_distances_m(answer: dict[str, Any], serve: dict[str, Any]) -> tuple[float, float]:
    """Return how near the serve's track comes to the setter and to her target, by Shapely."""
    track = LineString([(serve[end]["x_m"], serve[end]["y_m"]) for end in ("contact", "target")])
    setter, target = (answer["situation"][name] for name in ("setter_start", "pass_target"))
    return (
        track.distance(ShapelyPoint(setter["x_m"], setter["y_m"])),
        track.distance(ShapelyPoint(target["x_m"], target["y_m"])),
    )


def pass_angle_deg(answer: dict[str, Any], serve: dict[str, Any]) -> float:
    at = as_complex(serve["target"])
    ways = as_complex(serve["contact"]) - at, as_complex(answer["situation"]["pass_target"]) - at
    return abs(math.degrees(cmath.phase(ways[0] / ways[1])))


def arrival_bearing_deg(answer: dict[str, Any], serve: dict[str, Any]) -> float:
    faces = 1.0 if answer["situation"]["setter_faces"] == "left" else -1.0
    way = as_complex(serve["target"]) - as_complex(answer["situation"]["pass_target"])
    return abs(math.degrees(cmath.phase(way / faces)))


def test_a_serve_to_stay_off_is_at_least_a_point_behind_the_call():
    assert len(serves()) >= 2 * len(ASKED)
    for answer, serve in serves():
        points = 100 * (serve["keep"] - answer["best"]["keep"])
        assert serve["points_per_100"] == pytest.approx(points, abs=1e-9)
        assert points <= -1.0


def test_at_most_three_are_named_and_none_twice_the_worst_first():
    for answer in answers():
        named = [(s["spot"]["x_m"], s["target"]["x_m"], s["target"]["y_m"]) for s in answer["stay_off"]]
        assert len(named) == len(set(named)) <= 3
        keeps = [serve["keep"] for serve in answer["stay_off"]]
        assert keeps == sorted(keeps)


def test_a_serve_to_stay_off_goes_to_a_passer_from_an_end_or_the_middle_of_what_the_server_can_use():
    for answer, serve in serves():
        passers = [p for p in answer["situation"]["players"] if p["role"] == "passer"]
        hers = [p for p in passers if as_complex(p) == as_complex(serve["target"])]
        assert len(hers) == 1
        assert serve["passer"]["position"] == hers[0]["position"]
        row = sorted(s["x_m"] for s in answer["situation"]["server"]["spots"] if s["allowed"])
        assert serve["spot"]["x_m"] in (row[0], min(row, key=abs), row[-1])


def test_over_the_setter_or_her_target_is_said_of_exactly_those_whose_track_comes_within_1_2_metres():
    for answer, serve in serves():
        to_setter, to_target = lane_distances_m(answer, serve)
        assert (serve["why"] == "over_setter") == (to_setter < 1.2)
        assert (serve["why"] == "over_target") == (to_setter >= 1.2 > to_target)
    assert {"over_setter", "over_target"} <= {serve["why"] for _, serve in serves()}


def test_straight_back_is_said_of_balls_that_turn_by_no_more_than_fifteen_degrees():
    for answer, serve in serves():
        if serve["why"] == "straight_back":
            assert pass_angle_deg(answer, serve) <= 15.0
        elif serve["why"] not in ("over_setter", "over_target"):
            assert pass_angle_deg(answer, serve) > 15.0
    assert any(serve["why"] == "straight_back" for _, serve in serves())


def test_in_one_view_is_said_of_passes_that_come_from_in_front_of_the_setter():
    for answer, serve in serves():
        if serve["why"] == "in_one_view":
            assert arrival_bearing_deg(answer, serve) <= 80.0
        elif serve["why"] == "easy_pass":
            assert arrival_bearing_deg(answer, serve) > 80.0
    assert any(serve["why"] == "in_one_view" for _, serve in serves())


def test_the_text_names_spot_passer_and_reason():
    for _, serve in serves():
        spot = serve["spot"]["name"].replace("_", " ").capitalize()
        name = f"the passer in {serve['passer']['position']}"
        assert serve["text"] == f"{spot} to {name}: {SAYS[serve['why']]}"


def test_a_passers_number_is_used_where_it_is_known():
    passers = [{"x_m": x, "y_m": 6.5, "number": n} for x, n in ((2.9, 2), (0.0, 11), (-2.9, 15))]
    answer = ask(setter_in(1, passers=passers))
    assert answer["stay_off"]
    for serve in answer["stay_off"]:
        assert f" to #{serve['passer']['number']}: " in serve["text"]


@pytest.mark.parametrize("k", range(len(ASKED)))
def test_each_reason_is_given_once_before_any_twice_and_always_by_its_worst_serve(k):
    """The same choice made slowly from all natural serves."""
    of = asked(ASKED[k]).situation
    search = Search(ARRAYS, of)
    best = search.best(stands(of), None)
    every = [n for n in natural_serves(search, stands(of)) if n.option.keep <= best.keep - 0.01]
    found = stay_off(search, stands(of), best)
    reasons = {n.why for n in every if n.why != "easy_pass"} or {n.why for n in every}
    assert {n.why for n in found} <= reasons
    assert len({n.why for n in found}) == min(len(reasons), 3)
    for why in {n.why for n in found}:
        worst = min(n.option.keep for n in every if n.why == why)
        assert min(n.option.keep for n in found if n.why == why) == worst
    assert len(found) == min(3, sum(n.why in reasons for n in every))


def test_a_passer_whom_no_serve_can_be_aimed_at_is_nothing_to_stay_off():
    # 0.3 m behind the net: every ball that clears it lands farther on.
    request = {"opponent": {"setter_position": 1, "passers": [{"x_m": 0.0, "y_m": 0.3}]}}
    assert ask(request)["stay_off"] == []


def test_a_serve_at_a_passer_that_is_nearly_as_good_as_the_call_is_no_serve_to_stay_off():
    # A wild server in the middle can hardly do better than at a passer 6.5 m from the net, but does at 5.5 m.
    wild = {"level": "elite_women", "server": PRECISE["server"] | {"spots": ["middle"], "scatter": WILD}}
    named = {y_m: len(ask(wild | setter_in(1, passers=places((0.5, y_m))))["stay_off"]) for y_m in (5.5, 6.5)}
    assert named == {5.5: 1, 6.5: 0}


def test_mirroring_everything_mirrors_what_to_stay_off():
    def mirrored(place: dict[str, float]) -> dict[str, float]:
        return {"x_m": -place["x_m"], "y_m": place["y_m"]}

    passers = [{"x_m": 3.1, "y_m": 6.0}, {"x_m": 0.3, "y_m": 6.9}, {"x_m": -2.6, "y_m": 6.4}]
    here = {
        "setter_start": {"x_m": -2.8, "y_m": 1.0},
        "pass_target": {"x_m": -1.0, "y_m": 1.0},
        "setter_faces": "left",
        "passers": passers,
    }
    there = {
        "setter_start": mirrored(here["setter_start"]),
        "pass_target": mirrored(here["pass_target"]),
        "setter_faces": "right",
        "passers": [mirrored(place) for place in passers],
    }
    one, other = (ask({"opponent": opponent})["stay_off"] for opponent in (here, there))
    assert [s["why"] for s in one] == [s["why"] for s in other]
    for a, b in zip(one, other, strict=True):
        assert b["keep"] == pytest.approx(a["keep"], abs=1e-9)
        assert b["spot"]["x_m"] == pytest.approx(-a["spot"]["x_m"])
        assert b["target"]["x_m"] == pytest.approx(-a["target"]["x_m"])
