"""From a log to what is folded: each entry once, what was retracted dropped, the rest in game order.

A log is what every device wrote, in the order the server accepted it. A correction of rally 12 that
was logged in rally 14 counts in rally 12. A time-out that two devices logged was one time-out.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import TypeAlias

from cornerwise.engine.match.events import (
    CallShown,
    Entry,
    Event,
    Forfeited,
    MatchAbandoned,
    MatchEnded,
    MatchOpened,
    PassGraded,
    RallyReplayed,
    RallyWon,
    ReceptionFormationSeen,
    Retracted,
    ServeNoted,
    ServerSeen,
    SetEnded,
    SetStarted,
    WrongServerCalled,
)

Key: TypeAlias = tuple[int, int, int]
"""Where an entry belongs: set, rally, phase.

Phases: 0 opening, 1 before the serve, 2 in the rally, 3 its result, 4 after it.
"""
Happening: TypeAlias = tuple[int, int, Event]
"""An event before the serve, by set and rally."""
Heard: TypeAlias = Mapping[Happening, Mapping[str, int]]
"""How often each device has logged it."""


def phase(entry: Entry) -> int:
    """Return when in its rally an entry counts."""
    match entry.event:
        case MatchOpened() | SetStarted():
            return 0
        case CallShown() | ServerSeen() | ReceptionFormationSeen() | PassGraded() | ServeNoted():
            return 2
        case RallyWon() | RallyReplayed() | WrongServerCalled(found="at_service"):
            return 3
        case SetEnded() | MatchEnded() | MatchAbandoned() | Forfeited():
            return 4
        case _:
            return 1


def game_key(entry: Entry) -> Key:
    """Return where in the match an entry belongs."""
    match entry.event:
        case MatchOpened():
            return (0, 0, 0)
        case SetStarted():
            return (entry.set_number, 0, 0)
        case _:
            return (entry.set_number, entry.rally_number, phase(entry))


def game_order(entries: Iterable[Entry]) -> list[Entry]:
    """Return entries in the order of the match; equals keep the order of the log."""
    return sorted(entries, key=game_key)


def once_each(log: Iterable[Entry]) -> list[Entry]:
    """Return a log without repeated ids: of several entries with one id the first counts."""
    first: dict[str, Entry] = {}
    for entry in log:
        first.setdefault(entry.id, entry)
    return list(first.values())


def standing(log: Iterable[Entry]) -> list[Entry]:
    """Return what stands of a log, in its order, retractions included that stand themselves.

    A retraction works on earlier entries only; a retraction that was retracted does not work.
    """
    retracted: set[str] = set()
    kept = []
    for entry in reversed(once_each(log)):
        if entry.id in retracted:
            continue
        kept.append(entry)
        if isinstance(entry.event, Retracted):
            retracted.add(entry.event.event_id)
    return kept[::-1]


def happened(entries: Iterable[Entry], heard: Heard) -> tuple[list[Entry], Heard]:
    """Return entries in game order without what another device had logged alike, and all that was heard.

    Of equal events before the serve of one rally as many count as the device logged that logged most.
    heard : what was heard before of the rally in which the entries begin
    """
    counts = {happening: dict(devices) for happening, devices in heard.items()}
    kept = []
    for entry in entries:
        if phase(entry) == 1:
            devices = counts.setdefault((entry.set_number, entry.rally_number, entry.event), {})
            counted = max(devices.values(), default=0)
            devices[entry.device] = devices.get(entry.device, 0) + 1
            if devices[entry.device] <= counted:
                continue
        kept.append(entry)
    return kept, counts
