"""What cannot be read is refused by name: field, value, what was expected, which rule."""

from __future__ import annotations

from typing import Any

import pytest
from cornerwise.engine.errors import RuleBroken
from cornerwise.engine.match import parse_log, replay_request
from cornerwise.engine.match.profile_reading import describe_profile, parse_profile
from cornerwise.engine.match.profiles import PROFILES
from cornerwise.engine.match.readers import RULES
from cornerwise.engine.match.shapes import SHAPES

ID = "01890000-0000-7000-8000-000000000001"


def entry(**changes: Any) -> dict[str, Any]:
    """A readable entry, with some fields changed; ... takes one out."""
    whole = {
        "id": ID,
        "device": "phone",
        "counter": 0,
        "set_number": 1,
        "rally_number": 1,
        "type": "rally_won",
    }
    whole |= {"winner": "us"} if changes.get("type", "rally_won") == "rally_won" else {}
    return {name: value for name, value in {**whole, **changes}.items() if value is not ...}


def started(**us: Any) -> dict[str, Any]:
    return entry(type="set_started", serving_first="us", us=us)


REFUSED: list[tuple[str, dict[str, Any], str, str]] = [
    ("an id of another version", entry(id=ID.replace("-7", "-4")), "events.0.id", "event_id"),
    ("an id in capitals", entry(id=ID.replace("01890000", "0189000A")), "events.0.id", "event_id"),
    ("no id", entry(id=...), "events.0.id", "event_shape"),
    ("a device without a name", entry(device=""), "events.0.device", "text"),
    ("a counter below 0", entry(counter=-1), "events.0.counter", "whole_number"),
    ("a counter that is true", entry(counter=True), "events.0.counter", "whole_number"),
    ("set 0", entry(set_number=0), "events.0.set_number", "whole_number"),
    ("set 10", entry(set_number=10), "events.0.set_number", "whole_number"),
    ("rally 0", entry(rally_number=0), "events.0.rally_number", "whole_number"),
    ("rally 1.5", entry(rally_number=1.5), "events.0.rally_number", "whole_number"),
    ("an unknown type", entry(type="serve_called"), "events.0.type", "event_type"),
    ("no type", entry(type=...), "events.0.type", "event_type"),
    ("a winner who is neither", entry(winner="home"), "events.0.winner", "one_of"),
    ("no winner", entry(winner=...), "events.0.winner", "event_shape"),
    ("a field it does not have", entry(loser="them"), "events.0.loser", "event_shape"),
    ("pass grade 4", entry(grade=4), "events.0.grade", "whole_number"),
    ("no pass grade", entry(type="pass_graded", passer=4), "events.0.grade", "event_shape"),
    ("a serve of which nothing is said", entry(type="serve_noted"), "events.0", "something_said"),
    (
        "a landing off the hall",
        entry(landing={"x_m": 31.0, "y_m": 0.0}),
        "events.0.landing.x_m",
        "real_number",
    ),
    (
        "a landing that is no number",
        entry(landing={"x_m": float("nan"), "y_m": 0}),
        "events.0.landing.x_m",
        "real_number",
    ),
    ("a landing without y", entry(landing={"x_m": 1.0}), "events.0.landing.y_m", "event_shape"),
    ("a speed of 0", entry(speed_m_s=0), "events.0.speed_m_s", "real_number"),
    ("shirt number 100", entry(passer=100), "events.0.passer", "whole_number"),
    ("five places", started(lineup=[1, 2, 3, 4, 5]), "events.0.us.lineup", "six_places"),
    ("one number in two places", started(lineup=[1, 1, 3, 4, 5, 6]), "events.0.us.lineup", "numbers_once"),
    ("a word in the line-up", started(lineup=[1, "2", 3, 4, 5, 6]), "events.0.us.lineup.1", "whole_number"),
    (
        "a libero in the line-up",
        started(lineup=[1, 2, 3, 4, 5, 6], liberos=[6]),
        "events.0.us.liberos",
        "numbers_once",
    ),
    ("position 7", started(setter_position=7), "events.0.us.setter_position", "whole_number"),
    (
        "a player for herself",
        entry(type="substituted", side="us", leaves=4, enters=4),
        "events.0.enters",
        "substitution_pair",
    ),
    (
        "a replacement of nobody by nobody",
        entry(type="libero_replaced", side="us"),
        "events.0.enters",
        "something_said",
    ),
    (
        "a line-up corrected in nothing",
        entry(type="lineup_corrected", side="us"),
        "events.0",
        "something_said",
    ),
    (
        "a rotation that is no switch",
        entry(type="penalty_point_given", to="us", rotation=1),
        "events.0.rotation",
        "yes_or_no",
    ),
    (
        "a set lost by default",
        entry(type="forfeited", side="us", scope="set", how="default"),
        "events.0.how",
        "default_match",
    ),
    (
        "a retraction of no id",
        entry(type="retracted", event_id="the last one"),
        "events.0.event_id",
        "event_id",
    ),
    ("a profile nobody knows", entry(type="match_opened", profile="beach"), "events.0.profile", "profile"),
    ("an entry that is no object", [], "events.0", "event_shape"),  # type: ignore[list-item]
]


