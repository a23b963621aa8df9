"""Reading and writing the log: from plain objects to entries and back.

`parse_entry` and `format_entry` are a pair and round-trip. Only what cannot be read is refused; what
breaks the rules of play is read like anything else.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import fields, is_dataclass
from typing import Any

from cornerwise.engine.match import events as ev
from cornerwise.engine.match.profile_reading import describe_profile
from cornerwise.engine.match.profiles import RuleProfile
from cornerwise.engine.match.readers import Reader, event_id, mapping, refuse, text, whole, within
from cornerwise.engine.match.shapes import MOST_RALLIES, PARTS, SHAPES, TYPE_NAMES, Shape

LONGEST_LOG = 20_000  # chosen: a match of five sets needs some 1,000 events

ENVELOPE: Mapping[str, Reader] = {
    "id": event_id,
    "device": text(64),
    "counter": whole(0, 1_000_000),
    "set_number": whole(0, 9),
    "rally_number": whole(0, MOST_RALLIES),
}
SEEN: Mapping[str, Reader] = {"seen": whole(0, 2**53 - 1)}


def parse_log(value: Any, field: str = "events") -> tuple[ev.Entry, ...]:
    """Return the entries of a log.

    Raises RuleBroken naming the first field that cannot be read, e.g. "events.3.winner".
    """
    if isinstance(value, str) or not isinstance(value, Sequence) or len(value) > LONGEST_LOG:
        refuse(field, type(value).__name__, f"a list of at most {LONGEST_LOG} events", "log_length")
    return tuple(parse_entry(entry, f"{field}.{i}") for i, entry in enumerate(value))


def parse_entry(value: Any, field: str = "") -> ev.Entry:
    """Return one entry of a log, read from a plain object.

    Raises RuleBroken naming the field that cannot be read.
    """
    if not isinstance(value, Mapping):
        refuse(field or "event", value, "an object", "event_shape")
    name = value.get("type")
    if not isinstance(name, str) or name not in SHAPES:
        refuse(within(field, "type"), name, f"one of {', '.join(SHAPES)}", "event_type")
    outside = {key: entry for key, entry in value.items() if key in ENVELOPE or key in SEEN}
    inside = {key: entry for key, entry in value.items() if key not in outside and key != "type"}
    envelope = mapping(field, outside, ENVELOPE, SEEN)
    event = parse_event(SHAPES[name], inside, field)
    check_rally(field, event, envelope)
    return ev.Entry(event=event, **envelope)


def parse_event(shape: Shape, value: Mapping[str, Any], field: str) -> ev.Event:
    """Return an event read from the fields of its type."""
    optional = shape.all_optional
    read = mapping(field, value, shape.required, optional)
    if shape.something and not read.keys() - shape.required.keys():
        refuse(field or "event", dict(value), f"at least one of {', '.join(optional)}", "something_said")
    if shape.parts:
        parts = ev.Parts(**{name: read.pop(name) for name in PARTS if name in read})
        read["parts"] = parts
    event: ev.Event = shape.event(**read)
    check_event(field, event)
    return event


def check_event(field: str, event: ev.Event) -> None:
    """Raise RuleBroken for fields that cannot stand together."""
    match event:
        case ev.Substituted() | ev.ExceptionallySubstituted() | ev.LiberoReplaced():
            if event.enters is None and event.leaves is None:
                refuse(within(field, "enters"), None, "who enters or who leaves", "something_said")
            if event.enters == event.leaves:
                refuse(within(field, "enters"), event.enters, "another player", "substitution_pair")
        case ev.Forfeited(scope="set", how="default"):
            refuse(within(field, "how"), event.how, "incomplete, for a set", "default_match")
        case _:
            pass


def check_rally(field: str, event: ev.Event, envelope: Mapping[str, Any]) -> None:
    """Raise RuleBroken unless the event belongs to a set and a rally; only a few need none."""
    if isinstance(event, (ev.MatchOpened, ev.Retracted)):
        return
    set_number, rally_number = envelope["set_number"], envelope["rally_number"]
    if set_number < 1:
        refuse(within(field, "set_number"), set_number, "a set from 1 to 9", "whole_number")
    if rally_number < 1 and not isinstance(event, ev.SetStarted):
        refuse(within(field, "rally_number"), rally_number, "a rally from 1 on", "whole_number")


def format_entry(entry: ev.Entry) -> dict[str, Any]:
    """Return an entry as a plain object, as `parse_entry` takes it."""
    envelope = {name: getattr(entry, name) for name in (*ENVELOPE, *SEEN)}
    return {**envelope, "type": TYPE_NAMES[type(entry.event)], **format_event(entry.event)}


def format_event(event: ev.Event) -> dict[str, Any]:
    """Return the fields of an event as plain values; parts of a serve stand beside the rest."""
    values = dict(plain(event))
    parts = values.pop("parts", {})
    return {**values, **parts}


def plain(value: Any) -> Any:
    """Return an engine value as plain JSON, without what is None."""
    if isinstance(value, RuleProfile):
        return describe_profile(value)
    if is_dataclass(value):
        return {
            field.name: plain(getattr(value, field.name))
            for field in fields(value)
            if getattr(value, field.name) is not None
        }
    return [plain(entry) for entry in value] if isinstance(value, tuple) else value
