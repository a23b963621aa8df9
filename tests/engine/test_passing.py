"""Serve-pass geometry against closed forms, complex numbers, vector reflection and Shapely."""

from __future__ import annotations

import cmath
import json
import math
import random
from pathlib import Path

import numpy as np
import pytest
from cornerwise.engine.court import Point
from cornerwise.engine.maths import PLAIN
from cornerwise.engine.passing import (
    SETTER_LANE_M,
    Stand,
    arrival_bearing_deg,
    crosses_setter_lane,
    duty,
    pass_angle_deg,
    platform_turn_deg,
    sight_band,
    track_distance_m,
)
from cornerwise.service.arrays import ARRAYS
from hypothesis import assume, given
from hypothesis import strategies as st
from shapely import LineString
from shapely import Point as ShapelyPoint

FIXTURES = Path(__file__).parents[2] / "fixtures" / "passing"
CLOSED = json.loads((FIXTURES / "closed_forms.json").read_text())
SIGHT = json.loads((FIXTURES / "sight.json").read_text())

# acos loses half its digits near 0 and 180 deg: sqrt(2^-51) rad, twice, is 2.4e-6 deg.
ANGLE_DEG = {"abs": 3e-6}

contacts = st.builds(Point, st.floats(-4.5, 4.5), st.floats(-12, -6))
landings = st.builds(Point, st.floats(-4.55, 4.55), st.floats(0, 9.05))
in_court = st.builds(Point, st.floats(-4.5, 4.5), st.floats(0, 9))
some_stands = st.lists(st.builds(Stand, in_court, st.floats(-1, 1)), min_size=1, max_size=5)


def as_complex(place: Point) -> complex:
    return complex(place.x_m, place.y_m)


def angle_by_complex_numbers_deg(at: Point, first: Point, second: Point) -> float:
    """Return the angle at a point as the phase of a quotient: no dot product, no arc cosine."""
    turn = (as_complex(first) - as_complex(at)) / (as_complex(second) - as_complex(at))
    return abs(math.degrees(cmath.phase(turn)))


def apart(*places: Point) -> bool:
    return all(abs(as_complex(a) - as_complex(b)) > 0.01 for a in places for b in places if a is not b)


@pytest.mark.parametrize("case", CLOSED["pass_angles"], ids=lambda c: c["says"])
def test_a_pass_angle_is_its_closed_form(case):
    contact, landing, target = (Point(*case[name]) for name in ("contact", "landing", "target"))
    angle = pass_angle_deg(PLAIN, contact, landing.x_m, landing.y_m, target)
    assert angle == pytest.approx(case["angle_deg"], abs=CLOSED["tolerance"])


@pytest.mark.parametrize("case", CLOSED["arrival_bearings"], ids=lambda c: c["says"])
def test_an_arrival_bearing_is_its_closed_form(case):
    bearing = arrival_bearing_deg(PLAIN, *case["landing"], Point(*case["target"]), case["faces"])
    assert bearing == pytest.approx(case["angle_deg"], abs=CLOSED["tolerance"])


@given(contacts, landings, in_court)
def test_a_pass_angle_is_the_phase_of_a_quotient(contact, landing, target):
    assume(apart(contact, landing, target))
    angle = pass_angle_deg(PLAIN, contact, landing.x_m, landing.y_m, target)
    assert angle == pytest.approx(angle_by_complex_numbers_deg(landing, contact, target), **ANGLE_DEG)


@given(contacts, in_court, st.floats(0.05, 0.95))
def test_a_landing_on_the_line_through_the_target_turns_nothing_beyond_it_and_everything_before(
    contact, target, share
):
    assume(target.y_m > 0.1)
    before = Point(
        contact.x_m + share * (target.x_m - contact.x_m), contact.y_m + share * (target.y_m - contact.y_m)
    )
    beyond = Point(2 * target.x_m - before.x_m, 2 * target.y_m - before.y_m)
    assert pass_angle_deg(PLAIN, contact, before.x_m, before.y_m, target) == pytest.approx(180, **ANGLE_DEG)
    assert pass_angle_deg(PLAIN, contact, beyond.x_m, beyond.y_m, target) == pytest.approx(0, **ANGLE_DEG)


