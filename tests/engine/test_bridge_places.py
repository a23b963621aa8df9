"""Who stands where: receivers in order, the boxes they may be dragged in, and the server's spots."""

from __future__ import annotations

import random
from collections.abc import Iterator
from functools import cache

import pytest
from cornerwise.engine.bridge.ask import asked
from cornerwise.engine.errors import RuleBroken
from hypothesis import given, settings
from hypothesis import strategies as st

from .asking import Request, ask, places, setter_in


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
    return [ask(request)["situation"] for request in DRAGGED_FROM]


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


@settings(max_examples=150)
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
        answer = ask(dragged(situation, player["position"], box["x_max_m"], box["y_min_m"]))
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
        situation = ask(setter_in(position, formation=formation))["situation"]
        request = dragged(situation, 0, 0.0, 0.0)
        del request["opponent"]["setter_start"]
        setter = asked(request).setter
        start = situation["setter_start"]
        assert (setter.place.x_m, setter.place.y_m) == (start["x_m"], start["y_m"])


def test_a_server_with_fewer_spots_is_told_what_the_missing_ones_would_win():
    whole = ask(setter_in(4))
    assert whole["limits"]["missing_spots"] == []
    limited = ask(setter_in(4) | {"server": {"spots": ["right", "right_corner"]}})
    missing = {m["spot"]: m for m in limited["limits"]["missing_spots"]}
    assert whole["best"]["spot"]["name"] == "left_corner"
    assert "right_corner" not in missing
    for name, found in missing.items():
        alone = ask(setter_in(4) | {"server": {"spots": [name]}})["best"]["keep"]
        assert found["points_per_100"] == pytest.approx(100 * (alone - limited["best"]["keep"]), abs=1e-7)
        said = f"The {name.replace('_', ' ')} would win {found['points_per_100']:.1f} more in 100"
        assert found["text"] == said
    costs = [m["points_per_100"] for m in limited["limits"]["missing_spots"]]
    assert costs == sorted(costs, reverse=True)
    best_missing = whole["best"]["keep"] - limited["best"]["keep"]
    assert costs[0] == pytest.approx(100 * best_missing, abs=1e-7)


def test_a_spot_that_would_win_nothing_is_not_missed():
    limited = ask(setter_in(1) | {"server": {"spots": ["right_corner"]}})
    assert limited["best"] == ask(setter_in(1))["best"]
    assert limited["limits"]["missing_spots"] == []


def test_missing_spots_keep_to_the_ceiling_too():
    limited = setter_in(4) | {"server": {"spots": ["right_corner"]}, "policy": {"error_ceiling": 0.10}}
    alone = setter_in(4) | {"server": {"spots": ["left_corner"]}, "policy": {"error_ceiling": 0.10}}
    answer = ask(limited)
    gain = 100 * (ask(alone)["best"]["keep"] - answer["best"]["keep"])
    missing = {m["spot"]: m["points_per_100"] for m in answer["limits"]["missing_spots"]}
    assert missing["left_corner"] == pytest.approx(gain, abs=1e-7)


def test_a_spot_of_her_own_is_served_from_and_listed():
    own = {"x_m": 2.75, "y_m": -10.5}
    answer = ask(setter_in(1) | {"server": {"spots": [own]}})
    assert answer["best"]["spot"] == {"name": "right", **own}
    assert answer["best"]["contact"] == own
    spots = answer["situation"]["server"]["spots"]
    assert [spot for spot in spots if spot["allowed"]] == [{"name": "right", **own, "allowed": True}]
    assert len(spots) == 10


def test_the_ball_is_hit_nearer_the_net_than_the_spot():
    answer = ask(setter_in(1) | {"server": {"kind": "jump_float", "contact_inside_m": 1.2}})
    for found in (answer["best"], *answer["alternatives"]):
        assert found["contact"]["y_m"] == pytest.approx(found["spot"]["y_m"] + 1.2, abs=1e-12)
        assert found["contact"]["x_m"] == found["spot"]["x_m"]
