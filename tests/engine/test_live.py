"""From a match's log to what is called next: who serves, against which rotation, in which signals.

Rotation: FIVB Official Volleyball Rules 2025-2028, 12.2.2 and 7.6.2: the receivers who win a rally rotate
one place, 2 to 1, and serve.
"""

from __future__ import annotations

import copy
from typing import Any

import pytest
from cornerwise.engine import bridge
from cornerwise.engine.bridge.hands import check_code, signalled, starting_code
from cornerwise.engine.bridge.live import call_for_state
from cornerwise.engine.errors import RuleBroken
from cornerwise.engine.match import format_entry
from cornerwise.engine.match.events import (
    Event,
    LiberoReplaced,
    MatchEnded,
    MatchOpened,
    Passer,
    RallyWon,
    ReceptionFormationSeen,
    ScoreCorrected,
    SetEnded,
    SetStarted,
    Substituted,
    TeamSheet,
)
from cornerwise.engine.match.logbook import logged
from cornerwise.engine.match.profiles import US_JUNIOR_CLUB

from slow_match import replay as slow_replay
from slow_match.generator import random_match

US = TeamSheet((4, 11, 7, 2, 15, 9), setters=(4,))
THEM = TeamSheet((3, 8, 12, 5, 17, 10), setter_position=6)


def said(*events: Event) -> dict[str, Any]:
    log = [format_entry(entry) for entry in logged(MatchOpened(level="college"), *events)]
    return bridge.replay({"events": log})


def started(serving: str, them: TeamSheet = THEM) -> SetStarted:
    return SetStarted(serving, US, them)


def servers(answer: dict[str, Any]) -> list[tuple[int, int | None, int | None]]:
    """Return side-outs, our server and their setter's position of each serve to come."""
    return [(c["side_outs"], c["server"]["number"], c["setter_position"]) for c in answer["coming"]]


def test_while_we_serve_the_present_serve_comes_first_and_each_next_one_after_two_side_outs():
    assert servers(said(started("us"))) == [(0, 4, 6), (2, 11, 5), (4, 7, 4)]


def test_while_they_serve_we_rotate_once_and_they_do_not():
    assert servers(said(started("them"))) == [(1, 11, 6), (3, 7, 5), (5, 2, 4)]


def test_every_serve_to_come_says_the_score_it_is_called_for():
    coming = said(started("us"), RallyWon("us"), RallyWon("us"))["coming"]
    assert [(c["points"], c["rally_number"]) for c in coming] == [
        ({"us": 2, "them": 0}, 3), ({"us": 3, "them": 1}, 5), ({"us": 4, "them": 2}, 7),
    ]  # fmt: skip


def test_no_serve_is_called_beyond_the_end_of_the_set():
    assert servers(said(started("us"), ScoreCorrected(23, 24))) == [(0, 4, 6)]
    assert servers(said(started("them"), ScoreCorrected(24, 20))) == []
    assert said(started("us"), MatchEnded())["coming"] == []
    assert said()["coming"] == []


@pytest.mark.parametrize("position", [1, 2, 3, 4, 5, 6])
def test_the_request_for_a_serve_is_answered_with_a_call_against_that_setter(position):
    answer = said(started("us", TeamSheet(setter_position=position)))
    request = answer["coming"][0]["request"]
    assert request == {
        "level": "college",
        "opponent": {"setter_position": position, "system": "one_setter"},
    }
    assert bridge.call(request)["situation"]["setter_position"] == position


def test_nothing_is_asked_while_nobody_knows_their_setter():
    coming = said(started("us", TeamSheet()))["coming"]
    assert [c["request"] for c in coming] == [None, None, None]
    assert coming[0]["server"]["number"] == 4


def test_the_formation_last_seen_with_their_setter_there_is_asked_about_with_the_players_numbers():
    seen = ReceptionFormationSeen(
        "them", "three", (Passer(-2.9, 6.3, 1), Passer(0.0, 6.7, 6, number=33), Passer(2.9, 6.3, 5))
    )
    setter_in_front = TeamSheet((3, 8, 12, 5, 17, 10), setter_position=3)
    answer = said(started("us", setter_in_front), seen, RallyWon("us"))
    request = answer["coming"][0]["request"]
    numbers = {p["position"]: p["number"] for p in request["opponent"]["passers"]}
    assert numbers == {1: 3, 6: 33, 5: 17}
    passers = [p for p in bridge.call(request)["situation"]["players"] if p["role"] == "passer"]
    assert [(p["number"], p["x_m"]) for p in passers] == [(3, -2.9), (17, 2.9), (33, 0.0)]
    assert "passers" not in answer["coming"][1]["request"]["opponent"]  # their setter is in 2 by then


