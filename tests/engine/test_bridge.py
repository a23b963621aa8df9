"""The doors of the engine: what is refused, what is assumed, and that both homes answer alike."""

from __future__ import annotations

import json
import math
import random
from collections.abc import Callable, Iterator
from functools import cache
from typing import Any

import pytest
from cornerwise.engine import bridge
from cornerwise.engine.bridge.ask import asked
from cornerwise.engine.errors import RuleBroken
from cornerwise.engine.maths import PLAIN
from cornerwise.service.arrays import ARRAYS
from hypothesis import given, settings
from hypothesis import strategies as st

Request = dict[str, Any]
Broken = tuple[str, Callable[[Request], Any], Request, str, Any, str]

BACK_ROW, FRONT_ROW = {1, 5, 6}, {2, 3, 4}
THREE = [(2.9, 6.3), (0.0, 6.7), (-2.9, 6.3)]


def places(*xy: tuple[float, float], **more: Any) -> list[Request]:
    return [{"x_m": x, "y_m": y, **more} for x, y in xy]


@cache
def _called(request: str) -> Request:
    return bridge.call(json.loads(request), ARRAYS)


def call(request: Request) -> Request:
    """Return the answer to a request; the same request is asked once."""
    return _called(json.dumps(request))


def setter_in(position: int, **opponent: Any) -> Request:
    return {"opponent": {"setter_position": position, **opponent}}