@pytest.mark.parametrize(
    ("wrong", "field", "rule"), [case[1:] for case in REFUSED], ids=[case[0] for case in REFUSED]
)
def test_an_unreadable_event_is_refused_by_name(wrong: dict[str, Any], field: str, rule: str) -> None:
    with pytest.raises(RuleBroken) as refused:
        parse_log([wrong])
    assert refused.value.field == field
    assert refused.value.rule == rule
    assert rule in RULES
    assert refused.value.expected


def test_every_rule_of_a_log_is_shown_broken() -> None:
    """`log_length` is shown by the test of the longest log, below."""
    assert {case[3] for case in REFUSED} | {"log_length"} == set(RULES)
    assert all(sentence[0].isupper() and sentence.endswith(".") for sentence in RULES.values())


def test_the_entry_those_cases_start_from_is_readable() -> None:
    assert parse_log([entry(), started(lineup=[1, 2, 3, 4, 5, None], liberos=[6], setters=[1])])


def test_a_log_is_a_list_of_at_most_20000_events() -> None:
    with pytest.raises(RuleBroken, match="20000"):
        parse_log([entry()] * 20_001)
    with pytest.raises(RuleBroken):
        parse_log("[]")


def test_null_is_the_same_as_left_out() -> None:
    assert parse_log([entry(ending=None, grade=None)]) == parse_log([entry()])


def test_every_type_of_event_is_read_by_the_name_of_what_happened() -> None:
    """The types that the issue lists, in the past tense: a list of its own, so that none gets lost."""
    assert set(SHAPES) == {
        "match_opened", "set_started", "call_shown", "server_seen", "reception_formation_seen", "pass_graded",
        "serve_noted", "rally_won", "rally_replayed", "substituted", "exceptionally_substituted",
        "libero_replaced", "time_out_taken", "penalty_point_given", "lineup_corrected", "score_corrected",
        "server_corrected", "wrong_server_called", "sides_changed", "expelled", "disqualified", "set_ended",
        "match_ended", "match_abandoned", "forfeited", "retracted",
    }  # fmt: skip


@pytest.mark.parametrize(
    ("profile", "field"),
    [
        ({"name": "custom", "points": 0}, "profile.points"),
        ({"name": "custom", "lead": 2.0}, "profile.lead"),
        ({"name": "custom", "cap": 20}, "profile.cap"),
        ({"name": "custom", "starting_points": 25}, "profile.starting_points"),
        ({"name": "custom", "deciding_starting_points": 15}, "profile.deciding_starting_points"),
        ({"name": "custom", "re_entry": "often"}, "profile.re_entry"),
        ({"name": "custom", "points": None}, "profile.points"),
        ({"name": "custom", "referee": "strict"}, "profile.referee"),
        ({"points": 21}, "profile.name"),
        (7, "profile"),
    ],
)
def test_a_profile_that_cannot_be_played_is_refused(profile: Any, field: str) -> None:
    with pytest.raises(RuleBroken) as refused:
        replay_request({"profile": profile, "events": []})
    assert refused.value.field == field


def test_profiles_are_described_as_they_are_read() -> None:
    edited = {"name": "us_high_school", "cap": 27, "side_change_points": 8}
    assert describe_profile(parse_profile("profile", edited)) == edited
    for name in PROFILES:
        assert describe_profile(parse_profile("profile", name)) == name


def test_the_profile_of_the_request_goes_before_the_one_in_the_log() -> None:
    opened = entry(type="match_opened", set_number=0, profile="us_high_school")
    assert replay_request({"events": [opened]})["state"]["profile"]["name"] == "us_high_school"
    given = replay_request({"events": [opened], "profile": "fivb_2021_2024"})
    assert given["state"]["profile"]["name"] == "fivb_2021_2024"


def test_a_request_needs_its_events() -> None:
    with pytest.raises(RuleBroken) as refused:
        replay_request({"profile": None})
    assert refused.value.field == "events"
