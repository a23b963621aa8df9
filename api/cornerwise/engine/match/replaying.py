"""Replaying a log: at once, in parts, or carried on from a snapshot, with equal results."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import reduce

from cornerwise.engine.match.events import Entry, Retracted
from cornerwise.engine.match.fold import evolve
from cornerwise.engine.match.order import Heard, Key, game_key, game_order, happened, once_each, standing
from cornerwise.engine.match.profiles import RuleProfile
from cornerwise.engine.match.state import START, MatchState, with_contradiction


def replay(log: Iterable[Entry], profile: RuleProfile | None = None) -> MatchState:
    """Return the state of a match from its log.

    profile : goes before the one in the log; None leaves that one.
    """
    return snapshot(log, profile).state


@dataclass(frozen=True, slots=True)
class Snapshot:
    """A state that can be carried on.

    ids : of the entries it holds      reached : the last place in the match it has come to
    heard : what devices have logged before the serve of that rally
    """

    state: MatchState
    ids: frozenset[str]
    reached: Key
    heard: Heard


def start(profile: RuleProfile | None) -> MatchState:
    """Return the state before anything was logged."""
    return START if profile is None else START._replace(profile=profile, profile_fixed=True)


def snapshot(log: Iterable[Entry], profile: RuleProfile | None = None) -> Snapshot:
    """Return the snapshot of a whole log."""
    return folded(Snapshot(start(profile), frozenset(), (0, 0, 0), {}), once_each(log))


def carried_on(before: Snapshot, later: Sequence[Entry]) -> Snapshot | None:
    """Return the snapshot after further entries, equal to that of the whole log.

    None when one of them belongs into what the snapshot holds: an earlier rally, or a retraction of
    something in it or of nothing at all. Then the log has to be replayed from its start.
    """
    new = [entry for entry in once_each(later) if entry.id not in before.ids]
    kept = standing(new)
    if retractions_of_nothing(new, kept) or any(game_key(entry) < before.reached for entry in played(kept)):
        return None
    return folded(before, new)


def played(kept: Iterable[Entry]) -> list[Entry]:
    """Return what stands, in game order, without the retractions."""
    return game_order(entry for entry in kept if not isinstance(entry.event, Retracted))


def folded(before: Snapshot, new: list[Entry]) -> Snapshot:
    """Return a snapshot with new entries folded in, none of which refers into it."""
    kept = standing(new)
    state = before.state
    for entry in retractions_of_nothing(new, kept):
        state = with_contradiction(state, entry, "unknown_event", seen=event_id_of(entry))
    entries, heard = happened(played(kept), before.heard)
    state = reduce(evolve, entries, state)
    reached = max([before.reached, *map(game_key, entries[-1:])])
    latest = {happening: heard[happening] for happening in heard if happening[:2] == reached[:2]}
    return Snapshot(state, before.ids | {entry.id for entry in new}, reached, latest)


def retractions_of_nothing(log: list[Entry], kept: list[Entry]) -> list[Entry]:
    """Return the standing retractions that find nothing before them in a log."""
    positions = {entry.id: position for position, entry in enumerate(log)}
    return [
        entry
        for entry in kept
        if isinstance(entry.event, Retracted)
        and positions.get(entry.event.event_id, len(log)) >= positions[entry.id]
    ]


def event_id_of(entry: Entry) -> str | None:
    """Return the id that a retraction names."""
    return entry.event.event_id if isinstance(entry.event, Retracted) else None
