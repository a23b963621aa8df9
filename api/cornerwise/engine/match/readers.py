"""Readers: each turns one plain value of a request into a value of the engine, or says what is wrong with it.

A reader takes the field's dotted name and the value, and raises RuleBroken naming field, value, what
was expected and the rule. `true` is never a number. Each says in JSON Schema what it takes, so that the
document of an event is made of what reads it.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, NoReturn, TypeAlias

from cornerwise.engine.court import Point
from cornerwise.engine.errors import RuleBroken
from cornerwise.engine.match.events import Passer
from cornerwise.engine.match.terms import Both

Schema: TypeAlias = Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Reader:
    """Reads one plain value.

    schema : what it takes, as JSON Schema (2020-12); what a schema cannot say, the engine refuses by a rule
    """

    read: Callable[[str, Any], Any]
    schema: Schema

    def __call__(self, field: str, value: Any) -> Any:
        return self.read(field, value)


RULES: Mapping[str, str] = {
    "log_length": "A log is a list of at most 20,000 events.",
    "event_shape": "An event is an object with the fields of its type and no others.",
    "event_type": "The type of an event is one of those documented.",
    "event_id": "An event's id is a UUIDv7 in lower case, made by the device.",
    "whole_number": "Counts, set, rally and shirt numbers are whole numbers within their range.",
    "real_number": "Measures are finite numbers within their range.",
    "one_of": "A field with a closed set of values takes one of them.",
    "text": "Texts are not empty and not longer than their limit.",
    "yes_or_no": "A switch is true or false.",
    "numbers_once": "No shirt number stands twice in one list, nor a libero in the line-up beside her.",
    "six_places": "A line-up has six entries, positions 1 to 6, each a shirt number or null.",
    "substitution_pair": "The player who enters is not the one who leaves.",
    "something_said": "An event that only has optional fields gives at least one of them.",
    "default_match": "Only a whole match is forfeited by default.",
    "profile": "A rule profile is one of the documented names, or an object that changes fields of one.",
}

UUID7 = re.compile(r"[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}")
HIGHEST_NUMBER = 99  # FIVB 4.3.3 has 1 to 99; chosen: 0 too, which US competitions allow
FARTHEST_M = 30.0  # chosen: a playing hall
FASTEST_M_S = 60.0  # chosen: beyond any serve


def refuse(field: str, value: object, expected: str, rule: str) -> NoReturn:
    raise RuleBroken(field, value, expected, rule)


def whole(lowest: int, highest: int) -> Reader:
    """Return a reader of whole numbers from lowest to highest."""

    def read(field: str, value: Any) -> int:
        if type(value) is not int or not lowest <= value <= highest:
            refuse(field, value, f"a whole number from {lowest} to {highest}", "whole_number")
        return int(value)

    return Reader(read, {"type": "integer", "minimum": lowest, "maximum": highest})


def real(lowest: float, highest: float) -> Reader:
    """Return a reader of finite numbers from lowest to highest."""

    def read(field: str, value: Any) -> float:
        if type(value) not in (int, float) or not lowest <= value <= highest:
            refuse(field, value, f"a number from {lowest:g} to {highest:g}", "real_number")
        return float(value)

    return Reader(read, {"type": "number", "minimum": lowest, "maximum": highest})


def one_of(*choices: str) -> Reader:
    """Return a reader of one of some words."""

    def read(field: str, value: Any) -> str:
        if not isinstance(value, str) or value not in choices:
            refuse(field, value, f"one of {', '.join(choices)}", "one_of")
        return value

    return Reader(read, {"type": "string", "enum": list(choices)})


def text(longest: int) -> Reader:
    """Return a reader of text of 1 to some characters."""

    def read(field: str, value: Any) -> str:
        if not isinstance(value, str) or not 1 <= len(value) <= longest:
            refuse(field, value, f"text of 1 to {longest} characters", "text")
        return value

    return Reader(read, {"type": "string", "minLength": 1, "maxLength": longest})


def read_yes_or_no(field: str, value: Any) -> bool:
    if not isinstance(value, bool):
        refuse(field, value, "true or false", "yes_or_no")
    return value


def read_event_id(field: str, value: Any) -> str:
    if not isinstance(value, str) or UUID7.fullmatch(value) is None:
        refuse(field, value, "a UUIDv7 in lower case", "event_id")
    return value


def listed(read: Reader, fewest: int, most: int) -> Reader:
    """Return a reader of a list, each entry read by `read`."""

    def read_list(field: str, value: Any) -> tuple[Any, ...]:
        if isinstance(value, str) or not isinstance(value, Sequence) or not fewest <= len(value) <= most:
            refuse(field, value, f"a list of {fewest} to {most} entries", "event_shape")
        return tuple(read(f"{field}.{i}", entry) for i, entry in enumerate(value))

    schema = {"type": "array", "items": read.schema, "minItems": fewest, "maxItems": most}
    return Reader(read_list, schema)


def numbers(most: int) -> Reader:
    """Return a reader of a list of shirt numbers, none twice."""
    read_list = listed(shirt_number, 0, most)

    def read(field: str, value: Any) -> tuple[int, ...]:
        return once(field, value, read_list(field, value))

    return Reader(read, {**read_list.schema, "uniqueItems": True})


def once(field: str, value: Any, given: tuple[Any, ...]) -> tuple[Any, ...]:
    known = [number for number in given if number is not None]
    if len(set(known)) < len(known):
        refuse(field, value, "no shirt number twice", "numbers_once")
    return given


def read_lineup(field: str, value: Any) -> tuple[int | None, ...]:
    """Read six shirt numbers or nulls, by position 1 to 6, none twice."""
    if isinstance(value, str) or not isinstance(value, Sequence) or len(value) != 6:
        refuse(field, value, "six entries, each a shirt number or null", "six_places")
    read = [None if n is None else shirt_number(f"{field}.{i}", n) for i, n in enumerate(value)]
    return once(field, value, tuple(read))


def mapping(
    field: str, value: Any, required: Mapping[str, Reader], optional: Mapping[str, Reader]
) -> dict[str, Any]:
    """Read an object with some required and some optional fields, and no others; null is left out."""
    if not isinstance(value, Mapping):
        refuse(field, value, "an object", "event_shape")
    read = {}
    for name, entry in value.items():
        reader = required.get(name) or optional.get(name)
        if reader is None:
            known = ", ".join((*required, *optional)) or "none"
            refuse(within(field, str(name)), entry, f"no other fields than {known}", "event_shape")
        if entry is not None:
            read[name] = reader(within(field, name), entry)
    for name in required:
        if name not in read:
            refuse(within(field, name), None, "a value", "event_shape")
    return read


def object_schema(required: Mapping[str, Reader], optional: Mapping[str, Reader]) -> Schema:
    """Return what `mapping` takes, as JSON Schema."""
    properties = {name: reader.schema for name, reader in required.items()}
    properties |= {name: nullable(reader.schema) for name, reader in optional.items()}
    some = {"required": list(required)} if required else {}
    return {"type": "object", "properties": properties, **some, "additionalProperties": False}


def nullable(schema: Schema) -> Schema:
    """Return a schema that also takes null."""
    kind = schema.get("type")
    if not isinstance(kind, str) or kind == "object":
        return {"anyOf": [schema, {"type": "null"}]}
    words = {"enum": [*schema["enum"], None]} if "enum" in schema else {}
    return {**schema, "type": [kind, "null"], **words}


def within(field: str, name: str) -> str:
    """Return the dotted name of a field inside another."""
    return f"{field}.{name}" if field else name


ANYTHING = Reader(lambda _, value: value, {})
yes_or_no = Reader(read_yes_or_no, {"type": "boolean"})
event_id = Reader(read_event_id, {"type": "string", "pattern": f"^{UUID7.pattern}$"})
shirt_number = whole(0, HIGHEST_NUMBER)
position = whole(1, 6)
LINEUP_SCHEMA = {"type": "array", "items": nullable(shirt_number.schema), "minItems": 6, "maxItems": 6}
lineup = Reader(read_lineup, LINEUP_SCHEMA)
share = real(0.0, 1.0)
metres = real(-FARTHEST_M, FARTHEST_M)
PLACE: Mapping[str, Reader] = {"x_m": metres, "y_m": metres}
WHO: Mapping[str, Reader] = {"position": position, "number": shirt_number}
SETS: Mapping[str, Reader] = {"us": whole(0, 9), "them": whole(0, 9)}


def read_speed_m_s(field: str, value: Any) -> float:
    """Read a speed over 0. [m/s]"""
    speed = real(0.0, FASTEST_M_S)(field, value)
    if math.isclose(speed, 0.0, abs_tol=1e-12):
        refuse(field, value, f"a number over 0, up to {FASTEST_M_S:g}", "real_number")
    return float(speed)


def read_point(field: str, value: Any) -> Point:
    """Read a place on the floor. [m]"""
    return Point(**mapping(field, value, PLACE, {}))


def read_passer(field: str, value: Any) -> Passer:
    """Read a passer's place, with position and number as far as known."""
    return Passer(**mapping(field, value, PLACE, WHO))


def read_sets_won(field: str, value: Any) -> Both[int]:
    """Read the sets won by each side."""
    return Both(**mapping(field, value, SETS, {}))


speed_m_s = Reader(read_speed_m_s, {"type": "number", "exclusiveMinimum": 0, "maximum": FASTEST_M_S})
point = Reader(read_point, object_schema(PLACE, {}))
passer = Reader(read_passer, object_schema(PLACE, WHO))
sets_won = Reader(read_sets_won, object_schema(SETS, {}))
