"""What is answered: alike in both homes, plain JSON, and every number consistent with the others."""

from __future__ import annotations

import json
import math
from collections.abc import Iterator
from typing import Any

import pytest
from cornerwise.engine import bridge
from cornerwise.engine.bridge.ask import asked
from cornerwise.engine.errors import RuleBroken
from cornerwise.engine.maths import PLAIN
from cornerwise.service.arrays import ARRAYS

from .asking import Request, ask, places, setter_in

VARIED: list[Request] = [
    setter_in(1),
    setter_in(2, formation="five") | {"level": "elite_men", "server": {"kind": "jump_topspin"}},
    setter_in(3, formation="two", setter_faces="right", pass_target={"x_m": 1.0, "y_m": 1.0}),
    setter_in(4, system="two_setters_front_sets", formation="four") | {"level": "college"},
    setter_in(5) | {"level": "under_14", "server": {"kind": "underhand"}, "policy": {"error_ceiling": 0.24}},
    setter_in(6) | {"policy": {"error_ceiling": 0.0}},
    {"opponent": {"setter_start": {"x_m": 1.3, "y_m": 2.2}}, "drag_model": "A"},
    setter_in(
        1,
        passers=[
            *places((2.2, 5.9), number=8, pass_grade=1.3, passes=41),
            *places((-1.7, 7.1), number=9, pass_grade=1.3, passes=41),
        ],
    ),
    setter_in(2, passers=places((0.3, 6.6), position=6)) | {"level": "elite_women"},
    setter_in(3) | {"server": {"spots": ["left", {"x_m": 4.05, "y_m": -11.3}], "has_short_float": True}},
    setter_in(4)
    | {
        "net_height_m": 2.35,
        "service_line_m": 8.0,
        "server": {
            "kind": "plain_overhand",
            "speeds_m_s": [11.5, 13.25, 14.75],
            "contact_height_m": 2.05,
            "contact_inside_m": 0.3,
            "spin_rev_s": 3.5,
            "scatter": {"across_m": 1.35, "along_m": 1.9},
        },
    },
    setter_in(5, formation="four")
    | {"level": "college", "net_height_m": 2.43, "policy": {"use_start_ceiling": True}},
]


def varied(k: int) -> Request:
    return ask(VARIED[k])


every_request = pytest.mark.parametrize("k", range(len(VARIED)))


def differences(a: Any, b: Any, at: str = "") -> Iterator[str]:
    """Yield where two answers differ: by structure, by type, by words, or by more than 1e-9."""
    if type(a) is not type(b):
        yield f"{at}: {type(a)} and {type(b)}"
    elif isinstance(a, dict):
        if a.keys() != b.keys():
            yield f"{at}: {a.keys() ^ b.keys()}"
        else:
            for key in a:
                yield from differences(a[key], b[key], f"{at}.{key}")
    elif isinstance(a, list):
        if len(a) != len(b):
            yield f"{at}: {len(a)} and {len(b)} items"
        else:
            for i, (x, y) in enumerate(zip(a, b, strict=True)):
                yield from differences(x, y, f"{at}.{i}")
    elif isinstance(a, float):
        if not abs(a - b) <= 1e-9:
            yield f"{at}: {a!r} and {b!r}"
    elif a != b:
        yield f"{at}: {a!r} and {b!r}"


@every_request
def test_numbers_and_arrays_give_the_same_answer_everywhere(k):
    assert list(differences(bridge.call(VARIED[k], PLAIN), varied(k))) == []


def test_differences_are_found():
    assert list(differences({"a": [1.0, "x"]}, {"a": [1.0 + 1e-8, "y"]})) == [
        ".a.0: 1.0 and 1.00000001",
        ".a.1: 'x' and 'y'",
    ]
    assert list(differences({"a": 1}, {"a": 1.0})) == [".a: <class 'int'> and <class 'float'>"]


def plain_values(value: Any) -> bool:
    """Return whether a value is what JSON has, and no array's own kind of number."""
    if type(value) is dict:
        return all(type(key) is str and plain_values(item) for key, item in value.items())
    if type(value) is list:
        return all(map(plain_values, value))
    return type(value) in (str, int, bool, type(None)) or (type(value) is float and math.isfinite(value))


