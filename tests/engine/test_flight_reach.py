"""Reach tables and single serves: closed forms without air, and each other with it."""

from __future__ import annotations

import json
import math
import random
from itertools import pairwise
from pathlib import Path

import pytest
from cornerwise.engine.flight import (
    LIGHT_BALL,
    MATCH_BALL,
    SLOWEST_M_S,
    YOUTH_BALL,
    Air,
    Launch,
    net_margin_m,
    reach_table,
    solve,
    trajectory,
)

FIXTURES = Path(__file__).resolve().parents[2] / "fixtures" / "flight"
LONGEST_RANGES = json.loads((FIXTURES / "longest_ranges.json").read_text())
HARD_TOPSPIN = json.loads((FIXTURES / "hard_jump_topspin.json").read_text())
G = 9.81
RADIUS_M = 0.105
WORKED_OUT = [  # speed m/s, contact height m, spin rev/s: the stock serves and what lies around them
    (12.0, 1.0, 0.0),
    (12.5, 2.4, 0.0),
    (13.5, 2.1, 2.0),
    (16.0, 2.6, 0.0),
    (17.0, 2.4, 5.0),
    (18.0, 3.0, 0.0),
    (21.0, 2.9, 6.0),
    (25.0, 3.3, 7.0),
    (31.0, 3.6, 10.0),
]
LAUNCHES = [Launch(*serve, model) for serve in WORKED_OUT for model in ("A", "B")] + [
    Launch(14.0, 2.0, 0.0, "B", YOUTH_BALL),
    Launch(12.0, 1.8, 0.0, "B", LIGHT_BALL),
]
TIME_S, LENGTH_M = 0.001, 0.005  # what a table promises: 1 ms, 5 mm


def named(launch):
    return f"{launch.speed_m_s}-{launch.contact_height_m}-{launch.spin_rev_s}-{launch.model}"


every_launch = pytest.mark.parametrize("launch", LAUNCHES, ids=named)


