"""Words against the aim they are about: what is said is read back and must be true of it."""

from __future__ import annotations

import re
from functools import cache
from typing import Any

import pytest
from cornerwise.engine.call.situation import Option, Situation, stand_at
from cornerwise.engine.call.words import (
    KIND_WORDS,
    PART_WORDS,
    call_words,
    metres,
    odds_words,
    place_words,
    reason_words,
    spot_words,
    target_words,
)
from cornerwise.engine.court import Point
from cornerwise.engine.flight import KINDS
from cornerwise.engine.outcome import PARTS, Receivers, outcome_model
from cornerwise.engine.passing import Stand
from cornerwise.engine.players import server_of, stock_server
from hypothesis import assume, given
from hypothesis import strategies as st

from .asking import ask

in_court = st.builds(Point, st.floats(-4.5, 4.5), st.floats(0, 9))
spots_x_m = st.floats(-4.5, 4.5)

TENTH = 0.05 + 1e-9  # half of the last place said


@cache
def some_situation() -> Situation:
    receivers = Receivers((Stand(Point(0, 6)),), Point(0, 1), Point(-1, 1))
    server = server_of(stock_server("college", "jump_float", 2.24))
    return Situation(outcome_model("college"), receivers, server, 2.24)


def option(spot_x_m: float, landing: Point, keep: float = 0.4, p_in: float = 0.9) -> Option:
    stand = stand_at(some_situation(), Point(spot_x_m, -9.2), some_situation().server.serves[0])
    return Option(stand, 0, landing, keep, p_in)


SAID_PLACE = re.compile(
    r"(?:(?P<dx>[\d.]+) m (?P<side>to the left of|to the right of|outside|inside))?"
    r"(?: and )?"
    r"(?:(?P<dy>[\d.]+) m (?P<depth>behind|in front of))?"
    r" ?#7"
)


def read_back(said: str, passer: Point) -> Point:
    """Return the landing that a sentence names, as someone on the court would find it."""
    if said == "at #7":
        return passer
    told = SAID_PLACE.fullmatch(said)
    assert told, said
    their_left, outwards = 1.0, 1.0 if passer.x_m > 0 else -1.0
    towards = {
        None: 0.0,
        "to the left of": their_left,  # she faces the server, so her left is at the server's right
        "to the right of": -their_left,
        "outside": outwards,
        "inside": -outwards,
    }[told["side"]]
    backwards = {None: 0.0, "behind": 1.0, "in front of": -1.0}[told["depth"]]
    return Point(
        passer.x_m + towards * float(told["dx"] or 0), passer.y_m + backwards * float(told["dy"] or 0)
    )


@given(in_court, in_court)
def test_a_place_read_back_is_the_landing_to_the_tenth_of_a_metre(landing, passer):
    found = read_back(place_words(landing, passer, "#7"), passer)
    for said, true, hers in ((found.x_m, landing.x_m, passer.x_m), (found.y_m, landing.y_m, passer.y_m)):
        unsaid = said == hers and abs(true - hers) < 0.4  # chosen: nearer than this comes at her
        assert unsaid or said == pytest.approx(true, abs=TENTH)


@given(in_court, in_court)
def test_a_place_is_told_with_outside_only_of_a_passer_who_has_one(landing, passer):
    said = place_words(landing, passer, "#7")
    if abs(passer.x_m) < 1.0:  # chosen: a passer in the middle has a left and a right
        assert "side" not in said
    else:
        assert "left" not in said
        assert "right" not in said
    if "outside" in said:
        assert abs(landing.x_m) > abs(passer.x_m)


@pytest.mark.parametrize(
    ("landing", "passer", "said"),
    [
        (Point(4.0, 6.3), Point(2.9, 6.3), "1.1 m outside #7"),
        (Point(-4.0, 6.3), Point(-2.9, 6.3), "1.1 m outside #7"),
        (Point(1.9, 7.0), Point(2.9, 6.3), "1 m inside and 0.7 m behind #7"),
        (Point(2.9, 8.3), Point(2.9, 6.3), "2 m behind #7"),
        (Point(-2.6, 4.3), Point(-2.9, 6.3), "2 m in front of #7"),
        (Point(0.5, 6.7), Point(0.0, 6.7), "0.5 m to the left of #7"),
        (Point(-1.5, 5.7), Point(0.0, 6.7), "1.5 m to the right of and 1 m in front of #7"),
        (Point(3.0, 6.4), Point(2.9, 6.3), "at #7"),
    ],
)
def test_places_as_a_coach_would_say_them(landing, passer, said):
    assert place_words(landing, passer, "#7") == said


