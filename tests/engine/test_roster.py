"""What a roster puts into a call: contact height, paces, scatter, ratings, and the way to the next job."""

from __future__ import annotations

import pytest
from cornerwise.engine import bridge
from cornerwise.engine.bridge.roster import next_job, serve_request
from cornerwise.engine.court import Point
from cornerwise.engine.errors import RuleBroken
from cornerwise.engine.players import LEVELS, rating_shift
from cornerwise.engine.roster import contact_height_m, rated, run_to_job

HIGH_SCHOOL = {"level": "high_school"}


def test_a_standing_serve_is_hit_at_the_reach_and_a_jump_serve_above_it():
    """The stock servers of high school hit a standing float at 2.4 m and a jump float at 2.6 m."""
    assert contact_height_m("standing_float", "high_school", 2.24, 2.2) == pytest.approx(2.2)
    assert contact_height_m("jump_float", "high_school", 2.24, 2.2) == pytest.approx(2.4)
    assert contact_height_m("jump_float", "high_school", 2.24, None) == 2.6
    assert contact_height_m("underhand", "under_14", 2.13, 2.2) == 1.0


def test_one_pace_is_the_usual_one_and_nine_tenths_of_it_is_on_offer_too():
    def speeds(kind: str, *given: float) -> list[float]:
        return serve_request(HIGH_SCHOOL, {"kind": kind, "speeds_m_s": list(given)}, None)["server"][
            "speeds_m_s"
        ]

    assert speeds("jump_float", 15.0) == [13.5, 15.0]
    assert speeds("jump_float", 14.0, 15.0) == [14.0, 15.0]
    assert speeds("short_float", 12.0) == [12.0]
    assert "speeds_m_s" not in serve_request(HIGH_SCHOOL, {"kind": "jump_float"}, None)["server"]


def test_scatter_is_as_measured_or_that_of_the_level_she_serves_like():
    measured = {"kind": "jump_float", "scatter": {"across_m": 0.7, "along_m": 1.1, "serves": 40}}
    assert serve_request(HIGH_SCHOOL, measured, None)["server"]["scatter"] == {
        "across_m": 0.7,
        "along_m": 1.1,
    }
    like = serve_request(HIGH_SCHOOL, {"kind": "jump_float", "level": "college"}, None)["server"]["scatter"]
    assert like["across_m"] == pytest.approx((0.8**2 + 0.2**2) ** 0.5)  # stock, and wobble in quadrature
    assert "scatter" not in serve_request(HIGH_SCHOOL, {"kind": "jump_float"}, None)["server"]


def test_her_own_error_ceiling_goes_before_the_one_to_start_with():
    own = serve_request(HIGH_SCHOOL, {"kind": "jump_float", "error_ceiling": 0.2}, None)
    assert own["policy"] == {"error_ceiling": 0.2}
    assert serve_request(HIGH_SCHOOL, {"kind": "jump_float"}, None)["policy"] == {"use_start_ceiling": True}


@pytest.mark.parametrize("level", LEVELS)
def test_a_word_for_a_passer_shifts_her_balls_the_way_it_says_and_unknown_not_at_all(level):
    weak, average, strong = (rating_shift(*rated(word, level)) for word in ("weak", "average", "strong"))
    assert weak > average == 0.0 > strong
    assert rated("unknown", level) is None


def test_the_way_to_the_next_job_is_measured_from_where_she_hit_the_ball():
    """From the left corner, (-4.4, -8.7), to right back, (3, -6.5): 7.4 m across and 2.2 m on."""
    run = run_to_job(Point(-4.4, -8.7), 1, 1.0)
    assert run.distance_m == pytest.approx((7.4**2 + 2.2**2) ** 0.5)
    assert run.run_s == pytest.approx(run.distance_m / 4.0 + 0.5)
    assert run.until_attack_s == pytest.approx(3.2)
    assert run.long


@pytest.mark.parametrize(
    ("x_m", "job", "long"), [(-4.4, 5, False), (-4.4, 1, True), (4.4, 5, True), (0.0, 6, False)]
)
def test_a_long_way_is_the_one_from_a_corner_to_the_other_side(x_m, job, long):
    """Common practice, no source."""
    said = next_job(job, Point(x_m, -9.2), 1.1)
    assert said["long"] == long
    assert (said["text"] is not None) == long


def test_the_note_on_a_long_way_says_where_how_far_and_how_much_time_there_is():
    said = next_job(1, Point(-4.4, -9.2), 1.1)
    assert said["text"] == "Then 8 m to right back (1): 2.5 s of the 3.3 s until they attack"
    assert next_job(None, Point(0.0, -9.2), 1.1) is None


def test_two_setters_stand_opposite_each_other_and_the_one_of_the_right_row_sets():
    seen = bridge.formation({"setter_position": 2, "system": "two_setters_back_sets"})
    assert (seen["setter_position"], seen["setting_position"], seen["setter_row"]) == (2, 5, "back")
    assert [p["position"] for p in seen["players"] if p["role"] == "setter"] == [5]


@pytest.mark.parametrize("position", range(1, 7))
@pytest.mark.parametrize("formation", ["two", "three", "four", "five"])
def test_a_stock_formation_sent_back_as_six_players_is_in_order(position, formation):
    seen = bridge.formation({"setter_position": position, "formation": formation})
    again = bridge.formation({"setter_position": position, "players": seen["players"]})
    assert again["legal"]
    assert [(p["x_m"], p["y_m"], p["role"]) for p in again["players"]] == [
        (p["x_m"], p["y_m"], p["role"]) for p in seen["players"]
    ]


def test_what_is_refused_of_a_formation_is_named_by_its_own_field():
    """Position 6 must not be further to their left than position 5."""
    passers = [{"x_m": 3.0, "y_m": 6.0, "position": 6}, {"x_m": 0.0, "y_m": 6.0, "position": 5}]
    with pytest.raises(RuleBroken) as refused:
        bridge.formation({"setter_position": 1, "passers": passers})
    assert (refused.value.field, refused.value.rule) == ("passers.1.x_m", "overlap")
