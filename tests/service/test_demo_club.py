"""The team and the opponents to try: they fit the match to try, and the book can be made from them."""

from __future__ import annotations

import pytest
from cornerwise.engine.match import parse_log, replay
from cornerwise.engine.match.report import format_state
from cornerwise.service import clubs, demo, demo_club, opponents, teams


@pytest.fixture
def club(kept) -> str:
    clubs.first_link()
    return clubs.LOCAL_CLUB


def test_the_team_and_one_opponent_to_try_are_those_of_the_match_to_try(club):
    state = format_state(replay(parse_log(demo.log())))
    [team] = teams.page(club, None, 10)["items"]
    assert team["name"] == state["teams"]["us"]
    roster = {player["number"] for player in teams.players(club, team["id"])}
    ours = {player["number"] for player in state["sides"]["us"]["lineup"]}
    assert ours <= roster
    [opponent] = opponents.named(club, state["teams"]["them"])["items"]
    shown = opponents.show(club, opponent["id"])
    seen = {player["number"] for player in state["sides"]["them"]["lineup"]} - {None}
    assert seen <= set(shown["lineup"])
    assert len(opponents.page(club, None, 10)["items"]) == 3


BACK_ROW = {1, 5, 6}  # FIVB Official Volleyball Rules 2025-2028, 7.4.1.2


def test_neither_their_setter_nor_a_front_row_middle_ever_passes(club):
    """Setter and front-row middle keep out of reception: common practice, no source."""
    setter, middles, outsides = 10, {3, 5}, {8, 17}
    [opponent] = opponents.named(club, demo.THEIR_NAME)["items"]
    lineup = opponents.show(club, opponent["id"])["lineup"]
    assert lineup.index(setter) == 5  # in position 6 at the start of every set
    log = demo.log()
    seen = []
    for at, event in enumerate(log):
        if event["type"] != "pass_graded":
            continue
        turned = format_state(replay(parse_log(log[:at])))["sides"]["them"]["rotation"]
        place = (lineup.index(event["passer"]) - turned) % 6 + 1
        seen.append((event["passer"], place))
    assert {number for number, _ in seen} == outsides | middles
    assert all(place in BACK_ROW for number, place in seen if number in middles)


def test_the_formations_to_try_have_both_outsides_and_a_back_row_middle_passing(club):
    [opponent] = opponents.named(club, demo.THEIR_NAME)["items"]
    for setter_position, passing in ((6, {3, 8, 17}), (1, {5, 8, 17})):
        shown = opponents.formation(club, opponent["id"], setter_position)
        assert shown["legal"]
        lineup = opponents.show(club, opponent["id"])["lineup"]
        places = {one["position"] for one in shown["players"] if one["passes"]}
        turned = (6 - setter_position) % 6
        assert {lineup[(place - 1 + turned) % 6] for place in places} == passing


def test_filling_twice_is_filling_once(club):
    demo_club.fill(club)
    assert len(teams.page(club, None, 10)["items"]) == 1


def test_there_is_a_book_to_try_with_a_call_for_everybody_who_may_serve(club):
    [opponent] = opponents.named(club, demo.THEIR_NAME)["items"]
    book = opponents.book(club, opponent["id"], None, {"serving_first": "us", "turn": 1})
    [rotation] = book["rotations"]
    assert [one["server"] for one in rotation["calls"]] == [4, 11, 7, 2, 15, 9, 21]
    assert all(one["call"] for one in rotation["calls"])
    assert rotation["formation_entered"]
