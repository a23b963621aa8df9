"""The first screen in a real browser: one tap, the call, and the same numbers as the API's."""

from __future__ import annotations

import math

import pytest
from playwright.sync_api import Page, expect

from .screen import (
    answer,
    asked,
    drawn,
    ends,
    grip,
    metres,
    middle,
    pick,
    pixels_per_m,
    signed,
    start,
    words,
)

POSITIONS = (1, 2, 3, 4, 5, 6)


def test_nothing_is_chosen_at_the_start_and_one_tap_gives_a_call(page: Page):
    start(page)
    expect(page.locator(".picker [aria-pressed=true]")).to_have_count(0)
    pick(page, 1)
    expect(page.get_by_role("button", name="Setter in 1,")).to_have_attribute("aria-pressed", "true")
    expect(page.locator(".call h1")).to_contain_text("→")


def test_their_positions_lie_as_we_see_them_across_the_net(page: Page):
    start(page)
    at = {n: middle(page.get_by_role("button", name=f"Setter in {n},")) for n in POSITIONS}
    for far, near in ((1, 2), (6, 3), (5, 4)):  # FIVB 7.4.1: back row and front row partners
        assert at[far][1] < at[near][1]
        assert at[far][0] == pytest.approx(at[near][0], abs=1)
    assert at[1][0] < at[6][0] < at[5][0]  # they face us: their right is on our left


@pytest.mark.parametrize("position", POSITIONS)
def test_the_screen_shows_the_numbers_of_the_api(page: Page, server, position: int):
    start(page)
    pick(page, position)
    said = answer(server, asked(position))
    best = said["best"]
    assert words(page.locator(".call h1")) == best["words"]["call"]
    assert words(page.locator(".odds")) == best["words"]["odds"]
    assert words(page.locator(".reason")) == best["words"]["reason"]
    assert words(page.locator(".aim")) == f"assumed {best['words']['place']}"
    assert words(page.locator("text.angle")) == f"{best['pass_angle_deg']:.0f}°"
    assert [words(pose).split(" :")[0] for pose in page.locator(".signal .pose").all()] == [
        pose["text"] for pose in best["signal"]
    ]
    options = [words(option) for option in page.locator(".option").all()]
    assert options == [
        f"{a['words']['call']} "
        + ("as good, you decide" if a["equal"] else f"{signed(a['points_per_100'])} in 100")
        for a in said["alternatives"]
    ]
    assert [words(item) for item in page.locator(".stay-off li").all()] == [
        f"{s['text']} {signed(s['points_per_100'])} in 100" for s in said["stay_off"]
    ]


def test_the_picture_is_drawn_to_scale_from_the_numbers_of_the_api(page: Page, server):
    start(page)
    pick(page, 4)
    said = answer(server, asked(4))
    target, setter, spot = said["best"]["target"], said["situation"]["setter_start"], said["best"]["spot"]
    near = 0.02  # m: less than half a pixel
    assert metres(page, ".landing") == pytest.approx((target["x_m"], target["y_m"]), abs=near)
    assert metres(page, "path.setter") == pytest.approx((setter["x_m"], setter["y_m"]), abs=near)
    assert metres(page, ".server") == pytest.approx((spot["x_m"], spot["y_m"]), abs=near)
    ellipse = said["best"]["scatter"]["ellipse"]
    turn = math.radians(ellipse["bearing_deg"])
    half = math.hypot(
        ellipse["semi_along_m"] * math.cos(turn), ellipse["semi_across_m"] * math.sin(turn)
    )  # of the box around an ellipse, closed form
    assert drawn(page, ".ring-of-half")["height"] / pixels_per_m(page) == pytest.approx(2 * half, abs=0.03)


def bearing_deg(begin: tuple[float, float], end: tuple[float, float]) -> float:
    return math.degrees(math.atan2(end[1] - begin[1], end[0] - begin[0]))


