"""Trajectories against closed forms, published worked examples and a general-purpose solver."""

from __future__ import annotations

import json
import math
from itertools import pairwise
from pathlib import Path

import pytest
from cornerwise.engine.flight import (
    INDOOR_AIR,
    MATCH_BALL,
    YOUTH_BALL,
    Air,
    Ball,
    Launch,
    drag_coefficient,
    lift_coefficient,
    trajectory,
)
from scipy.integrate import solve_ivp
from scipy.optimize import minimize_scalar

FIXTURES = Path(__file__).resolve().parents[2] / "fixtures" / "flight"
VACUUM = Air(0.0, 1.51e-5)
G = 9.81
ABOVE_M = 2000.0  # high enough never to land within the test

SERVES = {  # one of each kind; speeds and heights of the stock servers, spin chosen
    "underhand": (13.5, 1.0, 0.0),
    "plain_overhand": (14.5, 2.3, 2.0),
    "standing_float": (16.0, 2.6, 0.0),
    "short_float": (12.5, 2.4, 0.0),
    "jump_float": (18.0, 3.0, 0.0),
    "standing_topspin": (17.0, 2.4, 5.0),
    "jump_topspin": (25.0, 3.3, 7.0),
    "hardest": (31.0, 3.6, 10.0),
}


def fixture(name):
    return json.loads((FIXTURES / f"{name}.json").read_text())


def drag_per_m(launch, coefficient):
    """Return k = rho A Cd / (2 m). [1/m]"""
    area_m2 = math.pi * launch.ball.radius_m**2
    return launch.air.density_kg_m3 * area_m2 * coefficient / (2 * launch.ball.mass_kg)


def reference(launch, angle_rad):
    """Return scipy's solution up to the landing, forces written out once more from the published forms."""
    radius_m, mass_kg = launch.ball.radius_m, launch.ball.mass_kg
    pressure_area = 0.5 * launch.air.density_kg_m3 * math.pi * radius_m**2

    def motion(_t, state):
        _, _, vx, vz = state
        v = math.hypot(vx, vz)
        s = 2 * math.pi * launch.spin_rev_s * radius_m / v
        re = 2 * radius_m * v / launch.air.viscosity_m2_s
        if launch.model == "A":
            cd, cl = 0.36, 0.30 * s
        else:
            cd, cl = 0.17 + 0.28 / (1 + math.exp((re - 2.4e5) / 2.0e4)), s / (0.4 + 2.32 * s)
        drag_x, drag_z = -pressure_area * cd * v * vx, -pressure_area * cd * v * vz
        lift_x, lift_z = pressure_area * cl * v * vz, -pressure_area * cl * v * vx
        return [vx, vz, (drag_x + lift_x) / mass_kg, (drag_z + lift_z) / mass_kg - G]

    def lands(_t, state):
        return state[1] - radius_m

    lands.terminal, lands.direction = True, -1
    v = launch.speed_m_s
    start = [0.0, launch.contact_height_m, v * math.cos(angle_rad), v * math.sin(angle_rad)]
    return solve_ivp(
        motion, (0, 60), start, "DOP853", rtol=1e-10, atol=1e-12, events=lands, dense_output=True
    )


def test_without_air_a_serve_is_a_parabola():
    given = fixture("vacuum_parabola")
    launch = Launch(given["speed_m_s"], given["contact_height_m"], 0.0, air=VACUUM)
    t_s, x_m, z_m, _, _ = trajectory(launch, math.radians(given["launch_angle_deg"]))[-1]
    assert z_m == given["radius_m"]
    assert t_s == pytest.approx(given["flight_time_s"], abs=given["tolerance"]["flight_time_s"])
    assert x_m == pytest.approx(given["range_m"], abs=given["tolerance"]["range_m"])


@pytest.mark.parametrize("angle_deg", [-60, -10, 0, 15, 45, 75])
def test_every_point_without_air_lies_on_the_parabola(angle_deg):
    a, v, h = math.radians(angle_deg), 20.0, 2.6
    path = trajectory(Launch(v, h, 7.0, air=VACUUM), a)
    for t, x, z, vx, vz in path:
        expected = (v * math.cos(a) * t, h + v * math.sin(a) * t - G * t * t / 2)
        assert (x, z) == pytest.approx(expected, abs=1e-6)
        assert (vx, vz) == pytest.approx((v * math.cos(a), v * math.sin(a) - G * t), abs=1e-6)
    rise = v * math.sin(a)
    assert path[-1][0] == pytest.approx((rise + math.sqrt(rise**2 + 2 * G * (h - 0.105))) / G, abs=1e-9)


