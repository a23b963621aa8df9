"""Clubs and their teams; all that a club has, for its export and its deletion."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from sqlalchemy import Table, delete, func, insert, select, update
from sqlalchemy.exc import IntegrityError

from .account_tables import Person
from .tables import Club, Event, Hands, Match, db

AT_A_TIME = 500  # rows of an export


def matches(club_id: str) -> int:
    """Return how many matches a club has, without the empty rows of those that were deleted."""
    query = select(func.count()).where(Match.club_id == club_id, Match.deleted_at.is_(None))
    return db.session.scalar(query) or 0


def any_club() -> bool:
    return db.session.scalar(select(Club.id).limit(1)) is not None


def clubs() -> list[tuple[Club, int]]:
    """Return all clubs by name, each with its number of matches."""
    rows = db.session.scalars(select(Club).order_by(Club.name, Club.id)).all()
    return [(club, matches(club.id)) for club in rows]


def find(club_id: str) -> Club | None:
    return db.session.get(Club, club_id)


def rename(club_id: str, name: str) -> None:
    db.session.execute(update(Club).where(Club.id == club_id).values(name=name))
    db.session.commit()


def found(
    club_id: str, name: str, coach: Person, match: Mapping[str, Any], log: Sequence[Mapping[str, Any]]
) -> bool:
    """Add a club with its coach and a match to try; return False when it is there, or her name is taken."""
    try:
        db.session.execute(insert(Club).values(id=club_id, name=name))
        db.session.execute(insert(Match).values(club_id=club_id, demo=True, last_position=len(log), **match))
        rows = [
            {"match_id": match["id"], "club_id": club_id, "position": at, "id": event["id"], "body": event}
            for at, event in enumerate(log, 1)
        ]
        db.session.execute(insert(Event), rows)
        db.session.add(coach)
        db.session.commit()
    except IntegrityError:
        db.session.rollback()
        return False
    return True


def signals(club_id: str, team: str) -> dict[str, Any] | None:
    """Return the code of a team's hands, None when it has none of its own."""
    return db.session.scalar(select(Hands.signals).where(Hands.club_id == club_id, Hands.name == team))


def keep_signals(club_id: str, team: str, code: dict[str, Any]) -> None:
    """Give a team a code of its own."""
    db.session.merge(Hands(club_id=club_id, name=team, signals=code))
    db.session.commit()


def tables_of_a_club() -> list[Table]:
    """Return the tables with a club's rows, those that others point to first."""
    return [table for table in db.metadata.sorted_tables if "club_id" in table.c]


def sizes(club_id: str) -> dict[str, int]:
    """Return how many rows each table has of a club."""
    return {
        table.name: db.session.scalar(
            select(func.count()).select_from(table).where(table.c.club_id == club_id)
        )
        for table in tables_of_a_club()
    }


def everything(club_id: str) -> Iterator[tuple[str, Iterator[dict[str, Any]]]]:
    """Yield each table's name with a club's rows in it, its secrets left out."""
    for table in tables_of_a_club():
        columns = [c for c in table.c if not c.info.get("secret") and c.name != "club_id"]
        order = [c for c in table.primary_key.columns if c.name != "club_id"]
        query = select(*columns).where(table.c.club_id == club_id).order_by(*order)
        yield table.name, (dict(row._mapping) for row in _streamed(query))


def _streamed(query: Any) -> Iterator[Any]:
    yield from db.session.execute(query, execution_options={"yield_per": AT_A_TIME})


def remove(club_id: str) -> None:
    """Delete a club with all it has."""
    for table in reversed(tables_of_a_club()):
        db.session.execute(delete(table).where(table.c.club_id == club_id))
    db.session.execute(delete(Club).where(Club.id == club_id))
    db.session.commit()