@every_request
def test_an_answer_is_plain_json(k):
    assert plain_values(varied(k))
    assert json.loads(json.dumps(varied(k), allow_nan=False)) == varied(k)


@every_request
def test_a_question_is_left_as_it_was_and_asked_again_is_answered_the_same(k):
    before = json.dumps(VARIED[k], sort_keys=True)
    assert bridge.call(VARIED[k], ARRAYS) == varied(k)
    assert json.dumps(VARIED[k], sort_keys=True) == before


def every_call(answer: Request) -> list[Request]:
    return [answer["best"], *answer["alternatives"]]


@every_request
def test_a_calls_chances_fit_together(k):
    for found in every_call(varied(k)):
        assert found["p_error"] + found["p_in"] == pytest.approx(1.0, abs=1e-12)
        assert sum(found["grades"]) == pytest.approx(found["p_in"], abs=1e-9)
        assert found["p_ace"] == found["grades"][0]
        assert found["p_ace"] < found["keep"] < found["p_in"]
        mean = sum(grade * chance for grade, chance in enumerate(found["grades"])) / sum(found["grades"])
        assert found["pass_grade"] == pytest.approx(mean, abs=1e-9)
        assert 0.0 < found["pass_grade"] < 3.0


@every_request
def test_a_calls_geometry_is_that_of_the_geometry_door(k):
    situation = varied(k)["situation"]
    for found in every_call(varied(k)):
        seen = bridge.geometry(
            {
                "spot": found["contact"],
                "landing": {axis: found["target"][axis] for axis in ("x_m", "y_m")},
                "setter_start": situation["setter_start"],
                "pass_target": situation["pass_target"],
                "setter_faces": situation["setter_faces"],
            }
        )
        assert list(differences({name: found[name] for name in seen}, seen)) == []


@every_request
def test_a_calls_flight_is_that_of_the_flight_door(k):
    situation = varied(k)["situation"]
    for found in every_call(varied(k)):
        if found["kind"] != situation["server"]["kind"]:
            continue
        way = (
            found["target"]["x_m"] - found["contact"]["x_m"],
            found["target"]["y_m"] - found["contact"]["y_m"],
        )
        flown = bridge.flight(
            {
                "kind": found["kind"],
                "speed_m_s": found["speed_m_s"],
                "contact_height_m": situation["server"]["contact_height_m"],
                "spin_rev_s": situation["server"]["spin_rev_s"],
                "range_m": math.hypot(*way) - 1e-9,  # an aim may lie at the longest range itself
                "net_height_m": situation["net_height_m"],
                "distance_to_net_m": -found["contact"]["y_m"] * math.hypot(*way) / way[1],
                "drag_model": varied(k)["drag"]["model"],
            }
        )
        assert flown["reachable"]
        assert found["flight_time_s"] == pytest.approx(flown["flight_time_s"], abs=0.001)  # 1 ms
        assert found["net_margin_m"] == pytest.approx(flown["net_margin_m"], abs=0.006)  # 5 mm and rounding
        assert found["net_margin_m"] > -0.006  # an aim clears the net
        assert found["launch_angle_deg"] == pytest.approx(flown["launch_angle_deg"], abs=0.1)


@every_request
def test_the_passer_of_a_call_is_the_nearest_and_moves_as_far_as_is_said(k):
    passers = [p for p in varied(k)["situation"]["players"] if p["role"] == "passer"]
    for found in every_call(varied(k)):
        at = found["target"]["x_m"], found["target"]["y_m"]
        reach = {p["position"]: math.dist(at, (p["x_m"], p["y_m"])) for p in passers}
        assert found["passer"]["move_m"] == pytest.approx(min(reach.values()), abs=1e-9)
        assert reach[found["passer"]["position"]] == pytest.approx(min(reach.values()), abs=1e-9)