def test_a_long_fall_ends_at_the_terminal_speed():
    # m g = 1/2 rho A Cd v^2
    launch = Launch(0.0, ABOVE_M, 0.0, "A")
    terminal_m_s = math.sqrt(2 * 0.270 * G / (1.20 * math.pi * 0.105**2 * 0.36))
    assert -trajectory(launch, 0.0)[-1][4] == pytest.approx(terminal_m_s, abs=1e-6)


def test_with_the_drag_crisis_the_terminal_speed_still_balances_weight_and_drag():
    launch = Launch(0.0, ABOVE_M, 0.0, "B")
    speed_m_s = -trajectory(launch, 0.0)[-1][4]
    drag_n = 0.5 * 1.20 * math.pi * 0.105**2 * drag_coefficient("B", speed_m_s) * speed_m_s**2
    assert drag_n == pytest.approx(0.270 * G, abs=1e-6)


def test_a_ball_dropped_from_rest_follows_the_hyperbolic_tangent():
    # v = v_t tanh(g t / v_t) and fall = v_t^2/g ln cosh(g t / v_t), for constant Cd
    launch = Launch(0.0, ABOVE_M, 0.0, "A")
    v_t = math.sqrt(G / drag_per_m(launch, 0.36))
    for t, x, z, _, vz in trajectory(launch, 0.0, duration_s=6.0):
        assert -vz == pytest.approx(v_t * math.tanh(G * t / v_t), abs=1e-6)
        assert ABOVE_M - z == pytest.approx(v_t**2 / G * math.log(math.cosh(G * t / v_t)), abs=1e-6)
        assert x == 0.0


def test_with_drag_alone_a_ball_slows_as_a_logarithm_of_time():
    # x = ln(1 + k v0 t) / k, for constant Cd
    launch = Launch(25.0, ABOVE_M, 0.0, "A")
    k = drag_per_m(launch, 0.36)
    path = trajectory(launch, 0.0, gravity_m_s2=0.0, duration_s=3.0)
    assert path[-1][0] == pytest.approx(3.0, abs=1e-12)
    for t, x, z, vx, _ in path:
        assert x == pytest.approx(math.log(1 + k * 25.0 * t) / k, abs=1e-6)
        assert vx == pytest.approx(25.0 / (1 + k * 25.0 * t), abs=1e-6)
        assert z == ABOVE_M


@pytest.mark.parametrize("model", ["A", "B"])
def test_with_lift_alone_a_ball_runs_on_a_circle_to_below(model):
    # radius 2 m / (rho A Cl): the speed stays, and with it Cl
    launch = Launch(25.0, ABOVE_M, 7.0, model)
    radius_m = 1 / drag_per_m(launch, lift_coefficient(model, 25.0, 7.0))
    path = trajectory(launch, 0.0, gravity_m_s2=0.0, drag=False, duration_s=4.0)
    for t, x, z, vx, vz in path:
        turned = 25.0 * t / radius_m
        assert x == pytest.approx(radius_m * math.sin(turned), abs=1e-6)
        assert z == pytest.approx(ABOVE_M - radius_m * (1 - math.cos(turned)), abs=1e-6)
        assert math.hypot(vx, vz) == pytest.approx(25.0, abs=1e-9)
    assert path[-1][2] < ABOVE_M - 5.0


@pytest.mark.parametrize(("speed_m_s", "angle_deg"), [(14, 40), (20, 5), (28, -8), (28, 60)])
def test_the_hodograph_invariant_stays_constant(speed_m_s, angle_deg):
    # Constant Cd, no lift, slope angle a: 1/vx^2 + (k/g)(tan a / cos a + arsinh tan a) is constant, from
    # dvx/da = k vx^3 / (g cos^3 a). Classical exterior ballistics.
    launch = Launch(float(speed_m_s), 3.0, 0.0, "A")
    k = drag_per_m(launch, 0.36)

    def invariant(vx, vz):
        tangent = vz / vx
        return 1 / vx**2 + k / G * (tangent * math.hypot(1.0, tangent) + math.asinh(tangent))

    values = [invariant(vx, vz) for *_, vx, vz in trajectory(launch, math.radians(angle_deg))]
    assert len(values) > 10
    assert values == pytest.approx([values[0]] * len(values), rel=1e-7)


