"""The overlap rule against a second, slow and obvious reading of its text.

FIVB Official Volleyball Rules 2025-2028, 7.4.3: each back-row player must be level with, or further
from, the centre line than her front-row partner; each right (left) side player must be level with, or
closer to, the right (left) sideline than the centre player of her row. The receivers face the net at
y = 0, so their right sideline is at x = -4.5 and their left one at x = +4.5.
"""

from __future__ import annotations

import itertools
import json
import math
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

import pytest
from cornerwise.engine.court import Point, distance_m
from cornerwise.engine.errors import RuleBroken
from cornerwise.engine.names import FORMATIONS, FormationName
from cornerwise.engine.reception import (
    POSITIONS,
    RELATIONS,
    Passer,
    Player,
    Position,
    breaches,
    complete,
    legal_assignment,
    limits,
    passers_places,
    setter_start,
    stock_formation,
)
from hypothesis import given, settings
from hypothesis import strategies as st

CASES: list[dict[str, Any]] = json.loads(
    (Path(__file__).parents[2] / "fixtures" / "reception" / "overlap_cases.json").read_text()
)["cases"]
RIGHT, CENTRE, LEFT = 0, 1, 2
FRONT: dict[int, Position] = {RIGHT: 2, CENTRE: 3, LEFT: 4}  # FIVB 7.4.1.1
BACK: dict[int, Position] = {RIGHT: 1, CENTRE: 6, LEFT: 5}  # FIVB 7.4.1.2
MIRRORED: dict[Position, Position] = {1: 5, 2: 4, 3: 3, 4: 2, 5: 1, 6: 6}
BEYOND_M = 0.001
SEEDED = settings(derandomize=True, deadline=None)


# The rule once more, from its text alone.


def rows_in_order(y_m: Mapping[Position, float]) -> bool:
    return all(y_m[BACK[side]] >= y_m[FRONT[side]] for side in (RIGHT, CENTRE, LEFT))


def sides_in_order(x_m: Mapping[Position, float]) -> bool:
    for row in (FRONT, BACK):
        to_right = {side: x_m[row[side]] + 4.5 for side in row}
        to_left = {side: 4.5 - x_m[row[side]] for side in row}
        if to_right[RIGHT] > to_right[CENTRE] or to_left[LEFT] > to_left[CENTRE]:
            return False
    return True


def in_order(places: Mapping[Position, Point]) -> bool:
    """Return whether those who are seen can be in order, wherever the unseen stand.

    The unseen are tried at every known coordinate and on every line: if there is an order at all, there
    is one with them there, since only comparisons matter.
    """
    unseen = [position for position in POSITIONS if position not in places]
    x_m = {position: place.x_m for position, place in places.items()}
    y_m = {position: place.y_m for position, place in places.items()}
    across = (sides_in_order({**x_m, **guess}) for guess in guesses(unseen, [-4.5, *x_m.values(), 4.5]))
    along = (rows_in_order({**y_m, **guess}) for guess in guesses(unseen, [0.0, *y_m.values(), 9.0]))
    return any(across) and any(along)


def guesses(unseen: Sequence[Position], values: Sequence[float]) -> Iterator[dict[Position, float]]:
    for chosen in itertools.product(sorted(set(values)), repeat=len(unseen)):
        yield dict(zip(unseen, chosen, strict=True))


def legal_ways(
    passers: Sequence[Passer], setter: Position, setter_place: Point
) -> Iterator[tuple[Position, ...]]:
    """Return every legal way to give the passers positions, by trying them all."""
    free = [position for position in POSITIONS if position != setter]
    for way in itertools.permutations(free, len(passers)):
        kept = all(p.position in (None, position) for p, position in zip(passers, way, strict=True))
        places = {position: p.place for p, position in zip(passers, way, strict=True)}
        if kept and in_order({setter: setter_place, **places}):
            yield way


def cost(passers: Sequence[Passer], way: Sequence[Position]) -> tuple[int, float]:
    """Return front-row passers, then squared distances from the middles of 3 m by 4.5 m zones."""
    column = {RIGHT: -3.0, CENTRE: 0.0, LEFT: 3.0}
    middles = {row[side]: (column[side], y_m) for row, y_m in ((FRONT, 2.25), (BACK, 6.75)) for side in row}
    squares = [
        (p.place.x_m - middles[position][0]) ** 2 + (p.place.y_m - middles[position][1]) ** 2
        for p, position in zip(passers, way, strict=True)
    ]
    return sum(position in FRONT.values() for position in way), sum(squares)


