"""A club's opponents: listed, found, changed, removed; their formations."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from sqlalchemy import delete, func, insert, select, tuple_, update

from .roster_tables import Opponent, OpponentFormation
from .tables import db, now
from .writing import written


def add(club_id: str, opponent_id: str, values: Mapping[str, Any]) -> bool:
    """Add an opponent; return False when its name is taken."""
    return written(insert(Opponent).values(id=opponent_id, club_id=club_id, **values))


def change(club_id: str, opponent_id: str, values: Mapping[str, Any]) -> bool:
    """Change an opponent; return False when its new name is taken."""
    of = Opponent.id == opponent_id, Opponent.club_id == club_id
    return written(update(Opponent).where(*of).values(**values, changed_at=now()))


def find(club_id: str, opponent_id: str) -> Opponent | None:
    return db.session.scalar(select(Opponent).where(Opponent.id == opponent_id, Opponent.club_id == club_id))


def named(club_id: str, name: str) -> Opponent | None:
    return db.session.scalar(select(Opponent).where(Opponent.name == name, Opponent.club_id == club_id))


def page(club_id: str, after: str | None, limit: int) -> list[tuple[Opponent, int]]:
    """Return opponents by name, from the one after `after` on, each with its number of formations."""
    formations = (
        select(func.count())
        .where(OpponentFormation.opponent_id == Opponent.id)
        .correlate(Opponent)
        .scalar_subquery()
    )
    query = select(Opponent, formations).where(Opponent.club_id == club_id)
    if after is not None:
        of = select(Opponent.name, Opponent.id).where(Opponent.club_id == club_id, Opponent.id == after)
        query = query.where(tuple_(Opponent.name, Opponent.id) > of.scalar_subquery())
    rows = db.session.execute(query.order_by(Opponent.name, Opponent.id).limit(limit))
    return [(opponent, count) for opponent, count in rows]


def latest(club_id: str, limit: int) -> Sequence[Opponent]:
    """Return the opponents that were changed last."""
    query = select(Opponent).where(Opponent.club_id == club_id)
    return db.session.scalars(query.order_by(Opponent.changed_at.desc(), Opponent.id).limit(limit)).all()


def count(club_id: str) -> int:
    query = select(func.count()).select_from(Opponent).where(Opponent.club_id == club_id)
    return db.session.scalar(query) or 0


def formations(opponent_ids: Sequence[str]) -> Sequence[OpponentFormation]:
    """Return the formations of some opponents, by position of their setter."""
    order = OpponentFormation.opponent_id, OpponentFormation.setter_position
    query = select(OpponentFormation).where(OpponentFormation.opponent_id.in_(list(opponent_ids)))
    return db.session.scalars(query.order_by(*order)).all()


def put_formations(
    club_id: str, opponent_id: str, by_position: Mapping[int, Sequence[Mapping[str, Any]]]
) -> None:
    """Keep formations, in place of those that were there for the same positions of the setter."""
    if not by_position:
        return
    common = {"opponent_id": opponent_id, "club_id": club_id, "changed_at": now()}
    here = OpponentFormation.setter_position.in_(list(by_position))
    db.session.execute(delete(OpponentFormation).where(OpponentFormation.opponent_id == opponent_id, here))
    rows = [{**common, "setter_position": at, "players": players} for at, players in by_position.items()]
    db.session.execute(insert(OpponentFormation), rows)
    db.session.execute(update(Opponent).where(Opponent.id == opponent_id).values(changed_at=now()))
    db.session.commit()


def remove_formation(opponent_id: str, setter_position: int) -> None:
    of = OpponentFormation.opponent_id == opponent_id, OpponentFormation.setter_position == setter_position
    db.session.execute(delete(OpponentFormation).where(*of))
    db.session.commit()


def remove(club_id: str, opponent_id: str) -> None:
    """Delete an opponent with its formations."""
    db.session.execute(delete(OpponentFormation).where(OpponentFormation.opponent_id == opponent_id))
    db.session.execute(delete(Opponent).where(Opponent.id == opponent_id, Opponent.club_id == club_id))
    db.session.commit()