@given(contacts, landings, in_court)
def test_a_mirrored_serve_has_the_same_angles(contact, landing, target):
    assume(apart(contact, landing, target))
    here = pass_angle_deg(PLAIN, contact, landing.x_m, landing.y_m, target)
    there = pass_angle_deg(
        PLAIN, Point(-contact.x_m, contact.y_m), -landing.x_m, landing.y_m, Point(-target.x_m, target.y_m)
    )
    assert here == there
    left = arrival_bearing_deg(PLAIN, landing.x_m, landing.y_m, target, 1.0)
    right = arrival_bearing_deg(PLAIN, -landing.x_m, landing.y_m, Point(-target.x_m, target.y_m), -1.0)
    assert left == right


@given(landings, in_court)
def test_a_setter_who_turns_round_has_the_pass_from_the_other_side(landing, target):
    assume(apart(landing, target))
    left, right = (arrival_bearing_deg(PLAIN, landing.x_m, landing.y_m, target, f) for f in (1.0, -1.0))
    assert left + right == pytest.approx(180, **ANGLE_DEG)


def test_a_landing_at_one_of_the_other_places_has_no_angle():
    assert pass_angle_deg(PLAIN, Point(0, -9), 1.0, 1.0, Point(1, 1)) == 0.0
    assert arrival_bearing_deg(PLAIN, -1.0, 1.0, Point(-1, 1), 1.0) == 0.0


@given(contacts, landings, in_court)
def test_a_platform_turned_by_half_the_angle_reflects_the_ball_to_the_target(contact, landing, target):
    """The mirror law as a vector: d - 2 (d . n) n, with n the platform's normal seen from above."""
    assume(apart(contact, landing, target))
    s, at, t = (np.array([p.x_m, p.y_m]) for p in (contact, landing, target))
    incoming, back, onwards = (v / np.linalg.norm(v) for v in (at - s, s - at, t - at))
    angle = pass_angle_deg(PLAIN, contact, *at.tolist(), target)
    side = 1.0 if back[0] * onwards[1] - back[1] * onwards[0] > 0 else -1.0
    turn = math.radians(platform_turn_deg(angle)) * side
    normal = np.array(
        [
            back[0] * math.cos(turn) - back[1] * math.sin(turn),
            back[0] * math.sin(turn) + back[1] * math.cos(turn),
        ]
    )
    reflected = incoming - 2 * np.dot(incoming, normal) * normal
    np.testing.assert_allclose(reflected, onwards, atol=1e-7)  # the angle's own 3e-6 deg


def test_a_platform_a_degree_off_sends_the_ball_two_degrees_off():
    # 45 deg at (4, 6) from (4, -9) to (-1, 1); a platform turned one degree more serves a pass of 47 deg.
    assert platform_turn_deg(47.0) - platform_turn_deg(45.0) == 1.0


@pytest.mark.parametrize("case", SIGHT["bands"], ids=lambda c: str(c["sight_angle_deg"]))
def test_a_sight_band_reaches_to_its_published_limit(case):
    assert sight_band(case["sight_angle_deg"]) == case["band"]


@given(contacts, landings, in_court)
def test_the_distance_from_the_serves_track_is_that_of_shapely(contact, landing, place):
    track = LineString([(contact.x_m, contact.y_m), (landing.x_m, landing.y_m)])
    expected = track.distance(ShapelyPoint(place.x_m, place.y_m))
    assert track_distance_m(contact, landing, place) == pytest.approx(expected, abs=1e-9)


@given(contacts, landings, in_court, in_court)
def test_a_serve_crosses_the_lane_within_1_2_metres_of_setter_or_target(contact, landing, setter, target):
    track = LineString([(contact.x_m, contact.y_m), (landing.x_m, landing.y_m)])
    nearest = min(track.distance(ShapelyPoint(p.x_m, p.y_m)) for p in (setter, target))
    assume(abs(nearest - SETTER_LANE_M) > 1e-9)
    assert crosses_setter_lane(contact, landing, setter, target) == (nearest < 1.2)