def test_of_a_formation_seen_out_of_order_only_the_number_of_passers_is_kept():
    # 5 stands to the right of 6, as the receivers see it: a breach of FIVB 7.4.3.
    passers = (Passer(0.0, 6.7, 5), Passer(2.9, 6.3, 6), Passer(-2.9, 6.3, 1))
    seen = ReceptionFormationSeen("them", "three", passers)
    setter_in_front = TeamSheet((3, 8, 12, 5, 17, 10), setter_position=3)
    [now, *_] = said(started("us", setter_in_front), seen)["coming"]
    assert now["request"]["opponent"] == {
        "setter_position": 3, "system": "one_setter", "formation": "three",
    }  # fmt: skip
    assert bridge.call(now["request"])["best"]


def test_a_formation_without_places_is_asked_about_by_its_number_of_passers():
    seen = ReceptionFormationSeen("them", "two")
    [now, *_] = said(started("us"), seen)["coming"]
    assert now["request"]["opponent"]["formation"] == "two"


def test_of_two_setters_the_one_who_sets_is_asked_about():
    them = TeamSheet(setter_position=2, system="two_setters_back_sets")
    [now, *_] = said(started("us", them))["coming"]
    assert now["setter_position"] == 5  # opposite, three positions apart
    assert bridge.call(now["request"])["situation"]["setter_position"] == 5


def test_a_state_and_a_serve_to_come_ask_alike():
    answer = said(started("us"))
    assert call_for_state(answer["state"]) == answer["coming"][0]["request"]


@pytest.mark.parametrize("rallies", range(8))
def test_a_set_begun_with_the_sheets_of_the_last_one_has_everybody_where_she_started(rallies):
    winners = [RallyWon("them" if n % 2 == 0 else "us") for n in range(rallies)]
    first = said(started("us"))
    sheets = said(started("us"), *winners, Substituted("us", 21, 15))["sheets"]
    log = [format_entry(entry) for entry in logged(MatchOpened(), *[started("us"), *winners])]
    again = {"serving_first": "us", **sheets, "set_number": 2, "rally_number": 1, "type": "set_started"}
    envelope = {"id": "00000000-0000-7000-8001-000000000001", "device": "phone", "counter": 1}
    sides = bridge.replay({"events": [*log, {**envelope, **again}]})["state"]["sides"]
    for side in ("us", "them"):
        then, now = first["state"]["sides"][side], sides[side]
        assert [p["number"] for p in now["lineup"]] == [p["number"] for p in then["lineup"]]
        assert now["setter_positions"] == then["setter_positions"]


def test_a_sheet_names_no_more_liberos_than_a_set_can_start_with_and_none_of_them_in_the_line_up():
    given = [LiberoReplaced("us", enters=number, position=5) for number in (31, 32, 33, 34, 35, 36)]
    sheet = said(started("us"), *given)["sheets"]["us"]
    assert sheet["liberos"] == [31, 32, 33, 34]
    assert sheet["lineup"] == [4, 11, 7, 2, 15, 9]


LIBERO = TeamSheet((4, 11, 7, 2, 15, 9), liberos=(13,), setters=(4,))
LIBERO_NOTES = {
    "already_on_court", "not_on_court", "libero_in_front_row", "libero_serves", "libero_serves_second_place",
    "libero_without_rally", "two_liberos_on_court", "sanctioned_player_on_court",
}  # fmt: skip


def breaks_a_rule(profile: Any, log: list[dict], said: dict[str, Any], change: dict[str, Any]) -> bool:
    """Whether the second program finds something wrong with a replacement, or with the next rally for it."""
    where = {name: said["state"][name] for name in ("set_number", "rally_number")}
    ids = ("00000000-0000-7000-8fff-000000000001", "00000000-0000-7000-8fff-000000000002")
    events = ({"type": "libero_replaced", **change}, {"type": "rally_won", "winner": "us"})
    new = [{"id": i, "device": "new", "counter": 0, **where, **e} for i, e in zip(ids, events, strict=True)]
    after = slow_replay(profile, [*log, *new])
    notes = [n for n in after["violations"] + after["contradictions"] if n["code"] in LIBERO_NOTES]
    her = (ids[1], change["side"], change["enters"])
    return any(n["event_id"] == ids[0] or (n["event_id"], n["side"], n.get("number")) == her for n in notes)