@every_request
def test_the_ellipse_of_a_call_holds_half_of_its_serves(k):
    # Half of a bivariate normal lies within sqrt(2 ln 2) = 1.17741 sds: 1 - exp(-r^2/2) = 1/2.
    for found in every_call(varied(k)):
        scatter, target, contact = found["scatter"], found["target"], found["contact"]
        ellipse = scatter["ellipse"]
        assert ellipse["semi_across_m"] == pytest.approx(1.17741 * scatter["across_m"], rel=1e-5)
        assert ellipse["semi_along_m"] == pytest.approx(1.17741 * scatter["along_m"], rel=1e-5)
        way = target["x_m"] - contact["x_m"], target["y_m"] - contact["y_m"]
        assert ellipse["bearing_deg"] == pytest.approx(math.degrees(math.atan2(*way)), abs=1e-9)
        across = math.hypot(*way) * math.radians(scatter["bearing_sd_deg"])
        assert scatter["across_m"] == pytest.approx(across, abs=1e-9)
        assert (ellipse["x_m"], ellipse["y_m"], ellipse["share"]) == (target["x_m"], target["y_m"], 0.5)


@every_request
def test_the_plain_serve_goes_from_the_middle_deep_to_the_middle(k):
    for found in every_call(varied(k)):
        plain = found["plain"]
        assert (plain["spot"]["name"], plain["spot"]["x_m"]) == ("middle", 0.0)
        assert plain["spot"]["y_m"] == found["spot"]["y_m"]
        assert (plain["target"]["zone"], plain["target"]["depth"]) == (6, "deep")
        assert (plain["target"]["x_m"], plain["target"]["y_m"]) == (0.0, 7.0)


@every_request
def test_a_call_is_for_a_spot_and_a_pace_the_server_has_and_a_target_on_court(k):
    server = varied(k)["situation"]["server"]
    allowed = [(s["x_m"], s["y_m"]) for s in server["spots"] if s["allowed"]]
    for found in every_call(varied(k)):
        assert (found["spot"]["x_m"], found["spot"]["y_m"]) in allowed
        if found["kind"] == server["kind"]:
            assert found["speed_m_s"] in server["speeds_m_s"]
        assert abs(found["target"]["x_m"]) <= 4.5
        assert 0.0 < found["target"]["y_m"] <= 9.0


def test_a_short_float_competes_with_the_servers_own_serve():
    # College floats at passers who stand deep: the short one is hers to choose, and is chosen.
    deep = setter_in(5, passers=places((2.9, 8.6), (0.0, 8.8), (-2.9, 8.6)))
    server = {"kind": "jump_float", "scatter": {"across_m": 0.5, "along_m": 0.7}}
    without = ask(deep | {"level": "college", "server": server})
    having = ask(deep | {"level": "college", "server": server | {"has_short_float": True}})
    assert having["best"]["kind"] == "short_float"
    assert having["best"]["speed_m_s"] == 12.5
    assert having["best"]["keep"] > without["best"]["keep"]
    assert having["situation"]["server"]["has_short_float"] is True
    assert {without["best"]["kind"], *(a["kind"] for a in without["alternatives"])} == {"jump_float"}
    assert having["best"]["words"]["kind"] == "short float"


@pytest.mark.parametrize("position", [1, 3, 4])
def test_a_serve_more_to_choose_from_never_makes_the_call_worse(position):
    one, two = (
        ask(setter_in(position) | {"server": {"has_short_float": has}})["best"] for has in (False, True)
    )
    assert two["keep"] >= one["keep"] - 1e-9


SAYS = "Topspin by drag model {model}, one of two published descriptions of the flight;"
SAYS += " the other, {other}, {says}."


@pytest.mark.parametrize(
    ("kind", "level", "net_m"), [("standing_topspin", "high_school", 2.24), ("jump_topspin", "college", 2.43)]
)
@pytest.mark.parametrize("position", [2, 4])
def test_a_topspin_call_says_which_model_of_drag_it_rests_on_and_whether_the_other_agrees(
    kind, level, net_m, position
):
    request = setter_in(position) | {"level": level, "net_height_m": net_m, "server": {"kind": kind}}
    by = {model: ask(request | {"drag_model": model}) for model in "AB"}
    side = {
        model: (answer["best"]["spot"]["x_m"] > 0, answer["best"]["target"]["x_m"] > 0)
        for model, answer in by.items()
    }
    assert ask(request)["drag"]["model"] == "B"
    for model, other in ("AB", "BA"):
        drag = by[model]["drag"]
        assert (drag["model"], drag["other"]) == (model, other)
        assert drag["other_agrees"] is (side["A"] == side["B"])
        says = "agrees" if side["A"] == side["B"] else f"says {by[other]['best']['words']['call']}"
        assert drag["text"] == SAYS.format(model=model, other=other, says=says)