# Random places in whole decimetres, so that players often stand level.

places_on_court = st.builds(lambda x, y: Point(x / 10, y / 10), st.integers(-45, 45), st.integers(0, 90))
positions = st.sampled_from(POSITIONS)


def by_position(players: Sequence[Player]) -> dict[Position, Point]:
    return {player.position: player.place for player in players if player.position is not None}


def passing(players: Sequence[Player]) -> dict[Position, Point]:
    return by_position([player for player in players if player.role == "passer"])


def mirror(place: Point) -> Point:
    return Point(-place.x_m, place.y_m)


# Overlap


def test_there_are_seven_relations_each_between_neighbours() -> None:
    assert len(RELATIONS) == len({(r.first, r.second, r.axis) for r in RELATIONS}) == 7


@pytest.mark.parametrize("case", CASES, ids=lambda case: f"{case['rule']} {case['says']}")
def test_a_written_case_is_judged_as_the_rule_says(case: dict[str, Any]) -> None:
    places = {p: Point(*case["places"][str(p)]) for p in POSITIONS if str(p) in case["places"]}
    found = [[b.axis, b.first, b.second] for b in breaches(places)]
    assert found == case["breaches"]
    assert in_order(places) == (not found)


@SEEDED
@given(st.dictionaries(positions, places_on_court, min_size=6))
def test_six_players_are_judged_as_the_text_says(places: dict[Position, Point]) -> None:
    assert (not breaches(places)) == in_order(places)


@SEEDED
@given(st.dictionaries(positions, places_on_court, min_size=2))
def test_some_players_are_in_order_exactly_if_the_others_can_be_placed(places: dict[Position, Point]) -> None:
    assert (not breaches(places)) == in_order(places)


@SEEDED
@given(st.dictionaries(positions, places_on_court, min_size=6))
def test_each_breach_is_named_alone_and_moving_one_of_the_two_level_ends_it(
    places: dict[Position, Point],
) -> None:
    for breach in breaches(places):
        first, second = places[breach.first], places[breach.second]
        level = Point(second.x_m, first.y_m) if breach.axis == "x" else Point(first.x_m, second.y_m)
        left = {(b.first, b.second) for b in breaches({**places, breach.first: level})}
        assert (breach.first, breach.second) not in left
        assert f"position {breach.first}" in breach.rule
        assert f"position {breach.second}" in breach.rule


@SEEDED
@given(st.dictionaries(positions, places_on_court, min_size=1))
def test_mirroring_places_and_positions_mirrors_the_breaches(places: dict[Position, Point]) -> None:
    mirrored = {MIRRORED[position]: mirror(place) for position, place in places.items()}
    pairs = {frozenset((b.first, b.second)) for b in breaches(places)}
    assert {frozenset((MIRRORED[b.first], MIRRORED[b.second])) for b in breaches(mirrored)} == pairs


# Assignments


@settings(SEEDED, max_examples=300)
@given(
    st.lists(places_on_court, min_size=1, max_size=4),
    st.sampled_from([(p, setter_start(p)) for p in POSITIONS]),
)
def test_of_the_legal_assignments_the_cheapest_is_taken(
    places: list[Point], setter: tuple[Position, Point]
) -> None:
    passers = [Passer(place) for place in places]
    costs = [cost(passers, way) for way in legal_ways(passers, *setter)]
    found = legal_assignment(passers, *setter)
    if found:
        assert cost(passers, found.passers) == pytest.approx(min(costs), abs=1e-9)  # another order of adding
    else:
        assert not costs


@SEEDED
@given(
    st.lists(st.builds(Passer, places_on_court, st.none() | positions), min_size=1, max_size=5),
    positions,
    places_on_court,
)
def test_an_assignment_is_found_exactly_when_trying_all_finds_one(
    passers: list[Passer], setter: Position, setter_place: Point
) -> None:
    ways = list(legal_ways(passers, setter, setter_place))
    found = legal_assignment(passers, setter, setter_place)
    if found is None:
        assert not ways
        return
    assert found.setter == setter
    assert found.passers in ways