@pytest.mark.parametrize("case", fixture("worked_examples")["serves"], ids=lambda c: f"{c['speed_m_s']} m/s")
def test_a_published_worked_example_comes_out(case):
    given = fixture("worked_examples")
    # 0.02 s and 0.15 m: Euler-Cromer steps of up to 5 ms, ranges read off a plot
    t_s, x_m, *_ = trajectory(worked_launch(given, case["speed_m_s"]), case["launch_angle_rad"])[-1]
    assert t_s == pytest.approx(case["flight_time_s"], abs=given["tolerance"]["flight_time_s"])
    assert x_m == pytest.approx(case["range_m"], abs=given["tolerance"]["range_m"])


def test_the_fastest_published_serve_skims_the_net_and_lands_on_the_end_line():
    given = fixture("worked_examples")
    fastest = given["fastest"]
    path = trajectory(worked_launch(given, fastest["speed_m_s"]), fastest["launch_angle_rad"], step_s=0.001)
    at_net = min(path, key=lambda state: abs(state[1] - fastest["distance_to_net_m"]))
    low, high = fastest["tolerance"]["net_margin_m"]
    assert low < at_net[2] - given["ball"]["radius_m"] - fastest["net_height_m"] < high
    assert path[-1][1] == pytest.approx(fastest["end_of_court_m"], abs=fastest["tolerance"]["range_m"])


def worked_launch(given, speed_m_s):
    air = Air(given["air_density_kg_m3"], INDOOR_AIR.viscosity_m2_s)
    return Launch(
        speed_m_s, given["contact_height_m"], given["spin_rev_s"], given["model"], Ball(**given["ball"]), air
    )


@pytest.mark.parametrize("model", ["A", "B"])
@pytest.mark.parametrize("serve", SERVES)
@pytest.mark.parametrize("angle_deg", [-12, 4, 20, 38, 70])
def test_a_serve_agrees_with_a_general_solver_to_a_millimetre(serve, model, angle_deg):
    launch = Launch(*SERVES[serve], model)
    path = trajectory(launch, math.radians(angle_deg))
    expected = reference(launch, math.radians(angle_deg))
    assert path[-1][0] == pytest.approx(expected.t[-1], abs=1e-4)
    for t, x, z, *_ in path[:-1]:
        assert (x, z) == pytest.approx(tuple(expected.sol(t)[:2]), abs=0.001)
    assert path[-1][1] == pytest.approx(expected.y[0, -1], abs=0.001)


def test_the_usual_step_is_good_to_a_thousandth_of_a_millimetre():
    for ball in (MATCH_BALL, YOUTH_BALL):
        for serve in SERVES.values():
            launch = Launch(*serve, "B", ball)
            expected = reference(launch, 0.3)
            assert trajectory(launch, 0.3)[-1][1] == pytest.approx(expected.y[0, -1], abs=1e-6)


def test_halving_the_step_makes_the_error_sixteen_times_smaller():
    # fourth order: 2^4; the rest is the next order
    launch, angle = Launch(25.0, ABOVE_M, 7.0, "B"), 0.1
    exact, coarse, fine = (
        trajectory(launch, angle, step_s=step_s, duration_s=1.6)[-1][1:3] for step_s in (0.001, 0.16, 0.08)
    )
    assert 11.0 < math.dist(coarse, exact) / math.dist(fine, exact) < 23.0


@pytest.mark.parametrize("case", fixture("longest_ranges")["serves"], ids=lambda c: f"{c['speed_m_s']} m/s")
@pytest.mark.parametrize("model", ["A", "B"])
def test_the_longest_ranges_by_a_general_solver_are_those_written_down(case, model):
    launch = Launch(case["speed_m_s"], case["contact_height_m"], 0.0, model)
    longest = minimize_scalar(lambda a: -reference(launch, a).y[0, -1], bounds=(0.3, 1.0), method="bounded")
    tolerance = fixture("longest_ranges")["tolerance"]["range_m"]
    assert -longest.fun == pytest.approx(case[model], abs=tolerance + 1e-9)


def test_more_topspin_lands_shorter_and_sooner():
    landings = [trajectory(Launch(22.0, 3.0, spin), 0.05)[-1] for spin in (0.0, 3.0, 6.0, 9.0)]
    for less, more in pairwise(landings):
        assert more[0] < less[0]
        assert more[1] < less[1]


def test_thinner_air_carries_a_ball_farther_when_drag_is_constant():
    airs = [Air(density_kg_m3, 1.51e-5) for density_kg_m3 in (1.2, 1.0, 0.0)]
    ranges_m = [trajectory(Launch(16.0, 2.6, 0.0, "A", air=air), 0.5)[-1][1] for air in airs]
    assert ranges_m[0] < ranges_m[1] < ranges_m[2]
