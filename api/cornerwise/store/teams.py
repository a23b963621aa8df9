"""A club's teams: listed, found, changed, removed; their players with their serves."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from sqlalchemy import delete, func, insert, or_, select, tuple_, update
from sqlalchemy.exc import IntegrityError

from .roster_tables import Player, Serve, ServingSubstitute, Team
from .tables import Hands, db, now
from .writing import written

Values = Mapping[str, Any]


def add(club_id: str, team_id: str, values: Values) -> bool:
    """Add a team; return False when its name is taken."""
    return written(insert(Team).values(id=team_id, club_id=club_id, **values))


def change(club_id: str, team_id: str, values: Values) -> bool:
    """Change a team; return False when its new name is taken. The code of its hands goes with the name."""
    of = Team.id == team_id, Team.club_id == club_id
    before = db.session.scalar(select(Team.name).where(*of))
    if "name" in values and values["name"] != before:
        _rename_hands(club_id, before, values["name"])
    return written(update(Team).where(*of).values(**values, changed_at=now()))


def _rename_hands(club_id: str, before: str | None, name: str) -> None:
    """Move the code of a team's hands to its new name, unless that has one of its own."""
    there = select(Hands.name).where(Hands.club_id == club_id, Hands.name == name)
    if db.session.scalar(there) is None:
        of = Hands.club_id == club_id, Hands.name == before
        db.session.execute(update(Hands).where(*of).values(name=name))


def find(club_id: str, team_id: str) -> Team | None:
    return db.session.scalar(select(Team).where(Team.id == team_id, Team.club_id == club_id))


def named(club_id: str, name: str) -> Team | None:
    return db.session.scalar(select(Team).where(Team.name == name, Team.club_id == club_id))


def page(club_id: str, after: str | None, limit: int) -> list[tuple[Team, int]]:
    """Return teams by name, from the one after `after` on, each with its number of players."""
    players = select(func.count()).where(Player.team_id == Team.id).correlate(Team).scalar_subquery()
    query = select(Team, players).where(Team.club_id == club_id)
    if after is not None:
        of = select(Team.name, Team.id).where(Team.club_id == club_id, Team.id == after)
        query = query.where(tuple_(Team.name, Team.id) > of.scalar_subquery())
    rows = db.session.execute(query.order_by(Team.name, Team.id).limit(limit))
    return [(team, count) for team, count in rows]


def count(club_id: str) -> int:
    return db.session.scalar(select(func.count()).select_from(Team).where(Team.club_id == club_id)) or 0


def remove(club_id: str, team_id: str) -> int:
    """Delete a team with its players; return how many they were."""
    players = db.session.scalars(select(Player.id).where(*_of(club_id, team_id))).all()
    _remove_players(players)
    db.session.execute(delete(Team).where(Team.id == team_id, Team.club_id == club_id))
    db.session.commit()
    return len(players)


def _of(club_id: str, team_id: str) -> tuple[Any, Any]:
    return Player.team_id == team_id, Player.club_id == club_id


def players(club_id: str, team_id: str) -> Sequence[Player]:
    """Return a team's players by number."""
    return db.session.scalars(select(Player).where(*_of(club_id, team_id)).order_by(Player.number)).all()


def player(club_id: str, team_id: str, player_id: str) -> Player | None:
    return db.session.scalar(select(Player).where(Player.id == player_id, *_of(club_id, team_id)))


def serves(player_ids: Iterable[str]) -> Sequence[Serve]:
    """Return the serves of some players, each player's in their order."""
    query = select(Serve).where(Serve.player_id.in_(list(player_ids)))
    return db.session.scalars(query.order_by(Serve.player_id, Serve.place)).all()


def substitutes(player_ids: Iterable[str]) -> list[tuple[str, str]]:
    """Return who of some players may come in to serve, and for whom."""
    query = select(ServingSubstitute.player_id, ServingSubstitute.for_player_id)
    rows = db.session.execute(query.where(ServingSubstitute.player_id.in_(list(player_ids))))
    return [(enters, leaves) for enters, leaves in rows]


def put_players(club_id: str, team_id: str, written: Iterable[Values]) -> bool:
    """Add or change players, all or none; return False when a number is taken.

    written : for each her id, `values` of her own row, `serves` and `comes_in_for` (ids of players) where
        they are to be replaced, and whether she is `new`
    """
    everyone = list(written)
    try:
        for one in everyone:
            _put_row(club_id, team_id, one)
        for one in everyone:
            _put_serves(club_id, one)
            _put_substitute(club_id, one)
        db.session.execute(update(Team).where(Team.id == team_id).values(changed_at=now()))
    except IntegrityError:
        db.session.rollback()
        return False
    db.session.commit()
    return True


def _put_row(club_id: str, team_id: str, one: Values) -> None:
    if one["new"]:
        row = {"id": one["id"], "club_id": club_id, "team_id": team_id, **one["values"]}
        db.session.execute(insert(Player).values(row))
    elif one["values"]:
        of = Player.id == one["id"], *_of(club_id, team_id)
        db.session.execute(update(Player).where(*of).values(**one["values"]))


def _put_serves(club_id: str, one: Values) -> None:
    if one.get("serves") is None:
        return
    db.session.execute(delete(Serve).where(Serve.player_id == one["id"]))
    common = {"player_id": one["id"], "club_id": club_id}
    rows = [{**common, "place": place, **serve} for place, serve in enumerate(one["serves"])]
    if rows:
        db.session.execute(insert(Serve), rows)


def _put_substitute(club_id: str, one: Values) -> None:
    if one.get("comes_in_for") is None:
        return
    db.session.execute(delete(ServingSubstitute).where(ServingSubstitute.player_id == one["id"]))
    rows = [
        {"player_id": one["id"], "for_player_id": other, "club_id": club_id} for other in one["comes_in_for"]
    ]
    if rows:
        db.session.execute(insert(ServingSubstitute), rows)


def remove_player(club_id: str, team_id: str, player_id: str) -> None:
    """Delete a player with her serves, and wherever she stands as a substitute.

    Her team has changed by it, so that every device which keeps it fetches it anew.
    """
    _remove_players([player_id])
    db.session.execute(
        update(Team).where(Team.id == team_id, Team.club_id == club_id).values(changed_at=now())
    )
    db.session.commit()


def _remove_players(player_ids: Sequence[str]) -> None:
    pairs = ServingSubstitute
    either = or_(pairs.player_id.in_(player_ids), pairs.for_player_id.in_(player_ids))
    db.session.execute(delete(pairs).where(either))
    db.session.execute(delete(Serve).where(Serve.player_id.in_(player_ids)))
    db.session.execute(delete(Player).where(Player.id.in_(player_ids)))
