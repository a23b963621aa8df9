"""What a request is refused for, by rule, field and value, and what is assumed where nothing is said."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import pytest
from cornerwise.engine import bridge
from cornerwise.engine.bridge.ask import asked
from cornerwise.engine.bridge.formation import RULES as FORMATION_RULES
from cornerwise.engine.errors import RuleBroken
from cornerwise.engine.match.readers import RULES as MATCH_RULES
from cornerwise.engine.roster import RULES as ROSTER_RULES

from .asking import Request, ask, places, setter_in

Broken = tuple[str, Callable[[Request], Any], Request, str, Any, str]

FRONT_ROW = {2, 3, 4}  # FIVB 7.4.1.1
THREE = [(2.9, 6.3), (0.0, 6.7), (-2.9, 6.3)]


HERE = {"x_m": 1.0, "y_m": 2.0}
ELSEWHERE = {"x_m": 0.0, "y_m": -9.0}
SIX = places(*[(x / 2, 6.5) for x in range(-3, 3)])

BROKEN: list[Broken] = [
    (
        "degenerate_geometry",
        bridge.geometry,
        {"spot": HERE, "landing": HERE, "setter_start": ELSEWHERE, "pass_target": ELSEWHERE},
        "spot",
        HERE,
        "other than the landing",
    ),
    (
        "degenerate_geometry",
        bridge.geometry,
        {"spot": ELSEWHERE, "landing": HERE, "setter_start": HERE, "pass_target": {"x_m": -1, "y_m": 1}},
        "setter_start",
        HERE,
        "other than the landing",
    ),
    (
        "degenerate_geometry",
        bridge.geometry,
        {"spot": ELSEWHERE, "landing": HERE, "setter_start": {"x_m": 0, "y_m": 1}, "pass_target": HERE},
        "pass_target",
        HERE,
        "other than the landing",
    ),
    ("setter_unknown", ask, {}, "opponent", {}, "setter_position (1 to 6) or opponent.setter_start"),
    (
        "setter_unknown",
        ask,
        {"opponent": {"formation": "two"}},
        "opponent",
        {"formation": "two"},
        "opponent.setter_start",
    ),
    (
        "spot_outside_service_zone",
        ask,
        setter_in(1) | {"server": {"spots": ["middle", {"x_m": 4.6, "y_m": -9.5}]}},
        "server.spots.1",
        {"x_m": 4.6, "y_m": -9.5},
        "x from -4.5 to 4.5 m, y from -12.0 to -9.0 m",
    ),
    (
        "spot_outside_service_zone",
        ask,
        setter_in(1) | {"service_line_m": 7, "server": {"spots": [{"x_m": 0.0, "y_m": -10.1}]}},
        "server.spots.0",
        {"x_m": 0.0, "y_m": -10.1},
        "y from -10.0 to -7.0 m",
    ),
    (
        "contact_past_net",
        ask,
        setter_in(1) | {"server": {"contact_inside_m": 9.0}},
        "server.contact_inside_m",
        9.0,
        "at least 0.5 m from the net",
    ),
    (
        "target_outside_court",
        ask,
        setter_in(1, pass_target={"x_m": -1.0, "y_m": -0.1}),
        "opponent.pass_target",
        {"x_m": -1.0, "y_m": -0.1},
        "x from -4.5 to 4.5 m, y from 0 to 9 m",
    ),
    (
        "out_of_reach",
        ask,
        setter_in(1) | {"server": {"speeds_m_s": [4, 5]}},
        "server.speeds_m_s",
        [4.0, 5.0],
        "carries the ball over the net into the court",
    ),
    ("no_passers", ask, setter_in(1, passers=[]), "opponent.passers", [], "at least one passer"),
    ("too_many_passers", ask, setter_in(2, passers=SIX), "opponent.passers", 6, "at most 5 passers"),
    (
        "passer_outside_court",
        ask,
        setter_in(1, passers=places((0, 6), (4.6, 6))),
        "opponent.passers.1.x_m",
        4.6,
        "-4.5 to 4.5 m, inside the court",
    ),
    (
        "setter_outside_court",
        ask,
        setter_in(1, setter_start={"x_m": 0.0, "y_m": 9.5}),
        "opponent.setter_start.y_m",
        9.5,
        "0 to 9 m, inside the court",
    ),
    (
        "position_taken",
        ask,
        setter_in(1, passers=places((0, 6), position=1)),
        "opponent.passers.0.position",
        1,
        "a position other than 1, which the setter holds",
    ),
    (
        "number_twice",
        ask,
        setter_in(1, passers=[p | {"number": n} for p, n in zip(SIX[1:4], (7, 0, 7), strict=True)]),
        "opponent.passers.2.number",
        7,
        "a number other than 7, which passer 0 wears",
    ),
    (
        "overlap",  # FIVB 7.4.2.2: 6 is between 1 and 5, here further to their left than 5
        ask,
        setter_in(1, passers=[*places((1.0, 6.0), position=5), *places((2.0, 7.0), position=6)]),
        "opponent.passers.1.x_m",
        2.0,
        "at most 1 m: position 6 must not be further to their left than position 5",
    ),
    (
        "no_legal_assignment",  # the setter in 1 at their left sideline: 6 and 5 belong to the left of her
        ask,
        setter_in(1, setter_start={"x_m": 4.5, "y_m": 1.0}, passers=places((-3, 7), (0, 7), (3, 7))),
        "opponent.setter_start",
        {"x_m": 4.5, "y_m": 1.0},
        "places that some legal order of positions allows",
    ),
]


@pytest.mark.parametrize("broken", BROKEN, ids=lambda b: f"{b[0]} {b[3]}")
def test_a_broken_rule_is_named_with_its_field_its_value_and_what_was_expected(broken):
    rule, door, request, field, value, words = broken
    with pytest.raises(RuleBroken) as refused:
        door(request)
    assert (refused.value.rule, refused.value.field) == (rule, field)
    assert refused.value.value == value
    assert words in refused.value.expected
    assert field in str(refused.value)


def test_every_rule_of_a_call_is_shown_broken_and_every_rule_has_its_sentence():
    """Those of a log are shown broken in test_match_reading, of a team's hands in test_live, of rosters and
    formations in test_formation and the tests of the web."""
    elsewhere = {"same_pose", *MATCH_RULES, *ROSTER_RULES, *FORMATION_RULES}
    assert {broken[0] for broken in BROKEN} == set(bridge.RULES) - elsewhere
    assert all(sentence[0].isupper() and sentence.endswith(".") for sentence in bridge.RULES.values())


@pytest.mark.parametrize("rule_broken", BROKEN, ids=lambda b: f"{b[0]} {b[3]}")
def test_a_request_that_keeps_the_rule_is_accepted(rule_broken):
    """Each refusal has a neighbour that is accepted: the rule is about what it names."""
    mended: dict[str, Request] = {
        "setter_unknown": {"opponent": {"setter_start": {"x_m": 0.0, "y_m": 1.0}}},
        "spot_outside_service_zone": setter_in(1) | {"server": {"spots": [{"x_m": 4.5, "y_m": -9.0}]}},
        "contact_past_net": setter_in(1) | {"server": {"contact_inside_m": 3.0}},
        "target_outside_court": setter_in(1, pass_target={"x_m": -1.0, "y_m": 0.0}),
        "out_of_reach": setter_in(1) | {"server": {"speeds_m_s": [4, 14]}},
        "no_passers": setter_in(1, passers=SIX[:1]),
        "too_many_passers": setter_in(2, passers=SIX[:5]),
        "passer_outside_court": setter_in(1, passers=places((0, 6), (4.5, 6))),
        "setter_outside_court": setter_in(
            1, setter_start={"x_m": 0.0, "y_m": 9.0}, passers=places((3.0, 7.0))
        ),
        "position_taken": setter_in(1, passers=places((0, 6), position=6)),
        "number_twice": setter_in(
            1, passers=[p | {"number": n} for p, n in zip(SIX[1:4], (7, 0, 8), strict=True)]
        ),
        "overlap": setter_in(1, passers=[*places((2.0, 6.0), position=5), *places((2.0, 7.0), position=6)]),
        "no_legal_assignment": setter_in(
            1, setter_start={"x_m": -3.2, "y_m": 4.5}, passers=places((-3, 7), (0, 7), (3, 7))
        ),
    }
    if rule_broken[0] == "degenerate_geometry":
        near = {**rule_broken[2], rule_broken[3]: {"x_m": 1.0, "y_m": 2.001}}
        assert bridge.geometry(near)["pass_length_m"] > 0.0
    else:
        assert asked(mended[rule_broken[0]]).passers
        if rule_broken[0] in ("contact_past_net", "out_of_reach"):
            assert ask(mended[rule_broken[0]])["best"]["keep"] > 0.0


@pytest.mark.parametrize("position", range(1, 7))
def test_the_setters_position_is_all_that_is_needed(position):
    answer = ask(setter_in(position))
    situation = answer["situation"]
    assert (situation["level"], situation["net_height_m"], situation["service_line_m"]) == (
        "high_school",
        2.24,
        9.0,
    )
    assert (situation["system"], situation["formation"]) == ("one_setter", "three")
    assert situation["setter_position"] == position
    assert situation["setter_row"] == ("front" if position in FRONT_ROW else "back")
    assert situation["pass_target"] == {"x_m": -1.0, "y_m": 1.0}
    assert situation["setter_faces"] == "left"
    assert situation["server"]["kind"] == "standing_float"
    assert situation["server"]["speeds_m_s"] == pytest.approx([13.5, 15.0])
    assert answer["policy"]["error_ceiling"] is None
    assert 0.0 < answer["best"]["keep"] < 1.0


def test_everything_that_was_not_given_is_said_to_be_assumed():
    names = [assumed["name"] for assumed in ask(setter_in(1))["assumed"]]
    ours = ["level", "net", "server", "pace", "contact", "spin", "scatter"]
    theirs = ["setter_start", "formation", "passers", "ratings", "pass_target"]
    assert names == [*ours, *theirs, "weights"]


def test_what_is_given_is_not_said_to_be_assumed_but_the_weights_always_are():
    request = {
        "level": "college",
        "net_height_m": 2.24,
        "server": {
            "kind": "jump_float",
            "speeds_m_s": [15],
            "contact_height_m": 2.7,
            "contact_inside_m": 0.5,
            "spin_rev_s": 0,
            "scatter": {"across_m": 0.8, "along_m": 1.2},
        },
        "opponent": {
            "setter_position": 1,
            "setter_start": {"x_m": -3.2, "y_m": 4.5},
            "pass_target": {"x_m": -1, "y_m": 1},
            "passers": places(*THREE, pass_grade=2.1),
        },
    }
    assumed = ask(request)["assumed"]
    assert [a["name"] for a in assumed] == ["weights"]
    assert "tuned" in assumed[0]["text"]  # wherever the weights count it is said that they are tuned
    del request["opponent"]["pass_target"], request["server"]["speeds_m_s"]
    assert [a["name"] for a in ask(request)["assumed"]] == ["pace", "pass_target", "weights"]


def test_a_given_scatter_is_kept_and_only_a_stock_one_wobbles():
    scatter = {"across_m": 0.9, "along_m": 1.1}
    given_one = ask(setter_in(2) | {"server": {"kind": "jump_float", "scatter": scatter}})
    assert given_one["situation"]["server"]["scatter"] == scatter
    stock = ask(setter_in(2) | {"level": "college", "server": {"kind": "jump_float"}})["situation"]["server"][
        "scatter"
    ]
    # 0.8 m by 1.2 m and a wobble of 0.20 m by 0.30 m in quadrature
    assert stock == pytest.approx({"across_m": math.sqrt(0.68), "along_m": math.sqrt(1.53)})
    topspin = ask(setter_in(2) | {"level": "college", "server": {"kind": "jump_topspin"}})["situation"][
        "server"
    ]
    assert topspin["scatter"] == {"across_m": 0.9, "along_m": 1.3}


@pytest.mark.parametrize(
    ("level", "kind", "net_m"),
    [
        ("under_14", "standing_float", 2.13),
        ("high_school", "standing_float", 2.24),
        ("college", "jump_float", 2.24),
        ("elite_women", "jump_float", 2.24),
        ("elite_men", "jump_float", 2.43),
    ],
)
def test_a_level_brings_its_usual_kind_and_its_net(level, kind, net_m):
    situation = asked(setter_in(1) | {"level": level}).situation
    assert situation.net_height_m == net_m
    assert [serve.kind for serve in situation.server.serves] == [kind]


@pytest.mark.parametrize(
    ("system", "sets"),
    [  # two setters stand opposite, three positions apart: one of them is always in each row
        ("one_setter", {1: 1, 2: 2, 3: 3, 4: 4, 5: 5, 6: 6}),
        ("two_setters_back_sets", {1: 1, 2: 5, 3: 6, 4: 1, 5: 5, 6: 6}),
        ("two_setters_front_sets", {1: 4, 2: 2, 3: 3, 4: 4, 5: 2, 6: 3}),
    ],
)
def test_of_two_setters_the_one_who_sets_is_found(system, sets):
    for given_position, sets_from in sets.items():
        understood = asked(setter_in(given_position, system=system))
        assert understood.setter.position == sets_from
        assert understood.situation == asked(setter_in(sets_from)).situation


@pytest.mark.parametrize(
    ("start", "position"),
    [((-3.2, 4.5), 1), ((-2.8, 1.0), 2), ((0.0, 1.0), 3), ((3.0, 1.0), 4), ((3.0, 3.2), 5), ((0.0, 3.0), 6)],
)
def test_a_setter_known_by_her_place_alone_is_taken_to_be_in_the_nearest_position(start, position):
    by_place = {"opponent": {"setter_start": {"x_m": start[0], "y_m": start[1]}}}
    answer = ask(by_place)
    assert answer["situation"]["setter_position"] == position
    assert answer["situation"]["setter_start"] == {"x_m": start[0], "y_m": start[1]}
    assert answer["best"] == ask(setter_in(position))["best"]
    assert "setter_start" not in [assumed["name"] for assumed in answer["assumed"]]


def test_facing_the_other_way_and_everything_mirrored_mirrors_the_call():
    left = setter_in(3)["opponent"] | {
        "setter_start": {"x_m": 0.4, "y_m": 1.0},
        "passers": places((2.5, 6.0), (-0.2, 6.8), (-3.1, 6.1)),
        "setter_faces": "left",
    }
    mirrored = {
        "setter_start": {"x_m": -0.4, "y_m": 1.0},
        "passers": places((-2.5, 6.0), (0.2, 6.8), (3.1, 6.1)),
        "pass_target": {"x_m": 1.0, "y_m": 1.0},
        "setter_faces": "right",
    }
    here, there = ask({"opponent": left})["best"], ask({"opponent": mirrored})["best"]
    assert there["keep"] == pytest.approx(here["keep"], abs=1e-9)
    assert there["spot"]["x_m"] == pytest.approx(-here["spot"]["x_m"])
    assert there["target"]["x_m"] == pytest.approx(-here["target"]["x_m"], abs=1e-6)
    assert there["target"]["y_m"] == pytest.approx(here["target"]["y_m"], abs=1e-6)