@SEEDED
@given(
    st.lists(st.builds(Passer, places_on_court, st.none() | positions), min_size=1, max_size=4),
    places_on_court,
)
def test_an_unknown_setter_is_taken_at_the_nearest_usual_start_that_is_legal(
    passers: list[Passer], setter_place: Point
) -> None:
    possible = [p for p in POSITIONS if any(legal_ways(passers, p, setter_place))]
    found = legal_assignment(passers, None, setter_place)
    if found is None:
        assert not possible
    else:
        assert found == legal_assignment(passers, found.setter, setter_place)
        nearest = min(distance_m(setter_start(p), setter_place) for p in possible)
        assert distance_m(setter_start(found.setter), setter_place) == nearest


@SEEDED
@given(st.lists(places_on_court, min_size=1, max_size=5), places_on_court)
def test_places_alone_with_no_position_known_are_never_refused(places: list[Point], setter: Point) -> None:
    assert legal_assignment([Passer(place) for place in places], None, setter) is not None


@SEEDED
@given(
    st.lists(places_on_court, min_size=1, max_size=5, unique=True),
    positions,
    places_on_court,
    st.randoms(use_true_random=False),
)
def test_the_order_in_which_passers_are_listed_does_not_matter(
    places: list[Point], setter: Position, setter_place: Point, random: Any
) -> None:
    def held(listed: list[Point]) -> dict[Point, Position] | None:
        found = legal_assignment([Passer(place) for place in listed], setter, setter_place)
        return None if found is None else dict(zip(listed, found.passers, strict=True))

    assert held(random.sample(places, len(places))) == held(places)


@SEEDED
@given(st.lists(places_on_court, min_size=1, max_size=5), positions, places_on_court)
def test_mirrored_players_can_be_assigned_at_the_same_cost(
    places: list[Point], setter: Position, setter_place: Point
) -> None:
    passers, mirrored = [Passer(p) for p in places], [Passer(mirror(p)) for p in places]
    found = legal_assignment(passers, setter, setter_place)
    other = legal_assignment(mirrored, MIRRORED[setter], mirror(setter_place))
    assert (found is None) == (other is None)
    if found and other:
        assert cost(mirrored, other.passers) == pytest.approx(cost(passers, found.passers), abs=1e-9)


# Six players


@SEEDED
@given(
    st.lists(st.builds(Passer, places_on_court, st.none() | positions), min_size=1, max_size=5),
    st.none() | positions,
    places_on_court,
)
def test_a_completed_formation_is_six_players_in_order_on_court_where_they_were_put(
    passers: list[Passer], setter: Position | None, setter_place: Point
) -> None:
    try:
        players = complete(passers, setter, setter_place)
    except RuleBroken:
        choices = POSITIONS if setter is None else (setter,)
        assert not any(any(legal_ways(passers, choice, setter_place)) for choice in choices)
        return
    assert [player.position for player in players] == list(POSITIONS)
    assert in_order(by_position(players))
    assert all(abs(p.place.x_m) <= 4.5 and 0 <= p.place.y_m <= 9 for p in players)
    assert [p.place for p in players if p.role == "setter"] == [setter_place]
    put = sorted((p.place.x_m, p.place.y_m) for p in players if p.role == "passer")
    assert put == sorted((p.place.x_m, p.place.y_m) for p in passers)


@SEEDED
@given(
    st.lists(places_on_court, min_size=1, max_size=5),
    places_on_court,
    st.integers(0, 5),
    st.floats(0, 1),
    st.floats(0, 1),
)
def test_limits_hold_exactly_the_places_that_are_in_order(
    places: list[Point], setter: Point, index: int, across: float, along: float
) -> None:
    players = complete([Passer(place) for place in places], None, setter)
    box = limits(players, index)
    mover = players[index].position
    assert mover is not None

    def may_stand(x_m: float, y_m: float) -> bool:
        on_court = abs(x_m) <= 4.5 and 0 <= y_m <= 9
        return on_court and in_order({**by_position(players), mover: Point(x_m, y_m)})

    x_m = min(box.x_min_m + across * (box.x_max_m - box.x_min_m), box.x_max_m)
    y_m = min(box.y_min_m + along * (box.y_max_m - box.y_min_m), box.y_max_m)
    assert may_stand(players[index].place.x_m, players[index].place.y_m)
    assert may_stand(x_m, y_m)
    assert may_stand(box.x_min_m, box.y_min_m)
    assert may_stand(box.x_max_m, box.y_max_m)
    assert not may_stand(box.x_min_m - BEYOND_M, y_m)
    assert not may_stand(box.x_max_m + BEYOND_M, y_m)
    assert not may_stand(x_m, box.y_min_m - BEYOND_M)
    assert not may_stand(x_m, box.y_max_m + BEYOND_M)


