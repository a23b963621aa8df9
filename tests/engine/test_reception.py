"""Who is refused and how it is said; who sets, and from which row."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from cornerwise.engine.court import Point
from cornerwise.engine.errors import RuleBroken
from cornerwise.engine.names import FORMATIONS, SYSTEMS
from cornerwise.engine.reception import (
    POSITIONS,
    RULES,
    Passer,
    Position,
    complete,
    passers_places,
    setter_row,
    setter_start,
    setting_position,
    stock_formation,
)

REFUSALS: list[dict[str, Any]] = json.loads(
    (Path(__file__).parents[2] / "fixtures" / "reception" / "refusals.json").read_text()
)["cases"]
ROTATED: dict[Position, Position] = {2: 1, 1: 6, 6: 5, 5: 4, 4: 3, 3: 2}  # FIVB 7.6.2: one place clockwise


@pytest.mark.parametrize("case", REFUSALS, ids=lambda case: f"{case['fivb']} {case['says']}")
def test_a_breach_is_refused_with_field_rule_and_the_players_concerned(case: dict[str, Any]) -> None:
    passers = [Passer(Point(x_m, y_m), *position) for x_m, y_m, *position in case["passers"]]
    with pytest.raises(RuleBroken) as refused:
        complete(passers, case["setter"], Point(*case["place"]))
    assert (refused.value.rule, refused.value.field) == (case["rule"], case["field"])
    for words in case["words"]:
        assert words in refused.value.expected


def test_every_rule_has_a_sentence_and_a_case() -> None:
    assert {case["rule"] for case in REFUSALS} == set(RULES)
    assert all(sentence.endswith(".") for sentence in RULES.values())


def test_what_is_known_of_a_passer_stays_with_her() -> None:
    players = complete([Passer(Point(3, 7), None, 12, 2.1, 34), Passer(Point(0, 7))], 1, Point(-3, 5))
    assert [(p.number, p.pass_grade, p.passes) for p in players if p.place == Point(3, 7)] == [(12, 2.1, 34)]
    assert all(p.number is None for p in players if p.place != Point(3, 7))


def test_back_row_players_pass_where_the_order_allows() -> None:
    passers = [Passer(place) for place in passers_places("three")]
    for setter in (2, 3, 4):  # all three back-row players are free to pass
        players = complete(passers, setter, setter_start(setter))
        assert {p.position for p in players if p.role == "passer"} == {1, 6, 5}


def test_idle_players_keep_a_shoulder_apart_from_their_row_where_there_is_room() -> None:
    # chosen: 0.7 m; expected places worked out by hand from the sidelines at -4.5 and 4.5
    def idle_x_m(setter: Position, x_m: float) -> list[float]:
        players = complete([Passer(Point(0, 7), 6)], setter, Point(x_m, 1))
        return [p.place.x_m for p in players if p.role == "other" and p.position in (2, 3, 4)]

    assert idle_x_m(2, 2.3) == pytest.approx([3.0, 3.8])
    assert idle_x_m(2, 3.0) == pytest.approx([3.5, 4.0])  # 1.5 m of room, shared evenly
    assert idle_x_m(4, -2.3) == pytest.approx([-3.8, -3.0])
    assert idle_x_m(4, -3.0) == pytest.approx([-4.0, -3.5])


def test_idle_players_stay_in_order_with_partners_at_either_end_of_the_court() -> None:
    players = complete([Passer(Point(0, 8.8), 3), Passer(Point(3, 0.3), 5)], 2, Point(-3, 8.5))
    idle = {p.position: p.place.y_m for p in players if p.role == "other"}
    assert idle == {1: 9.0, 4: 0.0, 6: 9.0}  # behind 2 and 3, before 5, as far as the court goes


def test_a_position_that_is_given_is_kept() -> None:
    players = complete([Passer(Point(2.9, 6.3), 4), Passer(Point(0, 6.7), 6)], 2, setter_start(2))
    assert {p.position for p in players if p.role == "passer"} == {4, 6}


def test_places_on_the_lines_are_on_court() -> None:
    players = complete(
        [Passer(Point(4.5, 9)), Passer(Point(-4.5, 9)), Passer(Point(0, 0))], 1, Point(-4.5, 9)
    )
    assert len(players) == 6


@pytest.mark.parametrize("place", [Point(-4.51, 4.5), Point(-3.2, 9.01), Point(-3.2, -0.01)])
def test_a_setter_moved_off_the_court_is_refused_in_a_stock_formation_too(place: Point) -> None:
    with pytest.raises(RuleBroken) as refused:
        stock_formation(1, "two", place)
    assert refused.value.rule == "setter_outside_court"


def test_setters_in_2_3_and_4_are_front_row_and_the_others_back_row() -> None:
    rows = [setter_row(position) for position in POSITIONS]  # FIVB 7.4.1
    assert rows == ["back", "front", "front", "front", "back", "back"]


@pytest.mark.parametrize("position", POSITIONS)
def test_one_of_two_setters_opposite_each_other_sets(position: Position) -> None:
    opposite = ROTATED[ROTATED[ROTATED[position]]]  # common practice, no source: three rotations apart
    back = setting_position(position, "two_setters_back_sets")
    front = setting_position(position, "two_setters_front_sets")
    assert {back, front} == {position, opposite}
    assert (setter_row(back), setter_row(front)) == ("back", "front")
    assert setting_position(position, "one_setter") == position


@pytest.mark.parametrize("position", POSITIONS)
def test_the_same_setter_sets_whichever_of_the_two_is_given(position: Position) -> None:
    opposite = ROTATED[ROTATED[ROTATED[position]]]
    for system in SYSTEMS[1:]:
        assert setting_position(position, system) == setting_position(opposite, system)


def test_the_setter_starts_on_her_own_side_unless_five_pass() -> None:
    for position in POSITIONS:
        middle_m = {1: -3, 2: -3, 3: 0, 6: 0, 4: 3, 5: 3}[position]  # middles of three columns of 3 m
        assert abs(setter_start(position).x_m - middle_m) <= 1.5
        moved = {f for f in FORMATIONS if setter_start(position, f) != setter_start(position)}
        assert moved == ({"five"} if position in (5, 6) else set())
