"""Rule profiles: the rules of a competition as values, each with its source.

A youth league is a new constant or a few edited fields, never a new branch. FIVB values cite the
rule's number. US rule books could not be read: those values are starting points and marked so.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, dataclass, fields, replace
from typing import Any, Literal

ProfileName = Literal[
    "fivb_2025_2028", "fivb_2021_2024", "us_college_women", "us_high_school", "us_junior_club", "custom"
]
ReEntry = Literal["once", "same_place", "free"]
OverlapAppliesTo = Literal["both", "receiving_only"]
WrongServerRule = Literal["since_fault", "this_term"]

VERIFY = "verify with your competition's rule book"


@dataclass(frozen=True, slots=True)
class RuleProfile:
    """The rules of a competition, as far as a bench needs them.

    points, deciding_points : points of a set and of the deciding set, won with `lead` points more
    cap, deciding_cap : points that win with any lead, or None
    re_entry : "once" as FIVB 15.6; "same_place" any number of entries, always in one place; "free"
    wrong_server : which points the team at fault loses: all since the fault, or of this term of service
    serve_again : one more toss per term of service is allowed
    """

    name: ProfileName = "fivb_2025_2028"
    sets_to_win: int = 3
    points: int = 25
    deciding_points: int = 15
    lead: int = 2
    cap: int | None = None
    deciding_cap: int | None = None
    starting_points: int = 0
    deciding_starting_points: int = 0
    substitutions_per_set: int | None = 6
    re_entry: ReEntry = "once"
    time_outs_per_set: int = 2
    time_out_s: int = 30
    liberos: int = 2
    libero_may_serve: bool = False
    libero_exchange_to_serve: bool = False
    seconds_to_serve: int = 8
    serve_again: bool = False
    side_change_points: int | None = 8
    overlap_applies_to: OverlapAppliesTo = "receiving_only"
    wrong_server: WrongServerRule = "since_fault"
    verify: bool = False


FIVB_2025_2028 = RuleProfile()
FIVB_2021_2024 = replace(FIVB_2025_2028, name="fivb_2021_2024", overlap_applies_to="both")
US_COLLEGE_WOMEN = replace(
    FIVB_2025_2028,
    name="us_college_women",
    substitutions_per_set=15,
    re_entry="same_place",
    time_out_s=75,
    libero_may_serve=True,
    libero_exchange_to_serve=True,
    overlap_applies_to="both",
    wrong_server="this_term",
    verify=True,
)
US_HIGH_SCHOOL = replace(
    US_COLLEGE_WOMEN,
    name="us_high_school",
    substitutions_per_set=18,
    time_out_s=60,
    liberos=1,
    seconds_to_serve=5,
    serve_again=True,
    side_change_points=None,
)
US_JUNIOR_CLUB = replace(
    US_COLLEGE_WOMEN, name="us_junior_club", sets_to_win=2, substitutions_per_set=12, time_out_s=30
)
CUSTOM = replace(FIVB_2025_2028, name="custom")

PROFILES: Mapping[str, RuleProfile] = {
    profile.name: profile
    for profile in (
        FIVB_2025_2028,
        FIVB_2021_2024,
        US_COLLEGE_WOMEN,
        US_HIGH_SCHOOL,
        US_JUNIOR_CLUB,
        CUSTOM,
    )
}

# Rule numbers of the FIVB Official Volleyball Rules; the same in 2021-2024 and 2025-2028 but for 7.4.
FIVB_SOURCES: Mapping[str, str] = {
    "sets_to_win": "FIVB 6.3.1",
    "points": "FIVB 6.2",
    "deciding_points": "FIVB 6.3.2",
    "lead": "FIVB 6.2",
    "cap": "FIVB 6.2: no cap",
    "deciding_cap": "FIVB 6.3.2: no cap",
    "starting_points": "FIVB 6: sets start from 0",
    "deciding_starting_points": "FIVB 6: sets start from 0",
    "substitutions_per_set": "FIVB 15.1",
    "re_entry": "FIVB 15.6.1, 15.6.2",
    "time_outs_per_set": "FIVB 15.1",
    "time_out_s": "FIVB 15.4.1",
    "liberos": "FIVB 19.1",
    "libero_may_serve": "FIVB 19.3.1.3",
    "libero_exchange_to_serve": "FIVB 19.3.2.1",
    "seconds_to_serve": "FIVB 12.4.4",
    "serve_again": "FIVB 12.4.4: no second toss",
    "side_change_points": "FIVB 18.2.2",
    "overlap_applies_to": "FIVB 7.4",
    "wrong_server": "FIVB 7.7",
}
EDITED = "edited for this match"


def sources(profile: RuleProfile) -> dict[str, str]:
    """Return where the value of each field comes from, by field name."""
    base = PROFILES[profile.name]
    return {
        name: EDITED
        if getattr(profile, name) != getattr(base, name)
        else (VERIFY if profile.verify else source)
        for name, source in FIVB_SOURCES.items()
    }


def format_profile(profile: RuleProfile) -> dict[str, Any]:
    """Return a profile as plain values, every field by its name."""
    return asdict(profile)


def edited_fields(profile: RuleProfile) -> dict[str, Any]:
    """Return the fields in which a profile differs from the published one of its name."""
    base = PROFILES[profile.name]
    names = (field.name for field in fields(RuleProfile))
    return {name: getattr(profile, name) for name in names if getattr(profile, name) != getattr(base, name)}
