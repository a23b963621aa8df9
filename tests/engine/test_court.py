"""The court against the published rules, and its zones, depths, slots and spots at their borders."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from cornerwise.engine.court import (
    ATTACK_LINE_M,
    BALL_IN_MARGIN_M,
    DEPTHS,
    FREE_ZONE_M,
    HALF_LENGTH_M,
    HALF_WIDTH_M,
    SPOT_NAMES,
    USUAL_PASS_TARGET,
    Point,
    depth,
    distance_m,
    in_service_zone,
    on_opponents_half,
    on_the_line,
    service_spots,
    slot_middle_x_m,
    spot_name,
    zone,
)
from cornerwise.engine.players import NET_HEIGHT_M
from hypothesis import assume, given
from hypothesis import strategies as st
from shapely import Point as ShapelyPoint
from shapely import box

FIXTURES = Path(__file__).parents[2] / "fixtures" / "court"
RULES = json.loads((FIXTURES / "rules.json").read_text())
PLACES = json.loads((FIXTURES / "places.json").read_text())

# Zones as the receivers number them, in the server's frame: their right is at negative x.
ZONES = {
    1: box(-4.5, 4.5, -1.5, 9),
    2: box(-4.5, 0, -1.5, 4.5),
    3: box(-1.5, 0, 1.5, 4.5),
    4: box(1.5, 0, 4.5, 4.5),
    5: box(1.5, 4.5, 4.5, 9),
    6: box(-1.5, 4.5, 1.5, 9),
}
MIRRORED = {1: 5, 5: 1, 2: 4, 4: 2, 3: 3, 6: 6}

across = st.floats(-4.5, 4.5)
along = st.floats(0, 9)


def spread_of_service_zone_m() -> float:
    """Return the width on which a server may stand, to 1 mm."""
    allowed = [x / 1000 for x in range(-6000, 6001) if in_service_zone(Point(x / 1000, -10.0))]
    return max(allowed) - min(allowed)


def measured() -> dict[str, float]:
    return {
        "court_length": 2 * HALF_LENGTH_M,
        "court_width": 2 * HALF_WIDTH_M,
        "free_zone": FREE_ZONE_M,
        "line_width": BALL_IN_MARGIN_M,
        "half_court_length": HALF_LENGTH_M,
        "attack_line": ATTACK_LINE_M,
        "service_zone_width": spread_of_service_zone_m(),
        "net_women": NET_HEIGHT_M["elite_women"],
        "net_men": NET_HEIGHT_M["elite_men"],
    }


@pytest.mark.parametrize("number", RULES["numbers"], ids=lambda n: f"{n['rule']} {n['quantity']}")
def test_the_court_is_that_of_the_rules(number):
    assert measured()[number["quantity"]] == number["value"]


def test_every_number_of_the_court_has_its_rule():
    assert {number["quantity"] for number in RULES["numbers"]} == set(measured())


@pytest.mark.parametrize("place", PLACES["landings"], ids=lambda p: f"{p['x_m']}, {p['y_m']}")
def test_a_landing_has_the_zone_depth_and_line_of_the_table(place):
    landing = Point(place["x_m"], place["y_m"])
    assert zone(landing) == place["zone"]
    assert depth(landing) == place["depth"]
    assert on_the_line(landing) == place["on_the_line"]


@given(across, along)
def test_the_six_zones_tile_the_court(x_m, y_m):
    landing = ShapelyPoint(x_m, y_m)
    assume(not any(area.boundary.distance(landing) < 1e-9 for area in ZONES.values()))
    assert [number for number, area in ZONES.items() if area.contains(landing)] == [zone(Point(x_m, y_m))]


@given(across, along)
def test_a_mirrored_landing_is_in_the_mirrored_zone_at_the_same_depth(x_m, y_m):
    landing, mirrored = Point(x_m, y_m), Point(-x_m, y_m)
    assert zone(mirrored) == MIRRORED[zone(landing)]
    assert depth(mirrored) == depth(landing)
    assert on_the_line(mirrored) == on_the_line(landing)


@given(across, st.lists(along, min_size=2, max_size=2).map(sorted))
def test_a_landing_farther_from_the_net_is_never_called_shorter(x_m, ys_m):
    near, far = (DEPTHS.index(depth(Point(x_m, y_m))) for y_m in ys_m)
    assert near <= far


@pytest.mark.parametrize(("slot", "x_m"), [(int(k), x) for k, x in PLACES["slots"].items()])
def test_a_slot_has_its_middle_where_the_receivers_count_it(slot, x_m):
    assert slot_middle_x_m(slot) == x_m


@pytest.mark.parametrize("slot", [-1, 0, 10])
def test_there_is_no_slot_beside_the_net(slot):
    with pytest.raises(ValueError, match=f"slot: expected 1 to 9, got {slot}"):
        slot_middle_x_m(slot)


def test_the_usual_pass_target_is_slot_6_one_metre_off_the_net():
    usual = PLACES["usual_pass_target"]
    assert Point(usual["x_m"], usual["y_m"]) == USUAL_PASS_TARGET
    assert slot_middle_x_m(usual["slot"]) == USUAL_PASS_TARGET.x_m
    assert usual["off_the_net_m"] == USUAL_PASS_TARGET.y_m


def test_nine_spots_reach_from_corner_to_corner_a_foot_behind_the_line():
    spots = service_spots()
    assert [spot.x_m for spot in spots] == pytest.approx([spot["x_m"] for spot in PLACES["spots"]], abs=1e-12)
    assert [spot_name(spot.x_m) for spot in spots] == [spot["name"] for spot in PLACES["spots"]]
    assert {spot.y_m for spot in spots} == {-9.2}
    assert {spot.y_m for spot in service_spots(7.0)} == {-7.2}


@pytest.mark.parametrize("spot", PLACES["spot_borders"], ids=lambda s: str(s["x_m"]))
def test_a_spot_is_called_by_its_place_as_the_server_faces_the_net(spot):
    assert spot_name(spot["x_m"]) == spot["name"]


def test_spot_names_run_from_the_servers_left_to_her_right():
    assert tuple(dict.fromkeys(spot_name(spot.x_m) for spot in service_spots())) == SPOT_NAMES


@pytest.mark.parametrize(
    "spot", PLACES["service_zone"], ids=lambda s: f"{s['x_m']}, {s['y_m']} line {s['line_m']}"
)
def test_the_service_zone_lies_behind_its_line_as_deep_as_the_free_zone(spot):
    assert in_service_zone(Point(spot["x_m"], spot["y_m"]), spot["line_m"]) == spot["inside"]


@pytest.mark.parametrize("line_m", [6.0, 7.5, 9.0])
def test_every_stock_spot_is_in_the_service_zone(line_m):
    assert all(in_service_zone(spot, line_m) for spot in service_spots(line_m))


@given(st.floats(-6, 6), st.floats(-2, 11))
def test_the_opponents_half_is_a_square_of_nine_metres_with_its_lines(x_m, y_m):
    assert on_opponents_half(Point(x_m, y_m)) == box(-4.5, 0, 4.5, 9).covers(ShapelyPoint(x_m, y_m))


@given(across, along, across, along)
def test_distances_are_those_of_the_plane(ax, ay, bx, by):
    expected = ShapelyPoint(ax, ay).distance(ShapelyPoint(bx, by))
    assert distance_m(Point(ax, ay), Point(bx, by)) == pytest.approx(expected, abs=1e-12)