@given(in_court)
def test_a_target_in_words_is_true_of_its_landing(landing):
    assume(all(abs(abs(landing.x_m) - border) > 1e-9 for border in (1.5, 3.5)))
    assume(all(abs(landing.y_m - border) > 1e-9 for border in (3.0, 4.5, 6.0)))
    told = re.fullmatch(r"zone ([1-6]) (short|middle|deep)(, on the line)?", target_words(landing))
    assert told
    zone, depth, line = int(told[1]), told[2], told[3] is not None
    assert (zone in (2, 1)) == (landing.x_m < -1.5)
    assert (zone in (4, 5)) == (landing.x_m > 1.5)
    assert (zone in (2, 3, 4)) == (landing.y_m < 4.5)
    assert depth == ("short" if landing.y_m < 3 else "deep" if landing.y_m > 6 else "middle")
    assert line == (4.5 - abs(landing.x_m) < 1.0)


@given(spots_x_m, in_court)
def test_a_call_in_words_is_its_spot_and_its_target(x_m, landing):
    spot, arrow, target = call_words(option(x_m, landing)).partition(" → ")
    assert arrow
    assert target == target_words(landing)
    assert spot.lower() == spot_words(option(x_m, landing))
    assert spot[0].isupper()
    assert ("left" in spot.lower()) == (x_m <= -1.0)
    assert ("right" in spot.lower()) == (x_m >= 1.0)
    assert ("corner" in spot) == (abs(x_m) >= 3.5)


def test_the_call_of_the_worked_picture():
    assert call_words(option(4.4, Point(3.9, 7.8))) == "Right corner → zone 5 deep, on the line"
    assert call_words(option(-2.2, Point(-1.0, 2.0))) == "Left → zone 3 short"


@pytest.mark.parametrize(
    ("length", "said"),
    [
        (1.0, "1 m"),
        (1.04, "1 m"),
        (1.05001, "1.1 m"),
        (10.0, "10 m"),
        (0.96, "1 m"),
        (12.34, "12.3 m"),
        (20, "20 m"),
    ],
)
def test_lengths_are_said_to_a_tenth_without_needless_zeros(length, said):
    assert metres(length) == said


@given(st.floats(0, 30))
def test_a_length_in_words_is_right_to_the_tenth_and_ends_in_no_zero_behind_a_point(length):
    said = metres(length)
    assert not said.endswith(".0 m")
    assert float(said.removesuffix(" m")) == pytest.approx(length, abs=TENTH)


@given(st.floats(0, 1), st.floats(0, 1))
def test_odds_are_whole_numbers_in_a_hundred(keep, p_in):
    told = re.fullmatch(r"wins (\d+) of 100 · misses (\d+)", odds_words(option(0, Point(0, 7), keep, p_in)))
    assert told
    assert int(told[1]) == pytest.approx(100 * keep, abs=0.5 + 1e-9)
    assert int(told[2]) == pytest.approx(100 * (1 - p_in), abs=0.5 + 1e-9)


def test_every_kind_and_every_part_has_words_of_its_own():
    assert set(KIND_WORDS) == set(KINDS)
    assert len(set(KIND_WORDS.values())) == len(KINDS)
    assert set(PART_WORDS) == set(PARTS)
    assert len(set(PART_WORDS.values())) == len(PARTS)