def test_a_model_that_finds_no_serve_says_so():
    # 10.5 m/s with much spin: over the net with model A's little drag, not with model B's.
    server = {"kind": "jump_topspin", "speeds_m_s": [10.5], "spin_rev_s": 12}
    slow = setter_in(1) | {"drag_model": "A", "server": server}
    none = SAYS.format(model="A", other="B", says="finds no serve that is in")
    assert ask(slow)["drag"]["text"] == none
    assert ask(slow)["drag"]["other_agrees"] is False
    with pytest.raises(RuleBroken) as refused:
        ask(slow | {"drag_model": "B"})
    assert refused.value.rule == "out_of_reach"


def test_of_a_float_no_model_of_drag_is_in_question():
    drag = ask(setter_in(2))["drag"]
    assert drag == {"model": "B", "other": "A", "other_agrees": None, "text": None}


def test_geometry_answers_the_closed_form_of_45_degrees():
    seen = bridge.geometry(
        {
            "spot": {"x_m": 4, "y_m": -9},
            "landing": {"x_m": 4, "y_m": 6},
            "setter_start": {"x_m": 4, "y_m": 1},
            "pass_target": {"x_m": -1, "y_m": 1},
        }
    )
    assert seen["pass_angle_deg"] == pytest.approx(45.0, abs=1e-9)
    assert seen["platform_turn_deg"] == pytest.approx(22.5, abs=1e-9)
    assert seen["pass_length_m"] == pytest.approx(math.sqrt(50), abs=1e-12)
    assert seen["arrival_bearing_deg"] == pytest.approx(45.0, abs=1e-9)
    assert seen["sight_angle_deg"] == pytest.approx(0.0, abs=1e-9)
    assert seen["sight_band"] == "in_view"
    assert seen["setter_run_m"] == 5.0
    assert seen["crosses_setter_lane"] is True


def test_a_flight_out_of_reach_has_no_time_and_says_how_far_the_ball_can_go():
    request = {
        "kind": "underhand",
        "speed_m_s": 12,
        "contact_height_m": 1.0,
        "spin_rev_s": 0,
        "range_m": 14.0,
        "net_height_m": 2.24,
    }
    flown = bridge.flight(request)
    assert flown["reachable"] is False
    assert flown["flight_time_s"] is flown["launch_angle_deg"] is flown["net_margin_m"] is None
    assert flown["longest_range_m"] == pytest.approx(11.5, abs=0.05)  # worked out with SciPy for this ball
    assert bridge.flight(request | {"range_m": 11.0})["reachable"] is True


def test_stock_offers_what_a_first_screen_cycles_through():
    stock = bridge.stock()
    assert plain_values(stock)
    assert stock["start_level"] == "high_school"
    assert [level["level"] for level in stock["levels"]] == [
        "under_14",
        "high_school",
        "college",
        "elite_women",
        "elite_men",
    ]
    assert stock["formations"] == ["two", "three", "four", "five"]
    assert {kind["kind"] for kind in stock["kinds"]} >= {
        s["kind"] for lv in stock["levels"] for s in lv["servers"]
    }
    assert (
        sum(len(level["servers"]) for level in stock["levels"]) == 19 + 5
    )  # and a short float for each level


def test_each_stock_server_offered_can_be_asked_for_by_level_kind_and_net():
    for level in bridge.stock()["levels"]:
        kinds = [server["kind"] for server in level["servers"]]
        assert level["usual_kind"] in kinds
        for server in level["servers"]:
            request = setter_in(1) | {
                "level": level["level"],
                "net_height_m": server["net_height_m"],
                "server": {"kind": server["kind"]},
            }
            understood = asked(request).situation.server
            (serve,) = understood.serves
            assert list(serve.speeds_m_s) == pytest.approx(server["speeds_m_s"])
            assert serve.contact_height_m == server["contact_height_m"]
            assert serve.spin_rev_s == server["spin_rev_s"]
            assert understood.service_line_m == server["service_line_m"]