@pytest.mark.parametrize("position", [1, 4])
def test_the_lines_of_serve_pass_run_and_lane_are_those_of_the_api(page: Page, server, position: int):
    """The pass, the run and the lane stop short of what they lead to; their directions are exact."""
    start(page)
    pick(page, position)
    said = answer(server, asked(position))
    best, situation, off = said["best"], said["situation"], said["stay_off"][0]

    def at(place: dict) -> tuple[float, float]:
        return place["x_m"], place["y_m"]

    contact, target = ends(page, "path.serve")
    assert contact == pytest.approx(at(best["contact"]), abs=0.02)
    assert target == pytest.approx(at(best["target"]), abs=0.02)
    for line, begin, end in (
        ("path.pass", best["target"], situation["pass_target"]),
        ("path.run", situation["setter_start"], situation["pass_target"]),
        (".lane path:not(.cross)", off["contact"], off["target"]),
    ):
        drawn_so, told = bearing_deg(*ends(page, line)), bearing_deg(at(begin), at(end))
        assert drawn_so == pytest.approx(told, abs=0.5), line
    turn = bearing_deg(target, contact) - bearing_deg(*ends(page, "path.pass"))
    between = abs((turn + 180) % 360 - 180)  # the angle that is drawn, against the one that is written
    assert between == pytest.approx(best["pass_angle_deg"], abs=0.5)
    assert words(page.locator("text.angle")) == f"{best['pass_angle_deg']:.0f}°"


def test_the_picture_is_told_in_words_too(page: Page, server):
    start(page)
    pick(page, 4)
    said = answer(server, asked(4))
    best = said["best"]
    told = page.get_by_role("group", name="The court with this call").get_attribute("aria-label")
    ellipse = best["scatter"]["ellipse"]
    for part in (
        best["words"]["call"],
        best["words"]["place"],
        f"within {ellipse['semi_across_m']:.1f} m to either side",
        f"Pass angle {best['pass_angle_deg']:.0f} degrees",
        f"runs {best['setter_run_m']:.1f} m",
    ):
        assert part in told


def test_a_screen_reader_meets_the_call_then_the_signal_then_the_rest(page: Page, server):
    start(page)
    pick(page, 4)
    best = answer(server, asked(4))["best"]
    read = page.locator("main").aria_snapshot()
    parts = [
        f'heading "{best["words"]["call"]}" [level=1]',
        "wins ",
        'list "Hand signal, in this order"',
        f"{best['signal'][0]['text']} : index",  # the left corner is one finger
        best["words"]["reason"],
        'group "The court with this call',
        'button "Their setter: ',
        'group "Error ceiling"',
        'heading "Other calls"',
        'heading "Stay off"',
    ]
    where = [read.find(part) for part in parts]
    assert -1 not in where, read
    assert where == sorted(where)


def test_server_and_level_change_by_a_tap(page: Page, server):
    start(page)
    pick(page, 1)
    page.get_by_role("button", name="server Standing float").click()
    said = answer(server, asked(1, server={"kind": "jump_float"}))
    expect(page.locator(".odds")).to_have_text(said["best"]["words"]["odds"])
    level = page.get_by_role("button", name="level, net 2.24 m")
    assert "change to High school and club, net 2.43 m" in words(level)  # the same level, another net
    level.click()
    net = page.get_by_role("button", name="level, net 2.43 m")
    expect(net).to_be_visible()
    assert "change to College" in words(net)
    said = answer(server, asked(1, server={"kind": "jump_float"}, net_height_m=2.43))
    expect(page.locator(".odds")).to_have_text(said["best"]["words"]["odds"])


def test_bolder_and_safer_say_what_they_gain_or_cost(page: Page, server):
    start(page)
    pick(page, 4)
    said = answer(server, asked(4))["policy"]
    lower = [s for s in said["steps"] if s["met"] and s["error_ceiling"] and s["error_ceiling"] < 0.12]
    safer = page.locator(".ceiling .safer")
    assert words(safer).startswith(f"Safer {signed(lower[-1]['points_per_100'])} in 100")
    assert words(page.locator(".ceiling p")) == "may miss 12 of 100"
    safer.click()
    ceiling = lower[-1]["error_ceiling"]
    expect(page.locator(".ceiling p")).to_contain_text(f"{100 * ceiling:.0f} of 100")
    best = answer(server, asked(4, policy={"error_ceiling": ceiling}))["best"]
    expect(page.locator(".odds")).to_have_text(best["words"]["odds"])


def test_a_server_limited_to_some_spots_is_told_what_the_missing_corner_costs(page: Page, server):
    start(page)
    pick(page, 1)
    page.get_by_role("group", name="Our server may stand at").get_by_role(
        "button", name="Right corner"
    ).click()
    spots = ["left_corner", "left", "middle", "right"]
    said = answer(server, asked(1, server={"kind": "standing_float", "spots": spots}))
    expect(page.locator(".odds")).to_have_text(said["best"]["words"]["odds"])
    (missing,) = said["limits"]["missing_spots"]
    assert missing["spot"] == "right_corner"
    expect(page.locator(".remark")).to_contain_text(missing["text"])