def test_the_libero_may_come_in_for_exactly_those_for_whom_it_breaks_no_rule():
    """FIVB 19.3.1.1, 19.3.1.3, 19.3.2.1, as the second program has them, in random matches of all codes."""
    asked_about, offered = 0, 0
    for seed in range(120):
        profile, log = random_match(seed)
        answer = bridge.replay({"profile": profile, "events": log})
        if answer["state"]["status"] != "in_play":
            continue
        for side, team in answer["state"]["sides"].items():
            court = {p["number"] for p in team["lineup"]} | {p["libero_for"] for p in team["lineup"]}
            off = {*team["expelled"], *team["disqualified"], *court}
            free = [n for n in team["liberos"] if n not in off]
            regulars = [p["number"] for p in team["lineup"] if not p["libero"] and p["number"] is not None]
            may = answer["libero_may_replace"][side]
            assert free or not may
            for leaves in regulars if free else []:
                change = {"side": side, "enters": free[0], "leaves": leaves}
                assert (leaves in may) != breaks_a_rule(profile, log, answer, change), (seed, change)
                asked_about, offered = asked_about + 1, offered + (leaves in may)
    assert asked_about > 200
    assert offered > 40


def test_whom_the_libero_came_in_for_before_is_offered_first_and_the_setter_last():
    """Position 1 belongs to #4, who sets; 6 to #9 and 5 to #15."""
    start = SetStarted("them", LIBERO, THEM)
    assert said(start)["libero_may_replace"]["us"] == [9, 15, 4]
    came = (LiberoReplaced("us", 13, 15), RallyWon("them"), LiberoReplaced("us", 15, 13))
    assert said(start, *came)["libero_may_replace"]["us"] == []  # a rally must be completed between
    assert said(start, *came, RallyWon("them"))["libero_may_replace"]["us"] == [15, 9, 4]


def test_the_next_set_is_served_first_by_who_did_not_in_this_one_but_the_deciding_one_by_toss():
    """FIVB 12.1.1, 12.1.2."""
    sets = [SetStarted("us", US, THEM), SetEnded("us"), SetStarted("them", US, THEM), SetEnded("them")]
    assert said()["first_serving_next"] is None
    assert said(sets[0])["first_serving_next"] == "them"
    assert said(*sets[:3])["first_serving_next"] == "us"
    third = [*sets, SetStarted("us", US, THEM), SetEnded("us")]
    assert said(*third)["first_serving_next"] == "them"
    fourth = [*third, SetStarted("them", US, THEM), SetEnded("them")]
    assert said(*fourth)["first_serving_next"] is None
    assert said(*fourth, SetStarted("us", US, THEM))["first_serving_next"] is None
    best_of_three = MatchOpened(profile=US_JUNIOR_CLUB)
    log = [format_entry(entry) for entry in logged(best_of_three, *sets[:2])]
    assert bridge.replay({"events": log})["first_serving_next"] == "them"
    log = [format_entry(entry) for entry in logged(best_of_three, *sets)]
    assert bridge.replay({"events": log})["first_serving_next"] is None


def test_every_pose_of_the_starting_code_stands_for_one_thing_of_its_kind():
    code = starting_code()
    check_code(code, "signals")
    assert {of: len(poses) for of, poses in code.items()} == {"spot": 5, "zone": 6, "depth": 3}


def test_a_code_with_one_pose_for_two_zones_is_refused():
    code = starting_code()
    code["zone"]["6"] = list(code["zone"]["1"])
    with pytest.raises(RuleBroken) as refused:
        check_code(code, "signals")
    assert (refused.value.field, refused.value.rule) == ("signals.zone.6", "same_pose")
    assert refused.value.rule in bridge.RULES


def test_a_call_is_shown_in_the_teams_own_code():
    call = bridge.call({"opponent": {"setter_position": 1}})["best"]
    assert signalled(call, starting_code()) == call
    code = copy.deepcopy(starting_code())
    for of, poses in code.items():
        code[of] = {name: [not finger for finger in pose] for name, pose in poses.items()}
    assert [p["fingers"] for p in signalled(call, code)["signal"]] == [
        [not finger for finger in pose["fingers"]] for pose in call["signal"]
    ]