def test_one_line_names_the_two_parts_that_gain_most_and_no_errors():
    sentences = {"sight_angle": "A is so", "behind": "B is so", "move": "C is so", "errors": "D is so"}
    gains = {"errors": 0.05, "move": 0.0051, "behind": 0.02, "sight_angle": 0.03}
    assert reason_words(gains, sentences) == "A is so; b is so."
    assert reason_words({"move": 0.0051, "errors": 0.05}, sentences) == "C is so."
    both = {"sight_angle": "#7 must look so", "behind": "#7 must turn so"}
    assert reason_words(gains, both) == "#7 must look so; she must turn so."
    other = {"sight_angle": "#7 must look so", "behind": "#71 must turn so"}
    assert reason_words(gains, other) == "#7 must look so; #71 must turn so."
    safe = reason_words({"move": 0.001, "errors": 0.05}, sentences)
    assert safe == "Little sets it apart from a plain serve."


# Calls whose words are compared with their own numbers: all setter positions, formations of two to five.
ASKED = [
    {"opponent": {"setter_position": k, "formation": f}}
    for k in range(1, 7)
    for f in ("two", "three", "four", "five")
]
TOPSPIN = {"level": "college", "net_height_m": 2.43, "server": {"kind": "jump_topspin"}}
NUMBERED = {
    "setter_position": 1,
    "passers": [
        {"x_m": 2.9, "y_m": 6.3, "number": 9, "pass_grade": 1.2, "passes": 80},
        {"x_m": 0.0, "y_m": 6.7, "number": 4, "pass_grade": 2.4, "passes": 80},
        {"x_m": -2.9, "y_m": 6.3, "number": 12},
    ],
}
ASKED += [TOPSPIN | asked for asked in ASKED[1::4]] + [
    {"opponent": NUMBERED},
    TOPSPIN | {"opponent": NUMBERED},
]


@cache
def calls() -> list[dict[str, Any]]:
    answers = map(ask, ASKED)
    return [found for answer in answers for found in (answer["best"], *answer["alternatives"])]


def reasons(part: str) -> list[tuple[dict[str, Any], dict[str, Any]]]:
    """Return every reason of a part that gains or loses something, with its call."""
    found = [(call, r) for call in calls() for r in call["reasons"] if r["part"] == part]
    found = [(call, reason) for call, reason in found if abs(reason["points_per_100"]) > 0.05]
    assert found, part
    return found


def test_the_words_of_a_call_are_true_of_its_numbers():
    for call in calls():
        words, target, spot = call["words"], call["target"], call["spot"]
        line = ", on the line" if target["on_the_line"] else ""
        assert words["target"] == f"zone {target['zone']} {target['depth']}{line}"
        assert target["on_the_line"] == (4.5 - abs(target["x_m"]) <= 1.0)
        assert words["spot"].lower() == spot["name"].replace("_", " ")
        assert words["call"] == f"{words['spot']} → {words['target']}"
        assert (
            words["odds"]
            == f"wins {round(100 * call['keep'])} of 100 · misses {round(100 * call['p_error'])}"
        )
        assert words["kind"] == call["kind"].replace("_", " ")


def test_the_place_in_words_is_seen_from_the_passer_whose_ball_it_is():
    for call in calls():
        passer = call["passer"]
        name = (
            f"#{passer['number']}" if passer["number"] is not None else f"the passer in {passer['position']}"
        )
        said = call["words"]["place"]
        assert said.endswith(name)
        hers = Point(passer["x_m"], passer["y_m"])
        found = read_back(said.replace(name, "#7"), hers)
        target = call["target"]
        for axis in ("x_m", "y_m"):
            off = abs(getattr(found, axis) - target[axis])
            assert off < 0.4 if getattr(found, axis) == getattr(hers, axis) else off <= TENTH


def test_reasons_run_from_the_largest_to_the_smallest():
    for call in calls():
        sizes = [abs(reason["points_per_100"]) for reason in call["reasons"]]
        assert sizes == sorted(sizes, reverse=True)
        assert len({reason["part"] for reason in call["reasons"]}) == len(sizes)
        assert all(reason["name"] == PART_WORDS[reason["part"]] for reason in call["reasons"])


