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
