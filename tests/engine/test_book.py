"""The call book: the same calls as are asked for alone, in the order in which two teams meet."""

from __future__ import annotations

from typing import Any

import pytest
from cornerwise.engine import bridge
from cornerwise.engine.bridge.roster import opponent_request, serve_request
from cornerwise.engine.match import replay
from cornerwise.engine.match.events import RallyWon, SetStarted, TeamSheet
from cornerwise.engine.match.logbook import logged
from cornerwise.engine.match.report import format_state
from cornerwise.engine.roster import turns
from cornerwise.service.arrays import ARRAYS

from .asking import ask

OURS, THEIRS = (4, 11, 7, 2, 15, 9), (3, 8, 12, 5, 17, 10)
SETTER = 12  # in position 3 at the start
SHOWN = ("spot", "target", "kind", "speed_m_s", "keep", "p_error", "words", "signal")
TWO_SERVES = [
    {"kind": "underhand", "spots": ["middle"]},
    {"kind": "standing_float", "spots": ["middle", "left"]},
]
FRAME = {"level": "under_14"}
OPPONENT: dict[str, Any] = {
    "lineup": list(THEIRS),
    "setters": [SETTER],
    "system": "one_setter",
    "pass_target": {"x_m": -0.5, "y_m": 1.5},
    "ratings": [{"number": 5, "pass_grade": 1.2, "passes": 55}, {"number": 17, "rating": "strong"}],
    "formations": [bridge.formation({"setter_position": 3, "formation": "four"})],
}


def played(serving_first: str) -> list[tuple[int | None, int | None]]:
    """Return who served for us and where their setter stood, turn by turn, from a log of side-outs only."""
    events: list[Any] = [SetStarted(serving_first, TeamSheet(OURS), TeamSheet(THEIRS, setters=(SETTER,)))]
    met: list[tuple[int | None, int | None]] = []
    while len(met) < 6:
        state = format_state(replay(logged(*events)))
        if state["serving"] == "us":
            met.append((state["server"]["number"], state["sides"]["them"]["setter_position"]))
        events.append(RallyWon("them" if state["serving"] == "us" else "us"))
    return met


@pytest.mark.parametrize("serving_first", ["us", "them"])
def test_the_order_in_which_they_meet_is_that_of_a_match(serving_first):
    assert [
        (OURS[turn.server_position - 1], turn.setter_position) for turn in turns(3, serving_first)
    ] == played(serving_first)


def booked(**more: Any) -> dict[str, Any]:
    servers = [
        {"number": 4, "reach_m": 2.0, "serves": TWO_SERVES},
        {"number": 11},
        {"number": 21, "name": "Runa Sill", "comes_in_for": [4]},
    ]
    return bridge.book(
        {**FRAME, "servers": servers, "opponent": OPPONENT, "lineup": list(OURS), **more}, ARRAYS
    )


def test_every_call_of_the_book_is_exactly_the_call_that_is_asked_for_alone():
    book = booked(turn=1, serving_first="us")
    [rotation] = book["rotations"]
    theirs = opponent_request(OPPONENT, 3, "under_14")
    alone = [ask({**FRAME, **serve_request(FRAME, one, 2.0), "opponent": theirs}) for one in TWO_SERVES]
    best = max(alone, key=lambda answer: (answer["policy"]["met"], answer["best"]["keep"]))
    hers, usual, coming = rotation["calls"]
    assert {name: hers["call"][name] for name in SHOWN} == {name: best["best"][name] for name in SHOWN}
    assert hers["missing_spots"] == best["limits"]["missing_spots"]
    nothing_known = ask({**FRAME, "policy": {"use_start_ceiling": True}, "opponent": theirs})
    for one in (usual, coming):
        assert {name: one["call"][name] for name in SHOWN} == {
            name: nothing_known["best"][name] for name in SHOWN
        }
        assert [
            {name: option[name] for name in SHOWN}
            for option in nothing_known["alternatives"]
            if option["equal"]
        ] == one["equals"]
    assert [(one["server"], one["meets"]) for one in rotation["calls"]] == [
        (4, True),
        (11, False),
        (21, True),
    ]


