"""The call for a server of ours: all her serves are weighed, as the call book weighs them."""

from __future__ import annotations

import pytest
from cornerwise.engine import bridge
from cornerwise.engine.errors import RuleBroken

LOGGED = {"level": "high_school", "opponent": {"setter_position": 3}}
PLAIN_SERVE = {"kind": "underhand", "speeds_m_s": [11.0], "spots": ["middle"]}
BETTER = {"kind": "jump_float", "speeds_m_s": [16.0], "spots": ["left_corner", "right_corner"], "next_job": 5}
TOO_SLOW = {"kind": "standing_float", "speeds_m_s": [6.0]}
NEVER = {"kind": "standing_topspin", "error_ceiling": 0.0}


def asked(*serves, kind=None, **said):
    player = {"reach_m": 2.3, "serves": list(serves)}
    return {"request": {**LOGGED, **said}, "opponent": None, "player": player, "kind": kind}


def alone(serve):
    return bridge.call(bridge.prepared(asked(serve)))


def test_of_two_serves_the_one_that_wins_more_is_called_in_whatever_order_they_were_entered():
    better, plain = alone(BETTER), alone(PLAIN_SERVE)
    assert better["best"]["keep"] > plain["best"]["keep"]
    for serves in ((PLAIN_SERVE, BETTER), (BETTER, PLAIN_SERVE)):
        said = bridge.chosen(asked(*serves))
        assert said["best"] == better["best"]
        assert said["policy"] == better["policy"]
        assert said["situation"]["server"]["kind"] == "jump_float"


def test_the_other_serve_stands_among_the_alternatives_with_what_it_costs():
    better, plain = alone(BETTER), alone(PLAIN_SERVE)
    said = bridge.chosen(asked(PLAIN_SERVE, BETTER))
    [other] = [one for one in said["alternatives"] if one["kind"] == "underhand"]
    behind = plain["best"]["keep"] - better["best"]["keep"]
    assert (other["points_per_100"], other["equal"]) == (100 * behind, False)
    assert other["words"] == plain["best"]["words"]
    keeps = [one["keep"] for one in said["alternatives"]]
    assert keeps == sorted(keeps, reverse=True)
    assert len(said["alternatives"]) == len(better["alternatives"]) + 1


def test_a_match_and_the_call_book_call_the_same():
    book = bridge.book({
        "level": "high_school",
        "servers": [{"number": 4, **asked(PLAIN_SERVE, BETTER)["player"]}],
        "opponent": {"setter_position": 3, "system": "one_setter"},
    })  # fmt: skip
    [rotation] = [one for one in book["rotations"] if one["setter_position"] == 3]
    [her] = rotation["calls"]
    best = bridge.chosen(asked(PLAIN_SERVE, BETTER))["best"]
    assert {name: best[name] for name in her["call"]} == her["call"]


@pytest.mark.parametrize("said", [{"kind": "underhand"}, {"server": {"kind": "underhand"}}])
def test_a_kind_that_was_chosen_is_the_one_that_is_called(said):
    answer = bridge.chosen(asked(PLAIN_SERVE, BETTER, **said))
    assert answer == alone(PLAIN_SERVE)


def test_a_serve_that_keeps_to_its_ceiling_goes_before_one_that_does_not():
    assert not alone(NEVER)["policy"]["met"]
    said = bridge.chosen(asked(NEVER, PLAIN_SERVE))
    assert said["best"]["kind"] == "underhand"
    assert {one["kind"] for one in said["alternatives"]} == {"underhand"}


def test_a_serve_that_never_gets_there_is_left_out_and_refused_where_it_is_the_only_one():
    assert bridge.chosen(asked(TOO_SLOW, PLAIN_SERVE)) == alone(PLAIN_SERVE)
    with pytest.raises(RuleBroken) as refused:
        bridge.chosen(asked(TOO_SLOW))
    assert refused.value.rule == "out_of_reach"


def test_of_whom_nothing_is_kept_the_call_is_the_levels_usual():
    request = {"request": LOGGED, "opponent": None, "player": None, "kind": None}
    assert bridge.chosen(request) == bridge.call(LOGGED)
