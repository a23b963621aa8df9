"""Matches: begun, found, listed, renamed, deleted, and what their logs came to."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from sqlalchemy import delete, func, insert, select, tuple_, update
from sqlalchemy.exc import IntegrityError

from .tables import Event, Match, db, now


def begin(club_id: str, match_id: str, name: str | None) -> bool:
    """Add a match; return False when its id is taken already."""
    try:
        db.session.execute(insert(Match).values(id=match_id, club_id=club_id, name=name))
    except IntegrityError:
        db.session.rollback()
        return False
    db.session.commit()
    return True


def find(club_id: str, match_id: str) -> Match | None:
    """Return a match of a club, also one that was deleted."""
    return db.session.scalar(select(Match).where(Match.id == match_id, Match.club_id == club_id))


def page(club_id: str, before: str | None, limit: int) -> Sequence[Match]:
    """Return matches, newest first, from the one after `before` on."""
    order = tuple_(Match.created_at, Match.id)
    query = select(Match).where(Match.club_id == club_id, Match.deleted_at.is_(None))
    if before is not None:
        of = select(Match.created_at, Match.id).where(Match.club_id == club_id, Match.id == before)
        query = query.where(order < of.scalar_subquery())
    query = query.order_by(Match.created_at.desc(), Match.id.desc())
    return db.session.scalars(query.limit(limit)).all()


def names(club_id: str) -> Sequence[tuple[str, str | None]]:
    """Return the id and name of every match of a club, newest first."""
    query = select(Match.id, Match.name).where(Match.club_id == club_id, Match.deleted_at.is_(None))
    return [(row.id, row.name) for row in db.session.execute(query.order_by(Match.created_at.desc()))]


def behind(club_id: str) -> Sequence[Match]:
    """Return the matches whose log has grown since it was summed up."""
    return db.session.scalars(
        select(Match).where(
            Match.club_id == club_id,
            Match.deleted_at.is_(None),
            Match.summary_position < Match.last_position,
        )
    ).all()


def last_against_each(club_id: str, limit: int) -> Sequence[Match]:
    """Return the latest match against each opponent with a name, the latest of all first."""
    newest_first = (Match.created_at.desc(), Match.id.desc())
    rank = func.row_number().over(partition_by=Match.them, order_by=newest_first)
    ranked = (
        select(Match.id, rank.label("rank"))
        .where(Match.club_id == club_id, Match.deleted_at.is_(None), Match.them.is_not(None))
        .subquery()
    )
    query = select(Match).join(ranked, Match.id == ranked.c.id).where(ranked.c.rank == 1)
    return db.session.scalars(query.order_by(*newest_first).limit(limit)).all()


def rename(match: Match, name: str | None) -> None:
    match.name = name
    match.changed_at = now()
    db.session.commit()


def sum_up(
    match_id: str, position: int, us: str | None, them: str | None, summary: Mapping[str, Any]
) -> None:
    """Keep what a log says up to a position, unless more of it has been summed up already."""
    db.session.execute(
        update(Match)
        .where(Match.id == match_id, Match.deleted_at.is_(None), Match.summary_position < position)
        .values(us=us, them=them, summary=summary, summary_position=position)
    )
    db.session.commit()


def remove(match_id: str) -> int:
    """Delete all that a match held; return how many events that were. Its empty row stays."""
    db.session.execute(
        update(Match)
        .where(Match.id == match_id)
        .values(deleted_at=now(), name=None, us=None, them=None, summary=None, last_position=0)
    )
    removed = db.session.execute(delete(Event).where(Event.match_id == match_id)).rowcount
    db.session.commit()
    return int(removed)