def test_the_one_line_is_made_of_the_parts_that_gain_most():
    for call in calls():
        gaining = [r for r in call["reasons"] if r["points_per_100"] >= 0.4 and r["part"] != "errors"]
        line = call["words"]["reason"].lower()
        if not gaining:
            assert line == "little sets it apart from a plain serve."
        for i, reason in enumerate(gaining[:2]):
            text = reason["text"].lower()
            again = re.sub(r"^.* must ", "she must ", text)  # the passer of the first part, not named again
            assert text in line or (i == 1 and line.endswith(f"; {again}."))


def test_the_passer_is_named_once_in_the_one_line():
    lines = [call["words"]["reason"] for call in calls()]
    assert any("; she must " in line for line in lines)
    for call, line in zip(calls(), lines, strict=True):
        number, position = call["passer"]["number"], call["passer"]["position"]
        name = f"#{number} must" if number is not None else f"he passer in {position} must"
        assert line.count(name) <= 1


@pytest.mark.parametrize(
    ("part", "number", "unit"),
    [
        ("pass_angle", lambda call: call["pass_angle_deg"], "°"),
        ("sight_angle", lambda call: call["sight_angle_deg"], "°"),
        ("pass_length", lambda call: call["pass_length_m"], " m"),
        ("move", lambda call: call["passer"]["move_m"], " m"),
        ("away", lambda call: call["passer"]["away_m"], " m"),
        ("back", lambda call: call["passer"]["back_m"], " m"),
    ],
)
def test_a_reason_quotes_the_calls_own_number(part, number, unit):
    quoting = 0
    for call, reason in reasons(part):
        quoted = re.findall(rf"([\d.]+){unit}(?!\w)", reason["text"])
        assert len(quoted) <= 1
        if quoted:
            quoting += 1
            assert float(quoted[0]) == pytest.approx(number(call), abs=0.5 if unit == "°" else TENTH)
            assert float(quoted[0]) > 0.0, reason["text"]  # a move of nothing is no reason
        else:
            assert part in ("away", "back")
            assert number(call) < 0.1  # what the aim does not show, its scatter may
    assert quoting


def test_a_reason_never_argues_against_its_own_sign():
    for _, reason in reasons("sight_angle"):
        assert ("must look" in reason["text"]) == (reason["points_per_100"] > 0)
    for _, reason in reasons("pass_angle") + reasons("pass_length") + reasons("move"):
        assert ("only" in reason["text"]) == (reason["points_per_100"] < 0)
    for _, reason in reasons("seam"):
        assert reason["text"].startswith("Less clear" if reason["points_per_100"] > 0 else "Clear")
    for _, reason in reasons("passer"):
        assert reason["text"].endswith("weaker" if reason["points_per_100"] > 0 else "stronger")


def test_a_pass_is_said_to_come_from_behind_when_it_does():
    for call, reason in reasons("behind"):
        text, gains = reason["text"], reason["points_per_100"] > 0
        if text == "The pass comes from behind their setter":
            assert call["arrival_bearing_deg"] > 90
            assert gains
        if text == "The pass comes from in front of their setter":
            assert call["arrival_bearing_deg"] <= 90
            assert not gains


def test_the_errors_of_call_and_plain_serve_are_compared_in_whole_numbers():
    for call, reason in reasons("errors"):
        told = re.match(r"Misses (\d+) in 100, the plain serve (\d+)", reason["text"])
        assert told
        assert int(told[1]) == round(100 * call["p_error"])
        assert int(told[2]) == round(100 * call["plain"]["p_error"])
        fewer = call["p_error"] <= call["plain"]["p_error"]
        if fewer and reason["points_per_100"] < 0:
            assert "better serves" in reason["text"]  # it misses no more, but where it is worth most


def test_a_reason_names_the_passer_by_number_or_by_position():
    named = {call["words"]["place"].split()[-1] for call in calls() if call["passer"]["number"] is not None}
    assert named
    assert all(name.startswith("#") for name in named)
    for call in calls():
        number, position = call["passer"]["number"], call["passer"]["position"]
        for reason in call["reasons"]:
            if reason["part"] in ("pass_angle", "sight_angle", "move"):
                name = f"#{number}" if number is not None else f"The passer in {position}"
                assert reason["text"].startswith(name)
