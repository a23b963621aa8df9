"""The hand signal: three poses of one hand that cannot be taken for each other."""

from __future__ import annotations

from functools import cache
from itertools import combinations

import pytest
from cornerwise.engine.call.search import stands
from cornerwise.engine.call.signal import signal
from cornerwise.engine.call.situation import Option, Situation, Stand, stand_at
from cornerwise.engine.court import DEPTHS, USUAL_PASS_TARGET, Point, depth, service_spots, spot_name, zone
from cornerwise.engine.outcome import Receivers, outcome_model
from cornerwise.engine.passing import Stand as Passer
from cornerwise.engine.players import server_of, stock_server
from hypothesis import given
from hypothesis import strategies as st

in_court = st.builds(Point, st.floats(-4.5, 4.5), st.floats(0, 9))

# Zones by fingers are common practice, no source: one to five by their count, six by thumb and little finger.
ZONE_FINGERS = {
    1: ["index"],
    2: ["index", "middle"],
    3: ["index", "middle", "ring"],
    4: ["index", "middle", "ring", "little"],
    5: ["thumb", "index", "middle", "ring", "little"],
    6: ["thumb", "little"],
}
HAND = ("thumb", "index", "middle", "ring", "little")


@cache
def some_situation() -> Situation:
    receivers = Receivers((Passer(Point(0, 6)),), Point(0, 1), USUAL_PASS_TARGET)
    server = server_of(stock_server("high_school", "standing_float", 2.24))
    return Situation(outcome_model("high_school"), receivers, server, 2.24)


def call_from(spot: Point, landing: Point) -> Option:
    of = some_situation()
    stand: Stand = stand_at(of, spot, of.server.serves[0])
    return Option(stand, 0, landing, 0.5, 0.9)


def poses(landings: list[Point], spots: list[Point]) -> dict[str, dict[str, tuple[bool, ...]]]:
    """Return the pose of everything that can be shown: by what it is of and what it says."""
    shown: dict[str, dict[str, tuple[bool, ...]]] = {"spot": {}, "zone": {}, "depth": {}}
    for spot in spots:
        for landing in landings:
            for pose in signal(call_from(spot, landing)):
                assert shown[pose.of].setdefault(pose.text, pose.fingers) == pose.fingers
    return shown


def every_pose() -> dict[str, dict[str, tuple[bool, ...]]]:
    landings = [Point(x, y) for x in (-3.0, 0.0, 3.0) for y in (1.5, 4.0, 5.0, 7.5)]
    return poses(landings, list(service_spots()))


def test_a_signal_shows_spot_then_zone_then_depth():
    assert [pose.of for pose in signal(call_from(Point(4.4, -9.2), Point(3.9, 7.8)))] == [
        "spot",
        "zone",
        "depth",
    ]


def test_everything_that_can_be_called_has_a_pose():
    shown = every_pose()
    assert set(shown["spot"]) == {"left corner", "left", "middle", "right", "right corner"}
    assert set(shown["zone"]) == {f"zone {k}" for k in range(1, 7)}
    assert set(shown["depth"]) == set(DEPTHS)


@pytest.mark.parametrize("of", ["spot", "zone", "depth"])
def test_no_two_poses_shown_in_the_same_place_look_alike(of):
    shown = every_pose()[of]
    for (a, one), (b, other) in combinations(shown.items(), 2):
        assert one != other, (a, b)


def test_zones_are_shown_by_fingers_as_is_usual():
    for text, fingers in every_pose()["zone"].items():
        stretched = [name for name, out in zip(HAND, fingers, strict=True) if out]
        assert stretched == ZONE_FINGERS[int(text.removeprefix("zone "))]


def test_spots_are_counted_from_the_servers_left():
    shown = every_pose()["spot"]
    in_order = [shown[name] for name in ("left corner", "left", "middle", "right", "right corner")]
    assert [sum(fingers) for fingers in in_order] == [1, 2, 3, 4, 5]


@given(st.sampled_from(service_spots()), in_court)
def test_a_signal_says_what_the_call_says(spot, landing):
    of_spot, of_zone, of_depth = signal(call_from(spot, landing))
    assert of_spot.text == spot_name(spot.x_m).replace("_", " ")
    assert of_zone.text == f"zone {zone(landing)}"
    assert of_depth.text == depth(landing)


def test_every_pose_is_five_fingers():
    for shown in every_pose().values():
        for fingers in shown.values():
            assert len(fingers) == 5
            assert all(isinstance(finger, bool) for finger in fingers)


def test_all_stands_of_a_server_can_be_signalled():
    names = {signal(Option(s, 0, Point(0, 7), 0.5, 0.9))[0].text for s in stands(some_situation())}
    assert len(names) == 5