def test_the_two_homes_make_the_same_book():
    asked = {
        **FRAME,
        "servers": [{"number": 4, "serves": [{"kind": "underhand", "spots": ["middle"], "next_job": 1}]}],
        "opponent": OPPONENT,
        "turn": 2,
    }
    plain, arrays = bridge.book(asked), bridge.book(asked, ARRAYS)
    [ours], [theirs] = (one["rotations"][0]["calls"] for one in (plain, arrays))
    assert ours["call"]["words"] == theirs["call"]["words"]
    assert ours["call"]["keep"] == pytest.approx(theirs["call"]["keep"], abs=1e-9)


def test_without_knowing_who_serves_first_their_setter_goes_on_from_where_she_starts():
    """FIVB 7.6.2: they rotate clockwise, so their setter goes from 3 to 2, 1, 6, 5, 4."""
    nobody = {"number": 4, "serves": [{"kind": "underhand", "spots": ["middle"], "speeds_m_s": [3]}]}
    asked = {**FRAME, "servers": [nobody], "opponent": OPPONENT}
    book = bridge.book(asked, ARRAYS)
    assert [one["setter_position"] for one in book["rotations"]] == [3, 2, 1, 6, 5, 4]
    assert not book["order_known"]
    unknown = bridge.book({**asked, "opponent": {}}, ARRAYS)
    assert [one["setter_position"] for one in unknown["rotations"]] == [1, 6, 5, 4, 3, 2]
    assert [one["call"] for rotation in book["rotations"] for one in rotation["calls"]] == [None] * 6
    assert "reaches the court" in book["rotations"][0]["calls"][0]["text"]


def test_their_six_are_named_by_their_order_of_rotation():
    """With the setter gone from 3 to 2 they have rotated once: who began in 1, 2, ... is in 6, 1, ..."""
    book = booked(turn=2, serving_first="us")
    assert [one["number"] for one in book["rotations"][0]["receivers"]] == [8, 12, 5, 17, 10, 3]


def test_a_libero_who_was_seen_passing_is_named_instead_of_the_player_of_the_rotation():
    [entered] = OPPONENT["formations"]
    players = [{**one, "number": 1 if one["position"] == 6 else None} for one in entered["players"]]
    opponent = {**OPPONENT, "formations": [{"setter_position": 3, "players": players}]}
    named = {p["position"]: p["number"] for p in opponent_request(opponent, 3, "under_14")["passers"]}
    assert named[6] == 1
    assert {position: named[position] for position in named if position != 6} == {
        position: THEIRS[position - 1] for position in named if position != 6
    }


def test_a_mean_pass_grade_goes_to_the_call_as_it_is_and_a_word_as_what_it_stands_for():
    passers = {p["number"]: p for p in opponent_request(OPPONENT, 3, "under_14")["passers"]}
    assert (passers[5]["pass_grade"], passers[5]["passes"]) == (1.2, 55)
    assert (passers[17]["pass_grade"], passers[17]["passes"]) == (2.5, 40.0)  # strong, under 14
    assert "pass_grade" not in passers[10]


def test_what_was_entered_of_an_opponent_stands_beside_what_the_log_says():
    logged_only = {"level": "under_14", "opponent": {"setter_position": 3, "system": "one_setter"}}
    asked = bridge.prepared({"opponent": OPPONENT, "request": logged_only})
    assert asked["opponent"] == opponent_request(OPPONENT, 3, "under_14")
    assert ask({**asked, **FRAME})["situation"]["formation"] is None