def test_why_adds_up_to_the_difference_from_a_plain_serve(page: Page, server):
    start(page)
    pick(page, 1)
    page.locator(".why > summary").click()
    best = answer(server, asked(1))["best"]
    shown = [r for r in best["reasons"] if abs(r["points_per_100"]) >= 0.05]
    assert [words(number) for number in page.locator(".bars .number").all()] == [
        signed(r["points_per_100"]) for r in shown
    ]
    assert [words(text) for text in page.locator(".bars .text").all()] == [r["text"] for r in shown]
    gain = 100 * (best["keep"] - best["plain"]["keep"])
    assert words(page.locator(".sum")) == f"together {signed(gain)}"


def test_every_word_of_picture_numbers_and_choices_has_its_help(page: Page):
    start(page)
    pick(page, 1)
    page.locator(".why > summary").click()
    page.get_by_text("Every word on this screen").click()
    used = [*page.locator(".legend li").all(), *page.locator(".why .numbers dt").all()]
    used += [*page.locator(".cycle .caption").all(), page.locator(".stay-off h2")]
    asked_for = {words(word).split(",")[0].lower() for word in used} - {"lengths", "speeds"}  # units
    assert len(asked_for) == 18
    helped = {words(term).lower() for term in page.locator(".settings .help dt").all()}
    assert {word for word in asked_for if not any(term.startswith(word) for term in helped)} == set()
    assert all(len(words(text)) > 15 for text in page.locator(".settings .help dd").all())


def test_an_alternative_can_be_picked_and_left_again(page: Page, server):
    start(page)
    pick(page, 1)
    said = answer(server, asked(1))
    page.locator(".option").first.click()
    first = said["alternatives"][0]
    assert words(page.locator(".call h1")) == first["words"]["call"]
    assert words(page.locator("text.angle")) == f"{first['pass_angle_deg']:.0f}°"
    page.get_by_role("button", name="Back to the best").click()
    assert words(page.locator(".call h1")) == said["best"]["words"]["call"]


def test_lengths_and_speeds_switch_and_stay_switched(page: Page, server):
    start(page)
    pick(page, 4)
    best = answer(server, asked(4))["best"]
    page.get_by_role("button", name="lengths m").click()
    page.get_by_role("button", name="speeds km/h").click()
    page.locator(".why > summary").click()
    numbers = words(page.locator(".why .numbers"))
    assert f"Pass {best['pass_length_m'] / 0.3048:.1f} ft" in numbers  # the international foot
    assert f"Pace {best['speed_m_s'] * 3600 / 1609.344:.0f} mph" in numbers  # the international mile
    assert " ft " in words(page.locator(".aim")) + " "
    page.wait_for_timeout(400)  # until it is kept
    page.reload()
    expect(page.get_by_role("button", name="lengths ft")).to_be_visible()


def test_the_picture_can_be_turned_round(page: Page):
    start(page)
    pick(page, 4)
    server_y, net_y = middle(grip(page, "server"))[1], middle(page.locator(".lines .net"))[1]
    assert server_y > net_y
    page.get_by_role("button", name="Turn round").click()
    server_y, net_y = middle(grip(page, "server"))[1], middle(page.locator(".lines .net"))[1]
    assert server_y < net_y


def test_two_spots_stand_side_by_side_with_their_difference(page: Page, server):
    start(page)
    pick(page, 1)
    page.get_by_role("link", name="Two spots side by side").click()
    left, right = (
        answer(server, asked(1, server={"kind": "standing_float", "spots": [spot]}))["best"]
        for spot in ("left_corner", "right_corner")
    )
    points = 100 * abs(left["keep"] - right["keep"])
    better = left if left["keep"] > right["keep"] else right
    expect(page.locator("h1")).to_have_text(f"{better['words']['spot']} wins {points:.1f} more in 100.")
    assert [words(h2) for h2 in page.locator("h2").all()] == [left["words"]["call"], right["words"]["call"]]
    page.get_by_role("group", name="On the left").get_by_role("button", name="Middle").click()
    expect(page.locator("h2").first).to_contain_text("Middle")
    page.go_back()
    expect(page.locator(".call h1")).to_be_visible()


def test_a_reload_shows_the_last_call_at_once_and_says_so(page: Page):
    start(page)
    pick(page, 5)
    call = words(page.locator(".call h1"))
    page.wait_for_timeout(400)  # until it is kept
    held, free = [], False
    page.route("**/api/v1/**", lambda route: route.continue_() if free else held.append(route))
    page.reload()
    expect(page.get_by_text("From last time")).to_be_visible()
    assert words(page.locator(".call h1")) == call
    free = True
    for route in held:
        route.continue_()
    expect(page.get_by_text("From last time")).to_have_count(0)
