"""The rules of each competition as values, against the published rules.

FIVB: Official Volleyball Rules, both editions, the rule's number beside each value. US values
are starting points (college time-outs and liberos, high school scoring and substitutions from published
pages, the rest from memory) and must say that they need to be verified.
"""

from __future__ import annotations

import pytest
from cornerwise.engine.match.profile_reading import parse_profile
from cornerwise.engine.match.profiles import EDITED, PROFILES, VERIFY, sources

FIVB = {
    "sets_to_win": (3, "6.3.1"),
    "points": (25, "6.2"),
    "deciding_points": (15, "6.3.2"),
    "lead": (2, "6.2"),
    "substitutions_per_set": (6, "15.1"),
    "time_outs_per_set": (2, "15.1"),
    "time_out_s": (30, "15.4.1"),
    "liberos": (2, "19.1"),
    "libero_may_serve": (False, "19.3.1.3"),
    "seconds_to_serve": (8, "12.4.4"),
    "side_change_points": (8, "18.2.2"),
    "cap": (None, "6.2"),
}


@pytest.mark.parametrize("name", ["fivb_2025_2028", "fivb_2021_2024", "custom"])
@pytest.mark.parametrize("field", FIVB)
def test_fivb_values_are_those_of_the_rule_cited(name: str, field: str) -> None:
    value, rule = FIVB[field]
    assert getattr(PROFILES[name], field) == value
    assert sources(PROFILES[name])[field].startswith(f"FIVB {rule}")


def test_since_2025_only_the_receiving_side_is_bound_by_overlap() -> None:
    """FIVB 2025-2028, 7.4: the serving team is free to stand anywhere; 2021-2024: both teams in order."""
    assert PROFILES["fivb_2025_2028"].overlap_applies_to == "receiving_only"
    assert PROFILES["fivb_2021_2024"].overlap_applies_to == "both"


@pytest.mark.parametrize(
    ("name", "values"),
    [
        (
            "us_college_women",
            {"substitutions_per_set": 15, "time_out_s": 75, "liberos": 2, "seconds_to_serve": 8},
        ),
        (
            "us_high_school",
            {"substitutions_per_set": 18, "time_out_s": 60, "liberos": 1, "seconds_to_serve": 5},
        ),
        (
            "us_junior_club",
            {"substitutions_per_set": 12, "time_out_s": 30, "sets_to_win": 2, "seconds_to_serve": 8},
        ),
    ],
)
def test_us_values_are_starting_points_to_verify(name: str, values: dict[str, int]) -> None:
    profile = PROFILES[name]
    assert {field: getattr(profile, field) for field in values} == values
    assert profile.libero_may_serve
    assert profile.re_entry == "same_place"
    assert profile.wrong_server == "this_term"
    assert profile.verify
    assert set(sources(profile).values()) == {VERIFY}


def test_an_edited_value_says_so() -> None:
    assert sources(parse_profile("profile", {"name": "fivb_2025_2028", "cap": 27}))["cap"] == EDITED
