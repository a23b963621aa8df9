"""What the logs fold to. The latest fold of each match is kept and carried on with what is new; when
something new refers back into it, the log is folded again from its start."""

from __future__ import annotations

from collections import OrderedDict
from threading import Lock
from typing import Any, NamedTuple

from cornerwise.engine.match import carried_on, parse_entry, snapshot
from cornerwise.engine.match.events import Entry
from cornerwise.engine.match.replaying import Snapshot
from cornerwise.engine.match.state import MatchState
from cornerwise.store import events as store

MOST_KEPT = 64  # chosen: matches going on at once in one process, at some 2 MB each


class Fold(NamedTuple):
    """A log folded up to a position."""

    position: int
    snapshot: Snapshot

    @property
    def state(self) -> MatchState:
        return self.snapshot.state


NOTHING = Fold(0, snapshot(()))
_kept: OrderedDict[tuple[str, str], Fold] = OrderedDict()
_lock = Lock()


def fold(club: str, match_id: str) -> Fold:
    """Return the fold of everything a match's log holds; nothing for a match of another club."""
    of = (club, match_id)
    with _lock:
        before = _kept.get(of, NOTHING)
    new = store.after(club, match_id, before.position)
    if not new:
        return before
    later = carried_on(before.snapshot, entries(new))
    if later is None:
        new = store.after(club, match_id, 0)
        later = snapshot(entries(new))
    after = Fold(new[-1][0], later) if new else NOTHING  # nothing: it was deleted just now
    _keep(of, after)
    return after


def entries(rows: list[tuple[int, dict[str, Any]]]) -> list[Entry]:
    return [parse_entry(body) for _, body in rows]


def _keep(of: tuple[str, str], after: Fold) -> None:
    with _lock:
        if _kept.get(of, NOTHING).position <= after.position:
            _kept[of] = after
        _kept.move_to_end(of)
        while len(_kept) > MOST_KEPT:
            _kept.popitem(last=False)


def forget(club: str) -> None:
    """Keep nothing of a club any more."""
    with _lock:
        for of in [of for of in _kept if of[0] == club]:
            del _kept[of]
