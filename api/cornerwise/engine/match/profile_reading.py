"""Reading a rule profile from a request: a name, or an object that changes fields of the one named."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any, get_args

from cornerwise.engine.match.profiles import (
    PROFILES,
    OverlapAppliesTo,
    ReEntry,
    RuleProfile,
    WrongServerRule,
    edited_fields,
)
from cornerwise.engine.match.readers import (
    Reader,
    nullable,
    object_schema,
    one_of,
    refuse,
    whole,
    within,
    yes_or_no,
)

NULLABLE = ("cap", "deciding_cap", "substitutions_per_set", "side_change_points")

FIELDS: Mapping[str, Reader] = {
    "sets_to_win": whole(1, 5),
    "points": whole(1, 99),
    "deciding_points": whole(1, 99),
    "lead": whole(1, 9),
    "cap": whole(1, 199),
    "deciding_cap": whole(1, 199),
    "starting_points": whole(0, 50),
    "deciding_starting_points": whole(0, 50),
    "substitutions_per_set": whole(0, 99),
    "re_entry": one_of(*get_args(ReEntry)),
    "time_outs_per_set": whole(0, 9),
    "time_out_s": whole(10, 300),
    "liberos": whole(0, 4),
    "libero_may_serve": yes_or_no,
    "libero_exchange_to_serve": yes_or_no,
    "seconds_to_serve": whole(1, 30),
    "serve_again": yes_or_no,
    "side_change_points": whole(1, 99),
    "overlap_applies_to": one_of(*get_args(OverlapAppliesTo)),
    "wrong_server": one_of(*get_args(WrongServerRule)),
}


def read_profile(field: str, value: Any) -> RuleProfile:
    """Return the profile that a request names or describes: see `parse_profile`.

    Raises RuleBroken naming the field when a name is unknown or a value is out of its range.
    """
    if isinstance(value, str):
        return named(field, value)
    if not isinstance(value, Mapping):
        refuse(field, value, "a profile's name or an object", "profile")
    base = named(within(field, "name"), value.get("name"))
    changed = {name: changed_value(field, name, entry) for name, entry in value.items() if name != "name"}
    return checked(field, replace(base, **changed))


def named(field: str, value: Any) -> RuleProfile:
    if not isinstance(value, str) or value not in PROFILES:
        refuse(field, value, f"one of {', '.join(PROFILES)}", "profile")
    return PROFILES[value]


def changed_value(field: str, name: Any, value: Any) -> Any:
    if name not in FIELDS:
        refuse(within(field, str(name)), value, f"no other fields than {', '.join(FIELDS)}", "profile")
    if value is None and name in NULLABLE:
        return None
    return FIELDS[name](within(field, name), value)


def checked(field: str, profile: RuleProfile) -> RuleProfile:
    """Return the profile, if its sets can be won: caps not under the points, starts under them."""
    pairs = (
        ("", profile.points, profile.cap, profile.starting_points),
        ("deciding_", profile.deciding_points, profile.deciding_cap, profile.deciding_starting_points),
    )
    for prefix, points, cap, starting in pairs:
        if cap is not None and cap < points:
            refuse(within(field, f"{prefix}cap"), cap, f"at least the {points} points of the set", "profile")
        if starting >= points:
            expected = f"under the {points} points of the set"
            refuse(within(field, f"{prefix}starting_points"), starting, expected, "profile")
    return profile


def describe_profile(profile: RuleProfile) -> str | dict[str, Any]:
    """Return a profile as `parse_profile` takes it: its name, or its name with what was edited."""
    edited = edited_fields(profile)
    return {"name": profile.name, **edited} if edited else profile.name


NAME = one_of(*PROFILES)
CHANGED: Mapping[str, Reader] = {
    name: Reader(reader.read, nullable(reader.schema)) if name in NULLABLE else reader
    for name, reader in FIELDS.items()
}
OBJECT = object_schema({"name": NAME, **CHANGED}, {})
parse_profile = Reader(read_profile, {"anyOf": [NAME.schema, {**OBJECT, "required": ["name"]}]})
