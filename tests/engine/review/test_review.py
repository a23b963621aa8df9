"""What a match's serves came to, against a second, slow count from the raw log, and by hand."""

from __future__ import annotations

from typing import Any

import pytest
from cornerwise.engine.match import parse_log, replay
from cornerwise.engine.review import review
from cornerwise.engine.review.serves import SERVE_COLUMNS, flat_serves
from cornerwise.service.demo import log as demo_log

from .recount import recount
from .scripts import script

TABLES = ("by_server", "by_our_rotation", "by_their_rotation", "by_spot", "by_target", "by_spot_and_target")


def reviewed(log: list[dict], **which: Any) -> dict[str, Any]:
    return review(replay(parse_log(log)), **which)


def compared(said: dict[str, Any], expected: dict[str, Any]) -> None:
    """Assert that a review says what the second count says; of a set's course, what both say."""
    for name, value in expected.items():
        if name != "sets":
            assert said[name] == value, name
    courses = [
        {
            "set_number": one["set_number"],
            "points": one["points"],
            "rallies": [{k: v for k, v in rally.items() if k != "ending"} for rally in one["rallies"]],
        }
        for one in said["sets"]
    ]
    assert courses == expected["sets"]


@pytest.mark.parametrize("seed", range(30))
def test_every_number_is_that_of_the_second_count(seed):
    log = script(seed)
    compared(reviewed(log), recount(log))
    compared(reviewed(log, side="them"), recount(log, "them"))


def test_the_review_of_one_set_counts_that_set_only():
    log = script(100)
    for set_number in (1, 2, 3):
        compared(reviewed(log, set_number=set_number), recount(log, "us", set_number))
    assert reviewed(log, set_number=4)["all"]["serves"] == {"count": 0, "of": 0, "share": None}


def test_the_scripts_hold_what_makes_counting_hard():
    said = [reviewed(script(seed)) for seed in range(30)]
    for reason in ("replayed", "wrong_server", "cancelled"):
        assert any(one["not_counted"][reason] for one in said)
    assert all(row["serves"]["count"] for row in said[0]["called"])
    assert any(row["number"] is None for one in said for row in reviewed(script(1), side="them")["by_server"])


def test_the_demo_is_counted_like_any_other_match():
    compared(reviewed(demo_log()), recount(demo_log()))


@pytest.mark.parametrize("seed", range(5))
def test_the_rows_of_each_table_add_up_to_all_serves(seed):
    said = reviewed(script(seed))
    whole = said["all"]
    for table in (*TABLES, "called"):
        for name in ("serves", "errors", "aces", "won"):
            assert sum(row[name]["count"] for row in said[table]) == whole[name]["count"]
        assert sum(row["pass_grade"]["of"] for row in said[table]) == whole["pass_grade"]["of"]
    # A serving turn is one player's, with one rotation on either side of the net.
    for table in ("by_server", "by_our_rotation"):
        assert max(row["longest_run"] for row in said[table]) == whole["longest_run"]


@pytest.mark.parametrize("seed", range(5))
def test_the_table_of_serves_has_a_line_for_each_and_says_the_same(seed):
    log = script(seed)
    rows, said = flat_serves(replay(parse_log(log))), reviewed(log)
    assert all(tuple(row) == SERVE_COLUMNS for row in rows)
    assert len(rows) == said["all"]["serves"]["count"]
    assert sum(row["won"] for row in rows) == said["all"]["won"]["count"]
    grades = [row["pass_grade"] for row in rows if row["pass_grade"] is not None]
    assert sum(grades) / len(grades) == pytest.approx(said["all"]["pass_grade"]["mean"], abs=1e-12)
    assert max(row["serving_turn"] for row in rows) == said["all"]["points_per_turn"]["of"]


def event(counter: int, event_type: str, rally: int, **fields: Any) -> dict[str, Any]:
    event_id = f"00000000-0000-7000-8000-{counter:012d}"
    where = {"id": event_id, "device": "phone", "counter": counter, "set_number": 1, "rally_number": rally}
    return {**where, "type": event_type, **fields}


def test_a_short_set_counted_by_hand():
    spot, deep = {"x_m": 4.4, "y_m": -9.2}, {"x_m": 3.9, "y_m": 7.8}  # right corner; zone 5 deep
    call = {"spot": spot, "target": deep, "kind": "jump_float"}
    us = {"lineup": [4, 11, 7, 2, 15, 9], "setters": [4]}
    log = [
        event(1, "set_started", 1, serving_first="us", us=us, them={"setter_position": 6}),
        # 4 serves: an ace without a grade, a rally won after a 1, one lost after a 3.
        event(2, "call_shown", 1, **call),
        event(3, "rally_won", 1, winner="us", ending="ace"),
        event(4, "call_shown", 2, **call),
        event(5, "pass_graded", 2, grade=1, passer=8, landing={"x_m": 0.0, "y_m": 7.0}),  # into zone 6
        event(6, "rally_won", 2, winner="us"),
        event(7, "pass_graded", 3, grade=3, passer=8),
        event(8, "rally_won", 3, winner="them"),
        # They miss; we rotate; 11 serves into the net.
        event(9, "rally_won", 4, winner="us", ending="service_error"),
        event(10, "rally_won", 5, winner="them", error="net"),
    ]
    said = reviewed(log)
    assert said["all"] == {
        "serves": {"count": 4, "of": 4, "share": 1.0},
        "errors": {"count": 1, "of": 4, "share": 0.25},
        "errors_by_kind": {"net": 1, "long": 0, "wide": 0, "foot": 0, "unknown": 0},
        "aces": {"count": 1, "of": 4, "share": 0.25},
        "won": {"count": 2, "of": 4, "share": 0.5},
        "pass_grade": {"mean": pytest.approx(4 / 3), "of": 3},  # 0, 1, 3; the missed serve has none
        "points_per_turn": {"mean": 1.0, "of": 2},  # 2 and 0
        "longest_run": 2,
    }
    assert [(row["number"], row["serves"]["count"]) for row in said["by_server"]] == [(4, 3), (11, 1)]
    # Our setter has rotated from 1 to 6; theirs, who won one rally off our serve, from 6 to 5.
    assert [row["setter_position"] for row in said["by_our_rotation"]] == [1, 6]
    assert [row["setter_position"] for row in said["by_their_rotation"]] == [5, 6]
    spots = [(row["spot"], row["serves"]["count"]) for row in said["by_spot"]]
    assert spots == [("right_corner", 2), (None, 2)]
    assert {row["served"]: row["serves"]["count"] for row in said["called"]} == {
        "as_called": 0, "elsewhere": 1, "not_known": 1, "no_call": 2,
    }  # fmt: skip
    assert said["by_passer"] == [{"number": 8, "pass_grade": {"mean": 2.0, "of": 2}}]
    scores = [tuple(rally["points_before"].values()) for rally in said["sets"][0]["rallies"]]
    assert scores == [(0, 0), (1, 0), (2, 0), (2, 1), (3, 1)]  # us, them


def test_a_log_without_a_set_has_no_serves():
    said = reviewed([])
    assert said["all"]["won"] == {"count": 0, "of": 0, "share": None}
    assert said["all"]["pass_grade"] == {"mean": None, "of": 0}
    assert (said["sets"], said["by_server"]) == ([], [])
