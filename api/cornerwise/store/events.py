"""A match's log: appended to, read after a position."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from sqlalchemy import insert, select, update

from .tables import Event, Match, db, now


@dataclass(frozen=True, slots=True)
class Appended:
    """What became of a batch: positions by event id, and the ids for which there was no room.

    last_position : of the match afterwards
    """

    accepted: Mapping[str, int]
    known: Mapping[str, int]
    no_room: tuple[str, ...]
    last_position: int


def append(club_id: str, match_id: str, events: Iterable[Mapping[str, Any]], most: int) -> Appended | None:
    """Append events that the match does not have yet; return None when there is no such match.

    most : how many events a match may have

    The match's row is locked first, by writing to it, and until the commit. So positions become visible
    in their order and without gaps: who has read up to 7 will not miss a 6 that is committed later.
    """
    last = db.session.scalar(
        update(Match)
        .where(Match.id == match_id, Match.club_id == club_id, Match.deleted_at.is_(None))
        .values(last_position=Match.last_position)
        .returning(Match.last_position)
    )
    if last is None:
        db.session.rollback()
        return None
    once: dict[str, Mapping[str, Any]] = {}
    for event in events:
        once.setdefault(event["id"], event)  # of equal ids the first
    known = _positions(match_id, once)
    new = [event for event_id, event in once.items() if event_id not in known]
    room = max(most - last, 0)
    accepted = {event["id"]: position for position, event in enumerate(new[:room], last + 1)}
    if accepted:
        _write(club_id, match_id, new[:room], last)
    db.session.commit()
    return Appended(accepted, known, tuple(event["id"] for event in new[room:]), last + len(accepted))


def _positions(match_id: str, ids: Iterable[str]) -> dict[str, int]:
    rows = db.session.execute(
        select(Event.id, Event.position).where(Event.match_id == match_id, Event.id.in_(list(ids)))
    )
    return {row.id: row.position for row in rows}


def _write(club_id: str, match_id: str, events: list[Mapping[str, Any]], last: int) -> None:
    """Write events after position `last`, which the caller has locked."""
    common = {"match_id": match_id, "club_id": club_id, "received_at": now()}
    rows = [
        {**common, "position": position, "id": event["id"], "body": event}
        for position, event in enumerate(events, last + 1)
    ]
    db.session.execute(insert(Event), rows)
    db.session.execute(
        update(Match)
        .where(Match.id == match_id)
        .values(last_position=last + len(events), changed_at=common["received_at"])
    )


def after(
    club_id: str, match_id: str, position: int, limit: int | None = None
) -> list[tuple[int, dict[str, Any]]]:
    """Return the events of a match after a position, each with its own."""
    rows = db.session.execute(
        select(Event.position, Event.body)
        .where(Event.match_id == match_id, Event.club_id == club_id, Event.position > position)
        .order_by(Event.position)
        .limit(limit)
    )
    return [(at, body) for at, body in rows]


def id_at(club_id: str, match_id: str, position: int) -> str | None:
    """Return the id of the event at a position of a match, None if there is none."""
    which = (Event.match_id == match_id, Event.club_id == club_id, Event.position == position)
    return db.session.scalar(select(Event.id).where(*which))
