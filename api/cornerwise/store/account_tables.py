"""The tables of who may use a club's things: people, their devices, and what lets a device in.

Of every secret only the SHA-256 is kept: whoever reads the database cannot sign in with it. A secret column
is marked, and stays out of exports.
"""

from __future__ import annotations

from datetime import datetime
from typing import Any

from sqlalchemy import JSON, ForeignKey, Index, String, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from .tables import ID, LONGEST_NAME, Utc, db, now

SECRET: dict[str, Any] = {"secret": True}
SHA256 = String(64)  # hexadecimal
ROLE = String(20)


class Person(db.Model):
    """Somebody who signs in by name and password, or by a link.

    login : the name as it is compared, the same once on a server
    """

    __tablename__ = "person"
    __table_args__ = (UniqueConstraint("login"), Index(None, "club_id"))

    id: Mapped[str] = mapped_column(ID, primary_key=True)
    club_id: Mapped[str] = mapped_column(ID, ForeignKey("club.id"))
    name: Mapped[str] = mapped_column(String(LONGEST_NAME))
    login: Mapped[str] = mapped_column(String(4 * LONGEST_NAME))  # folding may make a name longer
    role: Mapped[str] = mapped_column(ROLE)
    password_hash: Mapped[str | None] = mapped_column(String(200), info=SECRET)
    created_at: Mapped[datetime] = mapped_column(Utc, default=now)


class Device(db.Model):
    """A device that is signed in, or joined by a code; one row is one session.

    person_id : who signed in on it; None for a device that joined by a code
    joined_by : who made that code
    match_id : the one match it may see, if not None
    team : without a match the one team whose call it may see; with one our team that plays it, for its roster
    revoked_at : since then nothing is answered, and what it sends is held
    """

    __tablename__ = "device"
    __table_args__ = (UniqueConstraint("token_hash"), Index(None, "club_id", "created_at"))

    id: Mapped[str] = mapped_column(ID, primary_key=True)
    club_id: Mapped[str] = mapped_column(ID, ForeignKey("club.id"))
    person_id: Mapped[str | None] = mapped_column(ID, ForeignKey("person.id"))
    joined_by: Mapped[str | None] = mapped_column(ID, ForeignKey("person.id"))
    label: Mapped[str] = mapped_column(String(LONGEST_NAME))
    role: Mapped[str] = mapped_column(ROLE)
    team: Mapped[str | None] = mapped_column(String(LONGEST_NAME))
    match_id: Mapped[str | None] = mapped_column(ID)
    by_link: Mapped[bool] = mapped_column(default=False)
    token_hash: Mapped[str] = mapped_column(SHA256, info=SECRET)
    created_at: Mapped[datetime] = mapped_column(Utc, default=now)
    seen_at: Mapped[datetime] = mapped_column(Utc, default=now)
    expires_at: Mapped[datetime] = mapped_column(Utc)
    revoked_at: Mapped[datetime | None] = mapped_column(Utc)


class ApiToken(db.Model):
    """What a script signs in with. Revoked, it is gone."""

    __tablename__ = "api_token"
    __table_args__ = (UniqueConstraint("token_hash"), Index(None, "club_id"))

    id: Mapped[str] = mapped_column(ID, primary_key=True)
    club_id: Mapped[str] = mapped_column(ID, ForeignKey("club.id"))
    made_by: Mapped[str | None] = mapped_column(ID, ForeignKey("person.id"))
    label: Mapped[str] = mapped_column(String(LONGEST_NAME))
    role: Mapped[str] = mapped_column(ROLE)
    token_hash: Mapped[str] = mapped_column(SHA256, info=SECRET)
    created_at: Mapped[datetime] = mapped_column(Utc, default=now)
    seen_at: Mapped[datetime | None] = mapped_column(Utc)


class JoinCode(db.Model):
    """A code that lets one device in, once, for some minutes."""

    __tablename__ = "join_code"

    code_hash: Mapped[str] = mapped_column(SHA256, primary_key=True, info=SECRET)
    club_id: Mapped[str] = mapped_column(ID, ForeignKey("club.id"))
    made_by: Mapped[str | None] = mapped_column(ID, ForeignKey("person.id"))
    role: Mapped[str] = mapped_column(ROLE)
    team: Mapped[str | None] = mapped_column(String(LONGEST_NAME))
    match_id: Mapped[str | None] = mapped_column(ID)
    expires_at: Mapped[datetime] = mapped_column(Utc)


class SignInLink(db.Model):
    """An address that signs a person in, once."""

    __tablename__ = "sign_in_link"

    token_hash: Mapped[str] = mapped_column(SHA256, primary_key=True, info=SECRET)
    club_id: Mapped[str] = mapped_column(ID, ForeignKey("club.id"))
    person_id: Mapped[str] = mapped_column(ID, ForeignKey("person.id"))
    expires_at: Mapped[datetime] = mapped_column(Utc)


class HeldEvent(db.Model):
    """An event that a revoked device sent, until the coach accepts or discards it.

    match_id : as the device named it; the match need not be there
    """

    __tablename__ = "held_event"
    __table_args__ = (Index(None, "club_id", "match_id"),)

    device_id: Mapped[str] = mapped_column(ID, ForeignKey("device.id"), primary_key=True)
    match_id: Mapped[str] = mapped_column(ID, primary_key=True)
    id: Mapped[str] = mapped_column(ID, primary_key=True)
    club_id: Mapped[str] = mapped_column(ID, ForeignKey("club.id"))
    number: Mapped[int] = mapped_column()  # in which order they came
    size_bytes: Mapped[int] = mapped_column()
    received_at: Mapped[datetime] = mapped_column(Utc, default=now)
    body: Mapped[dict[str, Any]] = mapped_column(JSON)
