"""Clubs and their teams."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from sqlalchemy import insert, select
from sqlalchemy.exc import IntegrityError

from .tables import Club, Event, Match, Team, db


def exists(club_id: str) -> bool:
    return db.session.scalar(select(Club.id).where(Club.id == club_id)) is not None


def found(club_id: str, name: str, match_id: str, match_name: str, log: Sequence[Mapping[str, Any]]) -> None:
    """Add a club with a first match to try, unless somebody else has just added it."""
    try:
        db.session.execute(insert(Club).values(id=club_id, name=name))
    except IntegrityError:
        db.session.rollback()
        return
    match = {"id": match_id, "club_id": club_id, "name": match_name, "demo": True, "last_position": len(log)}
    db.session.execute(insert(Match).values(match))
    rows = [
        {"match_id": match_id, "club_id": club_id, "position": position, "id": event["id"], "body": event}
        for position, event in enumerate(log, 1)
    ]
    db.session.execute(insert(Event), rows)
    db.session.commit()


def signals(club_id: str, team: str) -> dict[str, Any] | None:
    """Return the code of a team's hands, None when it has none of its own."""
    return db.session.scalar(select(Team.signals).where(Team.club_id == club_id, Team.name == team))


def keep_signals(club_id: str, team: str, code: dict[str, Any]) -> None:
    """Give a team a code of its own."""
    db.session.merge(Team(club_id=club_id, name=team, signals=code))
    db.session.commit()
