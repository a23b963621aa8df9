"""Ball, air, drag and lift against published values."""

from __future__ import annotations

import doctest
import json
import math
from itertools import pairwise
from pathlib import Path

import pytest
from cornerwise.engine.flight import (
    FLOATS,
    INDOOR_AIR,
    KINDS,
    LIGHT_BALL,
    MATCH_BALL,
    TOPSPIN,
    YOUTH_BALL,
    Air,
    Ball,
    Launch,
    aerodynamics,
    drag_coefficient,
    lift_coefficient,
)

FIXTURES = Path(__file__).resolve().parents[2] / "fixtures" / "flight"
DRAG_CRISIS = json.loads((FIXTURES / "drag_crisis.json").read_text())


@pytest.mark.parametrize(
    ("ball", "circumference_m", "mass_kg"),
    [
        (MATCH_BALL, (0.65, 0.67), (0.260, 0.280)),  # FIVB Official Volleyball Rules 2025-2028, 3.1
        (YOUTH_BALL, (0.63, 0.65), (0.240, 0.260)),  # federations' youth rules
        (LIGHT_BALL, (0.63, 0.65), (0.200, 0.240)),  # for about 12 and under, a weak source
    ],
)
def test_a_ball_is_within_its_rule(ball, circumference_m, mass_kg):
    assert circumference_m[0] < 2 * math.pi * ball.radius_m < circumference_m[1]
    assert mass_kg[0] < ball.mass_kg < mass_kg[1]


def test_a_float_is_no_topspin_serve_and_both_are_kinds():
    assert set(KINDS) > FLOATS | TOPSPIN
    assert not FLOATS & TOPSPIN


def test_constant_drag_is_the_published_constant_at_every_speed():
    # Lithio & Webb 2006, Rose-Hulman Undergrad. Math. J. 7(2): Cd 0.36, spin coefficient 0.30
    assert {drag_coefficient("A", v) for v in (0.0, 5.0, 15.0, 30.0)} == {0.36}
    assert lift_coefficient("A", 20.0, 7.0) == pytest.approx(0.30 * 2 * math.pi * 7.0 * 0.105 / 20.0)


def test_the_critical_speeds_of_three_match_balls_are_those_of_hard_floats():
    per_m_s = 2 * MATCH_BALL.radius_m / INDOOR_AIR.viscosity_m2_s
    speeds_m_s = [ball["critical_reynolds"] / per_m_s for ball in DRAG_CRISIS["balls"]]
    published = DRAG_CRISIS["critical_speeds_m_s"]
    assert min(speeds_m_s) == pytest.approx(published["slowest"], abs=published["tolerance"])
    assert max(speeds_m_s) == pytest.approx(published["fastest"], abs=published["tolerance"])


def test_drag_falls_all_the_way_to_the_highest_critical_speed():
    speeds_m_s = [10.0 + 0.1 * k for k in range(145)]  # up to 24.4 m/s, Hong et al. 2020
    coefficients = [drag_coefficient("B", v) for v in speeds_m_s]
    assert all(slower > faster for slower, faster in pairwise(coefficients))
    assert coefficients[0] - coefficients[-1] > 0.25


def test_drag_beyond_the_crisis_is_within_the_range_measured():
    measured = [ball["drag_coefficient"] for ball in DRAG_CRISIS["balls"]]
    for speed_m_s in (24.4, 27.0, 31.0):
        # abs: the fall never quite ends; 0.002 is below the two decimals measured
        assert min(measured) <= drag_coefficient("B", speed_m_s) <= max(measured) + 0.002


def test_drag_before_the_crisis_is_near_that_of_a_smooth_sphere():
    # Subcritical sphere, 0.4 to 0.5: Achenbach 1972, J. Fluid Mech. 54:565-575 (from memory)
    assert 0.40 < drag_coefficient("B", 5.0) < 0.50


def test_drag_stays_finite_at_any_speed():
    assert drag_coefficient("B", 0.0) == pytest.approx(0.45, abs=1e-4)
    assert drag_coefficient("B", 1e6) == pytest.approx(0.17, abs=1e-12)


@pytest.mark.parametrize("spin_parameter", [0.1, 0.15, 0.2, 0.25, 0.3])
def test_the_lift_of_b_agrees_with_a_second_published_fit(spin_parameter):
    # Sawicki, Hubbard & Stronge 2003, Am. J. Phys. 71:1152-1162: Cl = 0.09 + 0.6 S from S = 0.1 on (from
    # memory). Measured points scatter by about 15 % around either fit.
    speed_m_s = 22.0
    spin_rev_s = spin_parameter * speed_m_s / (2 * math.pi * MATCH_BALL.radius_m)
    expected = 0.09 + 0.6 * spin_parameter
    assert lift_coefficient("B", speed_m_s, spin_rev_s) == pytest.approx(expected, rel=0.15)


def test_lift_depends_on_the_ratio_of_rim_speed_to_speed_only():
    for model in ("A", "B"):
        assert lift_coefficient(model, 20.0, 6.0) == pytest.approx(lift_coefficient(model, 30.0, 9.0))


@pytest.mark.parametrize(("speed_m_s", "spin_rev_s"), [(17.0, 5.0), (21.0, 6.0), (25.0, 7.0), (27.0, 7.0)])
def test_the_two_forms_of_the_lift_differ_three_to_five_times(speed_m_s, spin_rev_s):
    ratio = lift_coefficient("B", speed_m_s, spin_rev_s) / lift_coefficient("A", speed_m_s, spin_rev_s)
    assert 3.0 < ratio < 5.0


def test_a_ball_without_spin_has_no_lift():
    assert lift_coefficient("A", 15.0, 0.0) == lift_coefficient("B", 15.0, 0.0) == 0.0


@pytest.mark.parametrize(
    ("build", "named"),
    [
        (lambda: Ball(0.0, 0.27), "radius_m"),
        (lambda: Ball(0.105, -0.27), "mass_kg"),
        (lambda: Air(-1.2, 1.5e-5), "density_kg_m3"),
        (lambda: Air(1.2, 0.0), "viscosity_m2_s"),
        (lambda: Launch(-1.0, 2.4, 0.0), "speed_m_s"),
        (lambda: Launch(math.inf, 2.4, 0.0), "speed_m_s"),
        (lambda: Launch(15.0, 0.1, 0.0), "contact_height_m"),
        (lambda: Launch(15.0, math.nan, 0.0), "contact_height_m"),
        (lambda: Launch(15.0, 2.4, -1.0), "spin_rev_s"),
        (lambda: Launch(15.0, 2.4, 0.0, "C"), "model"),
    ],
)
def test_an_impossible_value_cannot_exist(build, named):
    with pytest.raises(ValueError, match=named):
        build()


def test_the_examples_in_the_docstrings_hold():
    assert doctest.testmod(aerodynamics) == (0, 2)