def test_passers_that_were_seen_in_the_match_go_before_those_that_were_entered_and_keep_their_ratings():
    seen = [{"x_m": 2.0, "y_m": 6.0, "number": 17}, {"x_m": -2.0, "y_m": 6.0}]
    request = {"level": "under_14", "opponent": {"setter_position": 3, "passers": seen}}
    asked = bridge.prepared({"opponent": OPPONENT, "request": request})
    assert asked["opponent"]["passers"] == [{**seen[0], "pass_grade": 2.5, "passes": 40.0}, seen[1]]
    assert "setter_start" not in asked["opponent"]
    assert asked["opponent"]["pass_target"] == OPPONENT["pass_target"]
    unknown = {"level": "under_14", "opponent": {"setter_start": {"x_m": 0, "y_m": 1}}}
    assert bridge.prepared({"opponent": OPPONENT, "request": unknown}) == unknown


def test_with_two_setters_the_formation_of_the_rotation_in_which_one_sets_is_found():
    """The first setter in 4 leaves setting to the other, in 1, when the back row sets."""
    system = "two_setters_back_sets"
    entered = bridge.formation({"setter_position": 4, "system": system, "formation": "two"})
    opponent = {"system": system, "formations": [entered]}
    request = {"opponent": {"setter_position": 1, "system": system}}
    asked = bridge.prepared({"opponent": opponent, "request": request})
    assert len(asked["opponent"]["passers"]) == 2
    assert asked["opponent"]["setter_position"] == 1
    setter = entered["players"][0]
    assert asked["opponent"]["setter_start"] == {"x_m": setter["x_m"], "y_m": setter["y_m"]}


LOGGED = {"level": "under_14", "opponent": {"setter_position": 3, "system": "one_setter"}}
SERVER = {
    "reach_m": 2.3,
    "serves": [
        {"kind": "standing_float", "speeds_m_s": [14.0], "spots": ["left"], "error_ceiling": 0.09,
         "next_job": 1},
        {"kind": "jump_float", "speeds_m_s": [15.0, 17.0], "level": "college"},
    ],
}  # fmt: skip


def server_asked(kind=None, **said):
    return bridge.prepared({"request": {**LOGGED, **said}, "opponent": None, "player": SERVER, "kind": kind})


def test_a_servers_own_serve_goes_into_a_request_with_her_ceiling_and_her_next_job():
    hers = serve_request({"level": "under_14"}, SERVER["serves"][0], 2.3)
    assert server_asked() == {
        **LOGGED,
        "server": {**hers["server"], "next_job": 1},
        "policy": {"error_ceiling": 0.09},
    }
    other = server_asked("jump_float", policy={"use_start_ceiling": True})
    assert other["server"]["speeds_m_s"] == [15.0, 17.0]
    assert other["policy"] == {"use_start_ceiling": True}
    assert "next_job" not in other["server"]


def test_what_is_said_of_the_server_and_a_ceiling_that_was_set_go_before_what_was_entered():
    asked = server_asked(server={"spots": ["right"]}, policy={"error_ceiling": 0.3})
    assert asked["server"]["spots"] == ["right"]
    assert asked["server"]["speeds_m_s"] == server_asked()["server"]["speeds_m_s"]
    assert asked["policy"] == {"error_ceiling": 0.3}
    assert server_asked(policy={})["policy"] == {}  # no ceiling at all


def test_of_a_kind_that_she_has_not_only_her_height_is_known():
    asked = server_asked("standing_topspin")
    assert asked["server"].keys() == {"kind", "contact_height_m"}
    nothing = bridge.prepared({"request": LOGGED, "player": {"reach_m": None, "serves": []}})
    assert nothing["server"] == {}


def test_a_call_says_her_next_job_and_in_words_only_when_it_is_far():
    far = ask({**server_asked(server={"spots": ["left_corner"]}), **FRAME})["best"]["next_job"]
    assert (far["position"], far["long"]) == (1, True)
    assert far["text"].startswith("Then 8 m to right back (1): ")  # from (-4.3, -9.2) to (3, -6.5)
    near = ask({**server_asked(server={"spots": ["right"]}), **FRAME})["best"]["next_job"]
    assert (near["long"], near["text"]) == (False, None)
    assert ask({**LOGGED, **FRAME})["best"]["next_job"] is None
