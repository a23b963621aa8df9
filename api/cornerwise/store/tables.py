"""The tables."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Any

from flask_sqlalchemy import SQLAlchemy
from sqlalchemy import (
    JSON,
    DateTime,
    Dialect,
    ForeignKey,
    Index,
    MetaData,
    String,
    TypeDecorator,
    UniqueConstraint,
    Uuid,
)
from sqlalchemy.orm import DeclarativeBase, Mapped, mapped_column

LONGEST_NAME = 100  # characters; chosen


class Base(DeclarativeBase):
    metadata = MetaData(
        naming_convention={  # so that a migration can name what it changes
            "ix": "ix_%(table_name)s_%(column_0_N_name)s",
            "uq": "uq_%(table_name)s_%(column_0_N_name)s",
            "fk": "fk_%(table_name)s_%(column_0_N_name)s",
            "pk": "pk_%(table_name)s",
        }
    )


db = SQLAlchemy(model_class=Base)


class Utc(TypeDecorator[datetime]):
    """A moment, in UTC also where the database knows no time zones."""

    impl = DateTime(timezone=True)
    cache_ok = True

    def process_bind_param(self, value: datetime | None, dialect: Dialect) -> datetime | None:
        return None if value is None else value.astimezone(UTC)

    def process_result_value(self, value: datetime | None, dialect: Dialect) -> datetime | None:
        if value is None or value.tzinfo is not None:
            return value
        return value.replace(tzinfo=UTC)


def now() -> datetime:
    return datetime.now(UTC)


ID = Uuid(as_uuid=False)


class Club(db.Model):
    """Who owns what is kept."""

    __tablename__ = "club"

    id: Mapped[str] = mapped_column(ID, primary_key=True)
    name: Mapped[str] = mapped_column(String(LONGEST_NAME))
    created_at: Mapped[datetime] = mapped_column(Utc, default=now)


class Hands(db.Model):
    """The code of a team's hands, by the team's name as typed in matches ("" for none)."""

    __tablename__ = "hands"

    club_id: Mapped[str] = mapped_column(ID, ForeignKey("club.id"), primary_key=True)
    name: Mapped[str] = mapped_column(String(LONGEST_NAME), primary_key=True)
    signals: Mapped[dict[str, Any]] = mapped_column(JSON)


class Match(db.Model):
    """A match. Of a deleted one the row stays, empty, so that no phone brings it back by sending its log.

    last_position : of its newest event, 0 without events
    us, them, summary : what the log said up to summary_position; caught up when it is asked for
    """

    __tablename__ = "match"
    __table_args__ = (Index(None, "club_id", "created_at", "id"),)

    id: Mapped[str] = mapped_column(ID, primary_key=True)
    club_id: Mapped[str] = mapped_column(ID, ForeignKey("club.id"))
    name: Mapped[str | None] = mapped_column(String(LONGEST_NAME))
    demo: Mapped[bool] = mapped_column(default=False)
    created_at: Mapped[datetime] = mapped_column(Utc, default=now)
    changed_at: Mapped[datetime] = mapped_column(Utc, default=now)
    deleted_at: Mapped[datetime | None] = mapped_column(Utc)
    last_position: Mapped[int] = mapped_column(default=0)
    us: Mapped[str | None] = mapped_column(String(LONGEST_NAME))
    them: Mapped[str | None] = mapped_column(String(LONGEST_NAME))
    summary: Mapped[dict[str, Any] | None] = mapped_column(JSON(none_as_null=True))
    summary_position: Mapped[int] = mapped_column(default=-1)


class Event(db.Model):
    """One event of a match's log, as a device wrote it. Never changed.

    position : 1, 2, 3, ... in the order in which the server took them
    """

    __tablename__ = "event"
    __table_args__ = (UniqueConstraint("match_id", "id"),)

    match_id: Mapped[str] = mapped_column(ID, ForeignKey("match.id"), primary_key=True)
    position: Mapped[int] = mapped_column(primary_key=True)
    id: Mapped[str] = mapped_column(ID)
    club_id: Mapped[str] = mapped_column(ID, ForeignKey("club.id"))
    received_at: Mapped[datetime] = mapped_column(Utc, default=now)
    body: Mapped[dict[str, Any]] = mapped_column(JSON)