def test_the_lane_ends_at_1_2_metres_and_at_the_landing():
    far = Point(-4.5, 1)
    serve = Point(0, -9), Point(0, 7)
    assert crosses_setter_lane(*serve, Point(1.199, 1), far)
    assert not crosses_setter_lane(*serve, Point(1.2, 1), far)
    assert crosses_setter_lane(*serve, far, Point(-1.199, 1))
    assert crosses_setter_lane(*serve, Point(0, 8.199), far)
    assert not crosses_setter_lane(*serve, Point(0, 8.201), far)  # beyond the landing there is no track


def duty_slowly(x_m: float, y_m: float, stands: list[Stand], target: Point) -> dict[str, float]:
    """Return the same with lists, sorting and unit vectors, as the words say it.

    seam: exp(-(gap/0.6)^2), or the same of the distance to the sideline if that is more, times
    move/1.2 up to 1; away and back: parts of the move away from the target and backwards, 0 to 2 m.
    """
    here = np.array([x_m, y_m])
    moves = [here - np.array([s.place.x_m, s.place.y_m]) for s in stands]
    lengths = [float(np.hypot(*move)) for move in moves]
    ranked = sorted(range(len(stands)), key=lambda k: (lengths[k], k))
    hers = ranked[0]
    gap = lengths[ranked[1]] - lengths[hers] if len(ranked) > 1 else math.inf
    outwards = here - np.array([target.x_m, target.y_m])
    outwards = outwards / np.hypot(*outwards)
    unclear = max(math.exp(-((gap / 0.6) ** 2)), math.exp(-(((4.5 - abs(x_m)) / 0.6) ** 2)))
    return {
        "move_m": lengths[hers],
        "away_m": min(max(float(moves[hers] @ outwards), 0.0), 2.0),
        "back_m": min(max(float(moves[hers][1]), 0.0), 2.0),
        "seam": unclear * min(lengths[hers] / 1.2, 1.0),
        "shift": stands[hers].shift,
        "index": float(hers),
    }


def nearest_two_differ(landing: Point, stands: list[Stand]) -> bool:
    reached = sorted(math.dist((landing.x_m, landing.y_m), (s.place.x_m, s.place.y_m)) for s in stands)
    return len(reached) == 1 or reached[1] - reached[0] > 1e-9


@given(landings, some_stands, in_court)
def test_a_duty_is_what_a_slow_obvious_reckoning_says(landing, stands, target):
    assume(nearest_two_differ(landing, stands) and apart(landing, target))
    found = duty(PLAIN, landing.x_m, landing.y_m, stands, target)._asdict()
    assert found == pytest.approx(duty_slowly(landing.x_m, landing.y_m, stands, target), abs=1e-9)


THREE = [Stand(Point(2.9, 6.3), 0.2), Stand(Point(0, 6.7), -0.1), Stand(Point(-2.9, 6.3), 0.4)]
TARGET = Point(-1, 1)


@pytest.mark.parametrize(
    ("landing", "index", "move_m", "away_m", "back_m"),
    [
        (Point(2.9, 7.3), 0, 1.0, 0.8503, 1.0),  # straight back: 6.3/sqrt(3.9^2 + 6.3^2) of it away
        (Point(2.9, 5.3), 0, 1.0, 0.0, 0.0),  # forwards
        (Point(3.9, 6.3), 0, 1.0, 0.6789, 0.0),  # to the side: 4.9/sqrt(4.9^2 + 5.3^2)
        (Point(1.9, 6.3), 0, 1.0, 0.0, 0.0),  # towards the target
        (Point(-2.9, 9.0), 2, 2.7, 2.0, 2.0),  # back and away count up to 2 m
        (Point(0, 6.7), 1, 0.0, 0.0, 0.0),
    ],
)
def test_the_nearest_passer_moves_as_worked_out_by_hand(landing, index, move_m, away_m, back_m):
    hers = duty(PLAIN, landing.x_m, landing.y_m, THREE, TARGET)
    assert hers.index == index
    assert hers.shift == THREE[index].shift
    moved = (hers.move_m, hers.away_m, hers.back_m)
    assert moved == pytest.approx((move_m, away_m, back_m), abs=5e-5)  # four decimals