def test_a_player_whose_position_is_unknown_may_go_anywhere_and_limits_nobody() -> None:
    players = [Player(None, "setter", Point(0, 1)), Player(6, "passer", Point(0, 7))]
    whole = (-4.5, 4.5, 0.0, 9.0)
    for index in (0, 1):
        box = limits(players, index)
        assert (box.x_min_m, box.x_max_m, box.y_min_m, box.y_max_m) == whole


# Stock formations


@pytest.mark.parametrize("setter", POSITIONS)
@pytest.mark.parametrize("formation", FORMATIONS)
def test_a_stock_formation_is_legal_with_everyone_where_she_is_said_to_be(
    setter: Position, formation: FormationName
) -> None:
    players = stock_formation(setter, formation)
    assert [player.position for player in players] == [1, 2, 3, 4, 5, 6]
    assert in_order(by_position(players))
    assert [(p.position, p.place) for p in players if p.role == "setter"] == [
        (setter, setter_start(setter, formation))
    ]
    places = list(passing(players).values())
    assert set(places) == set(passers_places(formation))
    assert len(places) == {"two": 2, "three": 3, "four": 4, "five": 5}[formation]


@pytest.mark.parametrize("formation", FORMATIONS)
def test_passers_of_a_stock_formation_mirror_each_other(formation: FormationName) -> None:
    assert {mirror(place) for place in passers_places(formation)} == set(passers_places(formation))


@pytest.mark.parametrize("setter", POSITIONS)
@pytest.mark.parametrize("formation", FORMATIONS)
def test_players_of_a_stock_formation_stand_apart_and_the_idle_ones_out_of_the_way(
    setter: Position, formation: FormationName
) -> None:
    players = stock_formation(setter, formation)
    idle = [player for player in players if player.role == "other"]
    assert all(player.place.y_m <= 1.5 or player.place.y_m >= 8 for player in idle)
    nearest = min(distance_m(a.place, b.place) for a, b in itertools.combinations(players, 2))
    assert nearest >= 0.29  # the setter in 1 behind her front-row partner, five passing


@pytest.mark.parametrize("setter", [5, 6])
def test_behind_five_passers_the_setter_starts_at_the_nearest_place_that_is_legal_and_free(
    setter: Position,
) -> None:
    passers = [Passer(place) for place in passers_places("five")]
    usual, start = setter_start(setter), setter_start(setter, "five")
    moved_m = distance_m(usual, start)

    def possible(place: Point) -> bool:
        free = all(distance_m(place, passer.place) >= 0.7 - 1e-9 for passer in passers)
        return free and any(legal_ways(passers, setter, place))

    steps = [k / 10 for k in range(-20, 21)]
    nearer = (
        Point(round(usual.x_m + dx, 1), round(usual.y_m + dy, 1))
        for dx in steps
        for dy in steps
        if math.hypot(dx, dy) < moved_m - 1e-9
    )
    assert possible(start)
    assert not any(map(possible, nearer))


@SEEDED
@given(positions, st.sampled_from(FORMATIONS), places_on_court)
def test_a_moved_setter_is_refused_by_name_exactly_when_no_order_is_legal(
    setter: Position, formation: FormationName, place: Point
) -> None:
    passers = [Passer(p) for p in passers_places(formation)]
    if any(legal_ways(passers, setter, place)):
        players = stock_formation(setter, formation, place)
        assert in_order(by_position(players))
        assert by_position(players)[setter] == place
        return
    with pytest.raises(RuleBroken) as refused:
        stock_formation(setter, formation, place)
    assert (refused.value.rule, refused.value.field) == ("no_legal_assignment", "opponent.setter_start")
    assert f"position {setter}" in refused.value.expected


@SEEDED
@given(positions, st.sampled_from(FORMATIONS), places_on_court)
def test_a_moved_setter_leaves_the_passers_positions_as_they_are_while_they_are_legal(
    setter: Position, formation: FormationName, place: Point
) -> None:
    usual = passing(stock_formation(setter, formation))
    try:
        moved = passing(stock_formation(setter, formation, place))
    except RuleBroken:
        moved = {}
    assert (moved == usual) == in_order({**usual, setter: place})
