"""Logs written by hand: for demo matches and scripts, in the words of the game.

`logged` numbers events as a device does that shows the state: what comes between two rallies belongs
to the rally to come, a result makes the next one.
"""

from __future__ import annotations

from cornerwise.engine.match.events import (
    Entry,
    Event,
    MatchOpened,
    RallyReplayed,
    RallyWon,
    SetStarted,
    WrongServerCalled,
)


def entry_id(counter: int, device_number: int = 0) -> str:
    """Return the id of a device's entry: shaped as a UUIDv7, the same every time."""
    return f"00000000-0000-7000-8{device_number:03x}-{counter:012x}"


def logged(*events: Event, device_number: int = 0) -> tuple[Entry, ...]:
    """Return the log of one device that wrote these events as they happened."""
    set_number = rally_number = 0
    entries = []
    for counter, event in enumerate(events):
        if isinstance(event, SetStarted):
            set_number, rally_number = set_number + 1, 1
        where = (0, 0) if isinstance(event, MatchOpened) else (set_number, rally_number)
        device = f"device-{device_number}"
        entries.append(Entry(entry_id(counter, device_number), device, counter, *where, event))
        rally_number += is_result(event)
    return tuple(entries)


def is_result(event: Event) -> bool:
    """Return whether an event ends its rally."""
    if isinstance(event, WrongServerCalled):
        return event.found == "at_service"
    return isinstance(event, (RallyWon, RallyReplayed))