# ---- what is refused: rule, door, request, field, value, words of what was expected

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
    ("setter_unknown", call, {}, "opponent", {}, "setter_position (1 to 6) or opponent.setter_start"),
    (
        "setter_unknown",
        call,
        {"opponent": {"formation": "two"}},
        "opponent",
        {"formation": "two"},
        "opponent.setter_start",
    ),
    (
        "spot_outside_service_zone",
        call,
        setter_in(1) | {"server": {"spots": ["middle", {"x_m": 4.6, "y_m": -9.5}]}},
        "server.spots.1",
        {"x_m": 4.6, "y_m": -9.5},
        "x from -4.5 to 4.5 m, y from -12.0 to -9.0 m",
    ),
    (
        "spot_outside_service_zone",
        call,
        setter_in(1) | {"service_line_m": 7, "server": {"spots": [{"x_m": 0.0, "y_m": -10.1}]}},
        "server.spots.0",
        {"x_m": 0.0, "y_m": -10.1},
        "y from -10.0 to -7.0 m",
    ),
    (
        "contact_past_net",
        call,
        setter_in(1) | {"server": {"contact_inside_m": 9.0}},
        "server.contact_inside_m",
        9.0,
        "at least 0.5 m from the net",
    ),
    (
        "target_outside_court",
        call,
        setter_in(1, pass_target={"x_m": -1.0, "y_m": -0.1}),
        "opponent.pass_target",
        {"x_m": -1.0, "y_m": -0.1},
        "x from -4.5 to 4.5 m, y from 0 to 9 m",
    ),
    (
        "out_of_reach",
        call,
        setter_in(1) | {"server": {"speeds_m_s": [4, 5]}},
        "server.speeds_m_s",
        [4.0, 5.0],
        "carries the ball over the net into the court",
    ),
    ("no_passers", call, setter_in(1, passers=[]), "opponent.passers", [], "at least one passer"),
    ("too_many_passers", call, setter_in(2, passers=SIX), "opponent.passers", 6, "at most 5 passers"),
    (
        "passer_outside_court",
        call,
        setter_in(1, passers=places((0, 6), (4.6, 6))),
        "opponent.passers.1.x_m",
        4.6,
        "-4.5 to 4.5 m, inside the court",
    ),
    (
        "setter_outside_court",
        call,
        setter_in(1, setter_start={"x_m": 0.0, "y_m": 9.5}),
        "opponent.setter_start.y_m",
        9.5,
        "0 to 9 m, inside the court",
    ),
    (
        "position_taken",
        call,
        setter_in(1, passers=places((0, 6), position=1)),
        "opponent.passers.0.position",
        1,
        "a position other than 1, which the setter holds",
    ),
    (
        "overlap",  # FIVB 7.4.2.2: 6 is between 1 and 5, here further to their left than 5
        call,
        setter_in(1, passers=[*places((1.0, 6.0), position=5), *places((2.0, 7.0), position=6)]),
        "opponent.passers.1.x_m",
        2.0,
        "at most 1 m: position 6 must not be further to their left than position 5",
    ),
    (
        "no_legal_assignment",  # the setter in 1 at their left sideline: 6 and 5 belong to the left of her
        call,
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


def test_every_rule_is_shown_broken_and_has_its_sentence():
    assert {broken[0] for broken in BROKEN} == set(bridge.RULES)
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
            assert call(mended[rule_broken[0]])["best"]["keep"] > 0.0


# ---- what is assumed


@pytest.mark.parametrize("position", range(1, 7))
def test_the_setters_position_is_all_that_is_needed(position):
    answer = call(setter_in(position))
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
    names = [assumed["name"] for assumed in call(setter_in(1))["assumed"]]
    known = "level server pace scatter setter_start formation passers ratings pass_target weights"
    assert names == known.split()


def test_what_is_given_is_not_said_to_be_assumed_but_the_weights_always_are():
    request = {
        "level": "college",
        "server": {"kind": "jump_float", "speeds_m_s": [15], "scatter": {"across_m": 0.8, "along_m": 1.2}},
        "opponent": {
            "setter_position": 1,
            "setter_start": {"x_m": -3.2, "y_m": 4.5},
            "pass_target": {"x_m": -1, "y_m": 1},
            "passers": places(*THREE, pass_grade=2.1),
        },
    }
    assumed = call(request)["assumed"]
    assert [a["name"] for a in assumed] == ["weights"]
    assert "tuned" in assumed[0]["text"]  # wherever the weights count it is said that they are tuned
    del request["opponent"]["pass_target"], request["server"]["speeds_m_s"]
    assert [a["name"] for a in call(request)["assumed"]] == ["pace", "pass_target", "weights"]


def test_a_given_scatter_is_kept_and_only_a_stock_one_wobbles():
    scatter = {"across_m": 0.9, "along_m": 1.1}
    given_one = call(setter_in(2) | {"server": {"kind": "jump_float", "scatter": scatter}})
    assert given_one["situation"]["server"]["scatter"] == scatter
    stock = call(setter_in(2) | {"level": "college", "server": {"kind": "jump_float"}})["situation"][
        "server"
    ]["scatter"]
    # 0.8 m by 1.2 m and a wobble of 0.20 m by 0.30 m in quadrature
    assert stock == pytest.approx({"across_m": math.sqrt(0.68), "along_m": math.sqrt(1.53)})
    topspin = call(setter_in(2) | {"level": "college", "server": {"kind": "jump_topspin"}})["situation"][
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
    answer = call(by_place)
    assert answer["situation"]["setter_position"] == position
    assert answer["situation"]["setter_start"] == {"x_m": start[0], "y_m": start[1]}
    assert answer["best"] == call(setter_in(position))["best"]
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
    here, there = call({"opponent": left})["best"], call({"opponent": mirrored})["best"]
    assert there["keep"] == pytest.approx(here["keep"], abs=1e-9)
    assert there["spot"]["x_m"] == pytest.approx(-here["spot"]["x_m"])
    assert there["target"]["x_m"] == pytest.approx(-here["target"]["x_m"], abs=1e-6)
    assert there["target"]["y_m"] == pytest.approx(here["target"]["y_m"], abs=1e-6)


# ---- who stands where


def in_rotational_order(players: list[Request]) -> bool:
    """FIVB 7.4.2, 7.4.3 written out again: level is in order; x grows to the receivers' left."""
    at = {p["position"]: p for p in players}
    front_before_back = all(at[f]["y_m"] <= at[b]["y_m"] for f, b in ((2, 1), (3, 6), (4, 5)))
    front = at[2]["x_m"] <= at[3]["x_m"] <= at[4]["x_m"]
    back = at[1]["x_m"] <= at[6]["x_m"] <= at[5]["x_m"]
    return front_before_back and front and back


def test_passers_without_positions_are_given_legal_ones():
    rng = random.Random(11)
    found = 0
    while found < 60:
        passers = [(rng.uniform(-4.5, 4.5), rng.uniform(0, 9)) for _ in range(rng.randint(1, 5))]
        try:
            answer = asked(setter_in(rng.randint(1, 6), passers=places(*passers)))
        except RuleBroken:
            continue
        found += 1
        players = [{"position": p.position, "x_m": p.place.x_m, "y_m": p.place.y_m} for p in answer.players]
        assert sorted(p["position"] for p in players) == [1, 2, 3, 4, 5, 6]
        assert in_rotational_order(players)
        assert sorted((p.place.x_m, p.place.y_m) for p in answer.passers) == sorted(passers)


@pytest.mark.parametrize("formation", ["two", "three", "four", "five"])
@pytest.mark.parametrize("position", range(1, 7))
def test_stock_passers_given_by_place_alone_are_the_stock_formation(formation, position):
    stock = asked(setter_in(position, formation=formation))
    xy = [(p.place.x_m, p.place.y_m) for p in stock.passers]
    again = asked(setter_in(position, passers=places(*xy)))
    assert again.situation == stock.situation
    assert again.formation is None


DRAGGED_FROM = [
    setter_in(k, formation=f)
    for k, f in [(1, "three"), (2, "four"), (3, "two"), (4, "five"), (5, "five"), (6, "three")]
] + [
    setter_in(4, passers=places((3.3, 6.0), (0.4, 7.5), (-2.0, 5.5))),
    {"opponent": {"setter_start": {"x_m": 1.0, "y_m": 2.0}, "passers": places((3.0, 6.0), (-1.0, 7.0))}},
]


@cache
def formations() -> list[Request]:
    return [call(request)["situation"] for request in DRAGGED_FROM]


def dragged(situation: Request, position: int, x_m: float, y_m: float) -> Request:
    """Return the request that a screen sends once a player was dragged: every known place and position."""
    players = [
        p | ({"x_m": x_m, "y_m": y_m} if p["position"] == position else {}) for p in situation["players"]
    ]
    setter = next(p for p in players if p["role"] == "setter")
    return {
        "opponent": {
            "setter_position": setter["position"],
            "setter_start": {"x_m": setter["x_m"], "y_m": setter["y_m"]},
            "passers": [
                {name: p[name] for name in ("x_m", "y_m", "position")}
                for p in players
                if p["role"] == "passer"
            ],
        }
    }


def movable(situation: Request) -> list[Request]:
    return [p for p in situation["players"] if p["role"] != "other"]


@settings(max_examples=150, deadline=None)  # the first example asks for the formations
@given(st.sampled_from(range(len(DRAGGED_FROM))), st.integers(0, 9), st.floats(0, 1), st.floats(0, 1))
def test_a_player_may_be_dragged_to_any_place_in_her_box(k, who, across, along):
    situation = formations()[k]
    player = movable(situation)[who % len(movable(situation))]
    box = player["limits"]
    x_m = min(box["x_min_m"] + across * (box["x_max_m"] - box["x_min_m"]), box["x_max_m"])
    y_m = min(box["y_min_m"] + along * (box["y_max_m"] - box["y_min_m"]), box["y_max_m"])
    understood = asked(dragged(situation, player["position"], x_m, y_m))
    moved = next(p for p in understood.players if p.position == player["position"])
    assert (moved.place.x_m, moved.place.y_m, moved.role) == (x_m, y_m, player["role"])


@pytest.mark.parametrize("k", range(len(DRAGGED_FROM)))
def test_a_call_follows_to_every_corner_of_a_box(k):
    situation = formations()[k]
    for player in movable(situation)[::2]:
        box = player["limits"]
        answer = call(dragged(situation, player["position"], box["x_max_m"], box["y_min_m"]))
        moved = next(p for p in answer["situation"]["players"] if p["position"] == player["position"])
        assert (moved["x_m"], moved["y_m"]) == (box["x_max_m"], box["y_min_m"])
        assert answer["best"]["words"]["call"]


def just_outside(box: Request, by_m: float) -> Iterator[tuple[str, float, float]]:
    """Yield which side is left, and a place so far outside it, level with the middle of the box."""
    middle = {axis: (box[f"{axis}_min_m"] + box[f"{axis}_max_m"]) / 2 for axis in "xy"}
    for side, step in (("x_min_m", -by_m), ("x_max_m", by_m), ("y_min_m", -by_m), ("y_max_m", by_m)):
        at = middle | {side[0]: box[side] + step}
        yield side, at["x"], at["y"]


@pytest.mark.parametrize("k", range(len(DRAGGED_FROM)))
def test_a_place_a_centimetre_outside_a_box_is_refused_by_the_rule_that_set_its_edge(k):
    situation = formations()[k]
    for player in movable(situation):
        for side, x_m, y_m in just_outside(player["limits"], 0.01):
            with pytest.raises(RuleBroken) as refused:
                asked(dragged(situation, player["position"], x_m, y_m))
            held_by = player["limits"]["by"][side]
            if held_by in ("the sideline", "the net", "the end line"):
                assert refused.value.rule == f"{player['role']}_outside_court"
            else:
                assert refused.value.rule == "overlap"
                assert held_by.removeprefix("the player in ") in refused.value.expected


def test_a_box_says_who_or_what_holds_each_side_and_that_is_true():
    lines = {"x_min_m": ("the sideline", -4.5), "x_max_m": ("the sideline", 4.5)}
    lines |= {"y_min_m": ("the net", 0.0), "y_max_m": ("the end line", 9.0)}
    for situation in formations():
        at = {p["position"]: p for p in situation["players"]}
        for player in movable(situation):
            for side, held_by in player["limits"]["by"].items():
                edge = player["limits"][side]
                if held_by.startswith("the player in "):
                    assert at[int(held_by[-1])][f"{side[0]}_m"] == edge
                else:
                    assert (held_by, edge) == lines[side]


def test_every_player_stands_in_her_own_box():
    for situation in formations():
        for player in situation["players"]:
            box = player["limits"]
            assert box["x_min_m"] <= player["x_m"] <= box["x_max_m"]
            assert box["y_min_m"] <= player["y_m"] <= box["y_max_m"]


@pytest.mark.parametrize("formation", ["two", "three", "four", "five"])
def test_passers_dragged_without_a_word_of_the_setter_leave_her_at_her_start(formation):
    for position in range(1, 7):
        situation = call(setter_in(position, formation=formation))["situation"]
        request = dragged(situation, 0, 0.0, 0.0)
        del request["opponent"]["setter_start"]
        setter = asked(request).setter
        start = situation["setter_start"]
        assert (setter.place.x_m, setter.place.y_m) == (start["x_m"], start["y_m"])


# ---- where the server stands, and with what


def test_a_server_with_fewer_spots_is_told_what_the_missing_ones_would_win():
    whole = call(setter_in(4))
    assert whole["limits"]["missing_spots"] == []
    limited = call(setter_in(4) | {"server": {"spots": ["right", "right_corner"]}})
    missing = {m["spot"]: m for m in limited["limits"]["missing_spots"]}
    assert whole["best"]["spot"]["name"] == "left_corner"
    assert "right_corner" not in missing
    for name, found in missing.items():
        alone = call(setter_in(4) | {"server": {"spots": [name]}})["best"]["keep"]
        assert found["points_per_100"] == pytest.approx(100 * (alone - limited["best"]["keep"]), abs=1e-7)
        said = f"The {name.replace('_', ' ')} would win {found['points_per_100']:.1f} more in 100"
        assert found["text"] == said
    costs = [m["points_per_100"] for m in limited["limits"]["missing_spots"]]
    assert costs == sorted(costs, reverse=True)
    best_missing = whole["best"]["keep"] - limited["best"]["keep"]
    assert costs[0] == pytest.approx(100 * best_missing, abs=1e-7)


def test_a_spot_that_would_win_nothing_is_not_missed():
    limited = call(setter_in(1) | {"server": {"spots": ["right_corner"]}})
    assert limited["best"] == call(setter_in(1))["best"]
    assert limited["limits"]["missing_spots"] == []


def test_missing_spots_keep_to_the_ceiling_too():
    limited = setter_in(4) | {"server": {"spots": ["right_corner"]}, "policy": {"error_ceiling": 0.10}}
    alone = setter_in(4) | {"server": {"spots": ["left_corner"]}, "policy": {"error_ceiling": 0.10}}
    answer = call(limited)
    gain = 100 * (call(alone)["best"]["keep"] - answer["best"]["keep"])
    missing = {m["spot"]: m["points_per_100"] for m in answer["limits"]["missing_spots"]}
    assert missing["left_corner"] == pytest.approx(gain, abs=1e-7)


def test_a_spot_of_her_own_is_served_from_and_listed():
    own = {"x_m": 2.75, "y_m": -10.5}
    answer = call(setter_in(1) | {"server": {"spots": [own]}})
    assert answer["best"]["spot"] == {"name": "right", **own}
    assert answer["best"]["contact"] == own
    spots = answer["situation"]["server"]["spots"]
    assert [spot for spot in spots if spot["allowed"]] == [{"name": "right", **own, "allowed": True}]
    assert len(spots) == 10


def test_the_ball_is_hit_nearer_the_net_than_the_spot():
    answer = call(setter_in(1) | {"server": {"kind": "jump_float", "contact_inside_m": 1.2}})
    for found in (answer["best"], *answer["alternatives"]):
        assert found["contact"]["y_m"] == pytest.approx(found["spot"]["y_m"] + 1.2, abs=1e-12)
        assert found["contact"]["x_m"] == found["spot"]["x_m"]


def test_a_short_float_competes_with_the_servers_own_serve():
    # College floats at passers who stand deep: the short one is hers to choose, and is chosen.
    deep = setter_in(5, passers=places((2.9, 8.6), (0.0, 8.8), (-2.9, 8.6)))
    server = {"kind": "jump_float", "scatter": {"across_m": 0.5, "along_m": 0.7}}
    without = call(deep | {"level": "college", "server": server})
    having = call(deep | {"level": "college", "server": server | {"has_short_float": True}})
    assert having["best"]["kind"] == "short_float"
    assert having["best"]["speed_m_s"] == 12.5
    assert having["best"]["keep"] > without["best"]["keep"]
    assert having["situation"]["server"]["has_short_float"] is True
    assert {without["best"]["kind"], *(a["kind"] for a in without["alternatives"])} == {"jump_float"}
    assert having["best"]["words"]["kind"] == "short float"


@pytest.mark.parametrize("position", [1, 3, 4])
def test_a_serve_more_to_choose_from_never_makes_the_call_worse(position):
    one, two = (
        call(setter_in(position) | {"server": {"has_short_float": has}})["best"] for has in (False, True)
    )
    assert two["keep"] >= one["keep"] - 1e-9


@pytest.mark.parametrize(
    ("kind", "level", "net_m"), [("standing_topspin", "high_school", 2.24), ("jump_topspin", "college", 2.43)]
)
@pytest.mark.parametrize("position", [2, 4])
def test_a_topspin_call_says_which_model_of_drag_it_rests_on_and_whether_the_other_agrees(
    kind, level, net_m, position
):
    request = setter_in(position) | {"level": level, "net_height_m": net_m, "server": {"kind": kind}}
    by = {model: call(request | {"drag_model": model}) for model in "AB"}
    side = {
        model: (answer["best"]["spot"]["x_m"] > 0, answer["best"]["target"]["x_m"] > 0)
        for model, answer in by.items()
    }
    assert call(request)["drag"]["model"] == "B"
    for model, other in ("AB", "BA"):
        drag = by[model]["drag"]
        assert (drag["model"], drag["other"]) == (model, other)
        assert drag["other_agrees"] is (side["A"] == side["B"])
        says = "agrees" if side["A"] == side["B"] else f"says {by[other]['best']['words']['call']}"
        assert drag["text"] == f"Topspin by drag model {model}; model {other} {says}."


def test_a_model_that_finds_no_serve_says_so():
    # 10.5 m/s with much spin: over the net with model A's little drag, not with model B's.
    server = {"kind": "jump_topspin", "speeds_m_s": [10.5], "spin_rev_s": 12}
    slow = setter_in(1) | {"drag_model": "A", "server": server}
    assert call(slow)["drag"]["text"] == "Topspin by drag model A; model B finds no serve that is in."
    assert call(slow)["drag"]["other_agrees"] is False
    with pytest.raises(RuleBroken) as refused:
        call(slow | {"drag_model": "B"})
    assert refused.value.rule == "out_of_reach"


def test_of_a_float_no_model_of_drag_is_in_question():
    drag = call(setter_in(2))["drag"]
    assert drag == {"model": "B", "other": "A", "other_agrees": None, "text": None}


# ---- what is answered

VARIED: list[Request] = [
    setter_in(1),
    setter_in(2, formation="five") | {"level": "elite_men", "server": {"kind": "jump_topspin"}},
    setter_in(3, formation="two", setter_faces="right", pass_target={"x_m": 1.0, "y_m": 1.0}),
    setter_in(4, system="two_setters_front_sets", formation="four") | {"level": "college"},
    setter_in(5) | {"level": "under_14", "server": {"kind": "underhand"}, "policy": {"error_ceiling": 0.24}},
    setter_in(6) | {"policy": {"error_ceiling": 0.0}},
    {"opponent": {"setter_start": {"x_m": 1.3, "y_m": 2.2}}, "drag_model": "A"},
    setter_in(1, passers=places((2.2, 5.9), (-1.7, 7.1), number=8, pass_grade=1.3, passes=41)),
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


@cache
def varied(k: int) -> Request:
    return call(VARIED[k])


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


# ---- the other doors


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
    assert [
        level["level"] for level in stock["levels"]
    ] == "under_14 high_school college elite_women elite_men".split()
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