def some_ranges_m(launch, n):
    """Return ranges all over the table, and some within a millimetre to a metre of the longest."""
    rng, longest_m = random.Random(named(launch)), reach_table(launch).longest_m
    near = [longest_m - 10.0 ** rng.uniform(-3, 0) for _ in range(n // 3)]
    return near + [rng.uniform(0.5, longest_m) for _ in range(n - n // 3)]


class Vacuum:
    """Closed forms for a serve without air."""

    def __init__(self, speed_m_s, contact_height_m):
        self.v, self.h = speed_m_s, contact_height_m
        self.launch = Launch(speed_m_s, contact_height_m, 0.0, air=Air(0.0, 1.51e-5))

    def longest_m(self):
        return self.v / G * math.sqrt(self.v**2 + 2 * G * (self.h - RADIUS_M))

    def longest_angle_rad(self):
        return math.atan(self.v / math.sqrt(self.v**2 + 2 * G * (self.h - RADIUS_M)))

    def lower_angle_rad(self, distance_m, height_m):
        """Return the lower of the two launch angles through a point: a quadratic in the tangent."""
        a = G * distance_m**2 / (2 * self.v**2)
        tangent = (distance_m - math.sqrt(distance_m**2 - 4 * a * (a + height_m - self.h))) / (2 * a)
        return math.atan(tangent)

    def range_m(self, angle_rad):
        rise = self.v * math.sin(angle_rad)
        return self.v * math.cos(angle_rad) * (rise + math.sqrt(rise**2 + 2 * G * (self.h - RADIUS_M))) / G

    def height_m(self, angle_rad, distance_m):
        t_s = distance_m / (self.v * math.cos(angle_rad))
        return self.h + self.v * math.sin(angle_rad) * t_s - G * t_s**2 / 2


VACUUMS = [Vacuum(12.0, 1.0), Vacuum(15.0, 2.5), Vacuum(24.0, 3.2)]


@pytest.mark.parametrize("vacuum", VACUUMS, ids=lambda vacuum: named(vacuum.launch))
class TestWithoutAir:
    def test_the_longest_range_and_its_angle_are_the_closed_form(self, vacuum):
        table = reach_table(vacuum.launch)
        assert table.longest_m == pytest.approx(vacuum.longest_m(), abs=1e-6)
        assert table.longest_angle_rad == pytest.approx(vacuum.longest_angle_rad(), abs=1e-4)

    def test_a_single_serve_takes_the_lower_root(self, vacuum):
        for range_m in (0.3, 2.0, 0.5 * vacuum.longest_m(), 0.99 * vacuum.longest_m()):
            flight = solve(vacuum.launch, range_m)
            angle = vacuum.lower_angle_rad(range_m, RADIUS_M)
            assert flight.launch_angle_rad == pytest.approx(angle, abs=1e-6)
            assert flight.flight_time_s == pytest.approx(range_m / (vacuum.v * math.cos(angle)), abs=1e-6)
            expected_m = vacuum.height_m(angle, 0.4 * range_m)
            assert flight.height_m(0.4 * range_m) == pytest.approx(expected_m, abs=1e-6)

    def test_the_table_gives_heights_and_times_of_the_parabola(self, vacuum):
        table = reach_table(vacuum.launch)
        for range_m in some_ranges_m(vacuum.launch, 30):
            angle = vacuum.lower_angle_rad(range_m, RADIUS_M)
            expected_s = range_m / (vacuum.v * math.cos(angle))
            assert table.flight_time_s(range_m) == pytest.approx(expected_s, abs=TIME_S)
            for share in (0.2, 0.6, 0.95):
                expected_m = vacuum.height_m(angle, share * range_m)
                assert table.height_m(range_m, share * range_m) == pytest.approx(expected_m, abs=LENGTH_M)

    @pytest.mark.parametrize("net_height_m", [1.98, 2.24, 2.43])
    def test_the_shortest_clearing_range_passes_through_the_point_above_the_tape(self, vacuum, net_height_m):
        table, tape_m = reach_table(vacuum.launch), net_height_m + RADIUS_M
        for distance_m in (5.0, 6.3, 8.1, 9.2, 11.0):
            try:
                angle = vacuum.lower_angle_rad(distance_m, tape_m)
            except ValueError:  # no launch angle reaches that point at all
                angle = math.pi / 2
            found_m = table.shortest_clear_m(distance_m, net_height_m)
            if angle > vacuum.longest_angle_rad():
                assert found_m == math.inf
            else:
                assert found_m == pytest.approx(vacuum.range_m(angle), abs=LENGTH_M)


@every_launch
def test_a_single_serve_lands_where_it_should(launch):
    for range_m in (0.1, 1.0, *some_ranges_m(launch, 6), reach_table(launch).longest_m):
        flight = solve(launch, range_m)
        t_s, x_m, _, vx, vz = trajectory(launch, flight.launch_angle_rad)[-1]
        assert x_m == pytest.approx(range_m, abs=1e-6)
        assert flight.flight_time_s == pytest.approx(t_s, abs=1e-6)
        assert flight.landing_speed_m_s == pytest.approx(math.hypot(vx, vz), abs=1e-6)
        assert flight.launch_angle_rad <= reach_table(launch).longest_angle_rad
        assert flight.height_m(0.0) == pytest.approx(launch.contact_height_m)


@every_launch
def test_the_table_agrees_with_the_single_serve(launch):
    table = reach_table(launch)
    rng = random.Random(2)
    for range_m in some_ranges_m(launch, 24):
        flight = solve(launch, range_m)
        assert table.flight_time_s(range_m) == pytest.approx(flight.flight_time_s, abs=TIME_S)
        landed_m = trajectory(launch, table.launch_angle_rad(range_m))[-1][1]
        assert landed_m == pytest.approx(range_m, abs=LENGTH_M)
        for distance_m in (rng.uniform(0.0, range_m), 0.999 * range_m):
            expected_m = flight.height_m(distance_m)
            assert table.height_m(range_m, distance_m) == pytest.approx(expected_m, abs=LENGTH_M)


@every_launch
@pytest.mark.parametrize("net_height_m", [2.13, 2.43])
def test_the_shortest_clearing_range_agrees_with_single_serves(launch, net_height_m):
    table = reach_table(launch)
    for distance_m in (3.0, 5.3, 8.3, 9.2, 11.7):
        found_m = table.shortest_clear_m(distance_m, net_height_m)
        if found_m == math.inf:
            longest = solve(launch, table.longest_m)
            assert net_margin_m(longest, distance_m, net_height_m) < 0.001
            continue
        low_m, high_m = distance_m, table.longest_m
        while high_m - low_m > 1e-4:
            middle_m = (low_m + high_m) / 2
            if net_margin_m(solve(launch, middle_m), distance_m, net_height_m) >= 0.0:
                high_m = middle_m
            else:
                low_m = middle_m
        assert found_m == pytest.approx(high_m, abs=LENGTH_M)


@every_launch
def test_reach_is_monotonic_in_the_launch_angle(launch):
    # The farther a ball lands, the higher it was launched, the longer it flew, the higher it was on the way.
    table = reach_table(launch)
    ranges_m = [1.0 + (table.longest_m - 1.0) * k / 200 for k in range(201)]
    for quantity in (table.launch_angle_rad, table.flight_time_s, lambda r: table.height_m(r, 0.9)):
        values = [quantity(range_m) for range_m in ranges_m]
        assert all(lower < higher for lower, higher in pairwise(values))


@every_launch
def test_no_launch_angle_at_all_carries_farther_than_the_longest_range(launch):
    ranges_m = [trajectory(launch, math.radians(0.5 * half_deg))[-1][1] for half_deg in range(0, 160)]
    longest_m = reach_table(launch).longest_m
    assert max(ranges_m) <= longest_m + 1e-9
    assert max(ranges_m) == pytest.approx(longest_m, abs=0.01)  # half a degree off costs a few mm


@pytest.mark.parametrize("case", LONGEST_RANGES["serves"], ids=lambda case: f"{case['speed_m_s']} m/s")
@pytest.mark.parametrize("model", ["A", "B"])
def test_the_longest_range_is_the_one_a_general_solver_found(case, model):
    table = reach_table(Launch(case["speed_m_s"], case["contact_height_m"], 0.0, model))
    assert table.longest_m == pytest.approx(case[model], abs=LONGEST_RANGES["tolerance"]["range_m"] + 1e-9)


@every_launch
def test_a_ball_that_is_out_of_reach_is_none(launch):
    longest_m = reach_table(launch).longest_m
    assert solve(launch, longest_m) is not None
    assert solve(launch, longest_m + 1e-6) is None
    assert solve(launch, 2 * longest_m) is None


@every_launch
def test_beyond_the_longest_range_the_table_gives_the_longest_ball(launch):
    table = reach_table(launch)
    longest = trajectory(launch, table.longest_angle_rad)
    assert longest[-1][1] == pytest.approx(table.longest_m, abs=1e-9)
    for range_m in (table.longest_m, table.longest_m + 0.5, 3 * table.longest_m):
        assert table.flight_time_s(range_m) == pytest.approx(longest[-1][0], abs=1e-9)
        assert table.launch_angle_rad(range_m) == pytest.approx(table.longest_angle_rad, abs=1e-12)
        assert table.height_m(range_m, longest[20][1]) == pytest.approx(longest[20][2], abs=1e-6)


def test_a_ball_past_its_landing_lies_on_the_floor():
    launch = Launch(16.0, 2.6, 0.0)
    flight = solve(launch, 12.0)
    assert flight.height_m(12.0) == flight.height_m(15.0) == RADIUS_M
    assert reach_table(launch).height_m(12.0, 15.0) == RADIUS_M
    # The tape is the whole net above a ball on the floor: a fault by the height of the net.
    assert net_margin_m(flight, 13.0, 2.24) == pytest.approx(-2.24)


def test_the_net_margin_is_the_gap_under_the_ball():
    launch = Launch(18.0, 3.0, 0.0)
    flight = solve(launch, 15.0)
    below, above = (trajectory(launch, flight.launch_angle_rad, duration_s=t)[-1] for t in (0.5, 0.51))
    margin_m = net_margin_m(flight, below[1], 2.24)
    assert margin_m == pytest.approx(below[2] - 0.105 - 2.24, abs=1e-6)
    assert net_margin_m(flight, above[1], 2.24) != margin_m


@pytest.mark.parametrize("model", ["A", "B"])
def test_a_hard_jump_topspin_serve_clears_the_net_as_in_play_with_b_only(model):
    given = HARD_TOPSPIN
    launch = Launch(given["speed_m_s"], given["contact_height_m"], given["spin_rev_s"], model)
    range_m = given["contact_to_net_m"] + 9.0 - given["landing_inside_m"]
    margin_m = net_margin_m(solve(launch, range_m), given["contact_to_net_m"], given["net_height_m"])
    shortest_m = reach_table(launch).shortest_clear_m(given["contact_to_net_m"], given["net_height_m"])
    assert (margin_m >= 0.0) == given["clears"][model]
    assert (shortest_m <= range_m) == given["clears"][model]


def test_an_underhand_serve_clears_the_net_only_from_near_enough():
    # 12 m/s from 1.0 m reaches 11.5 m, straight ahead over 9.2 m just so, but not along a diagonal of 10 m.
    table = reach_table(Launch(12.0, 1.0, 0.0))
    assert table.shortest_clear_m(9.2, 2.24) < table.longest_m
    assert table.shortest_clear_m(10.0, 2.24) == math.inf


def test_no_serve_clears_a_net_above_its_highest_point():
    assert reach_table(Launch(12.0, 1.0, 0.0)).shortest_clear_m(5.0, 6.0) == math.inf


def test_a_higher_net_needs_a_longer_serve():
    table = reach_table(Launch(18.0, 3.0, 0.0))
    shortest_m = [table.shortest_clear_m(9.0, height_m) for height_m in (1.98, 2.13, 2.24, 2.35, 2.43)]
    assert shortest_m == sorted(shortest_m)
    assert shortest_m[0] < shortest_m[-1] < math.inf


def test_the_same_launch_has_the_same_table():
    assert reach_table(Launch(16.0, 2.6, 0.0)) is reach_table(Launch(16.0, 2.6, 0.0, "B", MATCH_BALL))


def test_what_makes_no_sense_is_refused():
    launch = Launch(16.0, 2.6, 0.0)
    with pytest.raises(ValueError, match="range_m"):
        solve(launch, 0.0)
    with pytest.raises(ValueError, match="net_height_m"):
        reach_table(launch).shortest_clear_m(9.0, 0.0)
    with pytest.raises(ValueError, match="speed_m_s"):
        reach_table(Launch(0.9 * SLOWEST_M_S, 2.6, 0.0))
