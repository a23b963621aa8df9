"""The tables of our own teams and of the opponents."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from sqlalchemy import JSON, ForeignKey, Index, String, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from .tables import ID, LONGEST_NAME, Utc, db, now

LONGEST_NOTES = 2000  # characters; chosen
WORD = String(30)  # the longest of our closed sets of names is shorter
JSON_OR_NULL = JSON(none_as_null=True)


class Team(db.Model):
    """One of a club's teams.

    lineup : six shirt numbers as the team usually starts, positions 1 to 6, None where not known
    """

    __tablename__ = "team"
    __table_args__ = (UniqueConstraint("club_id", "name"),)  # also the order of their list

    id: Mapped[str] = mapped_column(ID, primary_key=True)
    club_id: Mapped[str] = mapped_column(ID, ForeignKey("club.id"))
    name: Mapped[str] = mapped_column(String(LONGEST_NAME))
    level: Mapped[str | None] = mapped_column(WORD)
    lineup: Mapped[list[int | None] | None] = mapped_column(JSON_OR_NULL)
    created_at: Mapped[datetime] = mapped_column(Utc, default=now)
    changed_at: Mapped[datetime] = mapped_column(Utc, default=now)


class Player(db.Model):
    """A player of a team, known by her number; a name is optional."""

    __tablename__ = "player"
    __table_args__ = (UniqueConstraint("team_id", "number"), Index(None, "club_id"))

    id: Mapped[str] = mapped_column(ID, primary_key=True)
    club_id: Mapped[str] = mapped_column(ID, ForeignKey("club.id"))
    team_id: Mapped[str] = mapped_column(ID, ForeignKey("team.id"))
    number: Mapped[int] = mapped_column()
    name: Mapped[str | None] = mapped_column(String(LONGEST_NAME))
    role: Mapped[str | None] = mapped_column(WORD)
    handedness: Mapped[str | None] = mapped_column(WORD)
    reach_m: Mapped[float | None] = mapped_column()


class Serve(db.Model):
    """One kind of serve of one player.

    place : 0, 1, 2, ... in the order in which she would name them
    speeds_m_s : her paces, the usual one alone if there is one; None: the stock server's
    spots : names of those she can use; None: all
    level : whose stock scatter hers is like; None: her team's
    scatter : {across_m, along_m, serves} as it was measured
    next_job : 1, 5 or 6, where she defends after it
    """

    __tablename__ = "serve"
    __table_args__ = (Index(None, "club_id"),)

    player_id: Mapped[str] = mapped_column(ID, ForeignKey("player.id"), primary_key=True)
    kind: Mapped[str] = mapped_column(WORD, primary_key=True)
    club_id: Mapped[str] = mapped_column(ID, ForeignKey("club.id"))
    place: Mapped[int] = mapped_column()
    speeds_m_s: Mapped[list[float] | None] = mapped_column(JSON_OR_NULL)
    spots: Mapped[list[str] | None] = mapped_column(JSON_OR_NULL)
    level: Mapped[str | None] = mapped_column(WORD)
    scatter: Mapped[dict[str, Any] | None] = mapped_column(JSON_OR_NULL)
    error_ceiling: Mapped[float | None] = mapped_column()
    next_job: Mapped[int | None] = mapped_column()


class ServingSubstitute(db.Model):
    """A player who may come in to serve, and for whom."""

    __tablename__ = "serving_substitute"
    __table_args__ = (Index(None, "club_id"), Index(None, "for_player_id"))

    player_id: Mapped[str] = mapped_column(ID, ForeignKey("player.id"), primary_key=True)
    for_player_id: Mapped[str] = mapped_column(ID, ForeignKey("player.id"), primary_key=True)
    club_id: Mapped[str] = mapped_column(ID, ForeignKey("club.id"))


class Opponent(db.Model):
    """An opponent, as far as it is known; players by their shirt numbers only.

    lineup : six numbers at the start of a set, positions 1 to 6; with it, in their order of rotation
    setter_position : where the first setter stands at the start of a set
    ratings : of passers, {number, rating} or {number, pass_grade, passes}
    """

    __tablename__ = "opponent"
    __table_args__ = (UniqueConstraint("club_id", "name"),)

    id: Mapped[str] = mapped_column(ID, primary_key=True)
    club_id: Mapped[str] = mapped_column(ID, ForeignKey("club.id"))
    name: Mapped[str] = mapped_column(String(LONGEST_NAME))
    level: Mapped[str | None] = mapped_column(WORD)
    lineup: Mapped[list[int | None] | None] = mapped_column(JSON_OR_NULL)
    setters: Mapped[list[int]] = mapped_column(JSON, default=list)
    setter_position: Mapped[int | None] = mapped_column()
    system: Mapped[str] = mapped_column(WORD, default="one_setter")
    liberos: Mapped[list[int]] = mapped_column(JSON, default=list)
    pass_target: Mapped[dict[str, float] | None] = mapped_column(JSON_OR_NULL)
    setter_faces: Mapped[str | None] = mapped_column(WORD)
    ratings: Mapped[list[dict[str, Any]]] = mapped_column(JSON, default=list)
    notes: Mapped[str | None] = mapped_column(String(LONGEST_NOTES))
    created_at: Mapped[datetime] = mapped_column(Utc, default=now)
    changed_at: Mapped[datetime] = mapped_column(Utc, default=now)


class OpponentFormation(db.Model):
    """Where an opponent's six stand to receive, for one position of their first setter.

    players : six of {position, x_m, y_m, passes, number}
    """

    __tablename__ = "opponent_formation"
    __table_args__ = (Index(None, "club_id"),)

    opponent_id: Mapped[str] = mapped_column(ID, ForeignKey("opponent.id"), primary_key=True)
    setter_position: Mapped[int] = mapped_column(primary_key=True)
    club_id: Mapped[str] = mapped_column(ID, ForeignKey("club.id"))
    players: Mapped[list[dict[str, Any]]] = mapped_column(JSON)
    changed_at: Mapped[datetime] = mapped_column(Utc, default=now)