@pytest.mark.parametrize(
    ("says", "stands", "landing", "seam"),
    [
        ("as far from both, more than a step", [(-2, 6), (2, 6)], (0, 6), 1.0),
        ("as far from both, half of 1.2 m from each", [(-0.6, 6), (0.6, 6)], (0, 6), 0.5),
        ("0.6 m nearer to one: exp(-1)", [(-2.3, 6), (1.7, 6)], (0, 6), 0.36788),
        ("1.2 m nearer to one: exp(-4)", [(-2.6, 6), (1.4, 6)], (0, 6), 0.01832),
        ("at her feet, as near the other as you like", [(0, 6), (0.1, 6)], (0, 6), 0.0),
        ("one passer in the middle of the court", [(0, 6)], (2, 6), 0.0),
        ("one passer, on the sideline", [(1, 6)], (4.5, 6), 1.0),
        ("one passer, 0.6 m from the sideline: exp(-1)", [(1, 6)], (3.9, 6), 0.36788),
        ("the same at the other sideline", [(-1, 6)], (-3.9, 6), 0.36788),
        ("as far out of the court as in it", [(1, 6)], (5.1, 6), 0.36788),
        ("on the sideline, a quarter of 1.2 m from her", [(4.2, 6)], (4.5, 6), 0.25),
    ],
)
def test_a_seam_is_as_unclear_as_worked_out_by_hand(says, stands, landing, seam):
    hers = duty(PLAIN, *landing, [Stand(Point(*place)) for place in stands], TARGET)
    assert hers.seam == pytest.approx(seam, abs=2e-5), says  # exp(-1) and exp(-4) to five decimals


def test_of_two_passers_as_near_the_first_takes_the_ball():
    stands = [Stand(Point(-2, 6), 0.1), Stand(Point(2, 6), 0.9)]
    assert duty(PLAIN, 0.0, 6.0, stands, TARGET).index == 0
    assert duty(PLAIN, 0.0, 6.0, stands[::-1], TARGET).shift == 0.9


@given(landings, st.permutations(range(4)), in_court)
def test_the_order_in_which_passers_are_given_does_not_matter(landing, order, target):
    places = [Point(3.3, 5.2), Point(1.2, 7.0), Point(-1.2, 7.0), Point(-3.3, 5.2)]
    stands = [Stand(place, 0.1 * k) for k, place in enumerate(places)]
    assume(nearest_two_differ(landing, stands))
    given_so = duty(PLAIN, landing.x_m, landing.y_m, stands, target)
    otherwise = duty(PLAIN, landing.x_m, landing.y_m, [stands[k] for k in order], target)
    assert otherwise[:-1] == pytest.approx(given_so[:-1], abs=1e-12)
    assert order[int(otherwise.index)] == given_so.index


def test_a_landing_on_the_target_has_no_direction_away_from_it():
    hers = duty(PLAIN, -1.0, 1.0, [Stand(Point(0, 5))], TARGET)
    assert (hers.away_m, hers.back_m) == (0.0, 0.0)
    assert hers.move_m == pytest.approx(math.sqrt(17))


def test_numbers_and_arrays_give_the_same_geometry():
    rng = random.Random(20250101)
    x_m = [rng.uniform(-4.55, 4.55) for _ in range(500)]
    y_m = [rng.uniform(0, 9.05) for _ in range(500)]
    contact = Point(4.2, -9)
    x, y = ARRAYS.column(x_m), ARRAYS.column(y_m)
    each = list(zip(x_m, y_m, strict=True))
    same = {"rtol": 1e-12, "atol": 1e-9}
    np.testing.assert_allclose(
        pass_angle_deg(ARRAYS, contact, x, y, TARGET),
        [pass_angle_deg(PLAIN, contact, a, b, TARGET) for a, b in each],
        **same,
    )
    np.testing.assert_allclose(
        arrival_bearing_deg(ARRAYS, x, y, TARGET, -1.0),
        [arrival_bearing_deg(PLAIN, a, b, TARGET, -1.0) for a, b in each],
        **same,
    )
    whole = duty(ARRAYS, x, y, THREE, TARGET)
    one_by_one = list(zip(*(duty(PLAIN, a, b, THREE, TARGET) for a, b in each), strict=True))
    for column, numbers in zip(whole, one_by_one, strict=True):
        np.testing.assert_allclose(column, numbers, **same)
