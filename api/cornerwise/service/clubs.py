"""Clubs: the one that a new machine begins with, those that a host adds, and all that a club has."""

from __future__ import annotations

import json
from collections.abc import Iterator
from functools import cache
from typing import Any

from cornerwise.store import accounts as account_store
from cornerwise.store import clubs as store
from cornerwise.store.account_tables import Person
from cornerwise.store.erase import erase
from cornerwise.store.tables import Club, now

from . import demo, demo_club, folds
from .accounts import login, new_link
from .errors import LoginTaken, NoSuchClub
from .ids import new_id

LOCAL_CLUB = "00000000-0000-7000-8000-000000000000"  # chosen: the same everywhere, so that none is made twice
LOCAL_NAMES = ("Local club", "Coach")  # of the club and of its coach, who can change the first
EXPORT = {"format": "cornerwise-club", "version": 1}


def first_link() -> str | None:
    """Return a one-time link's secret for the coach of a machine that nobody has made her own yet.

    On a server without any club the local one is made, with a match, a team and opponents to
    try. None once the local club's coach has a password, or where a host has added clubs.
    """
    if not store.any_club() and _added(LOCAL_CLUB, *LOCAL_NAMES):
        demo_club.fill(LOCAL_CLUB)
    coach = next((p for p in account_store.people(LOCAL_CLUB) if p.role == "coach"), None)
    return new_link(coach) if coach is not None and coach.password_hash is None else None


def found(name: str, coach: str) -> Person:
    """Add a club with a match to try; return its coach. Raises LoginTaken."""
    person = _added(new_id(), name, coach)
    if person is None:
        raise LoginTaken
    return person


def _added(club: str, name: str, coach: str) -> Person | None:
    """Add a club; return its coach, None when it is there already, or her name is taken.

    Of two processes that start at once, one makes the local club, and both go on.
    """
    person = Person(id=new_id(), club_id=club, name=coach.strip(), login=login(coach), role="coach")
    match = {"id": new_id(), "name": demo.NAME}
    return person if store.found(club, name, person, match, _log_to_try()) else None


@cache
def _log_to_try() -> list[dict[str, Any]]:
    return demo.log()


def named(name: str) -> Club:
    """Return the one club with a name or an id. Raises NoSuchClub, also when several have the name."""
    which = [club for club, _ in store.clubs() if name in (club.name, club.id)]
    if len(which) != 1:
        raise NoSuchClub("no club of this name" if not which else "several clubs of this name: use the id")
    return which[0]


def show(club: str) -> dict[str, Any]:
    """Return a club, how much it has, and what deleting it means."""
    row, size, matches = store.find(club), store.sizes(club), store.matches(club)
    assert row is not None  # whoever asks is in it
    return {
        "id": row.id,
        "name": row.name,
        "created_at": row.created_at.isoformat(),
        "matches": matches,
        "people": size["person"],
        "devices": size["device"],
        "deleting": consequence(row.name, matches),
    }


def rename(club: str, name: str) -> dict[str, Any]:
    store.rename(club, name)
    return show(club)


def consequence(name: str, matches: int, *, done: bool = False) -> str:
    """Return what deleting a club means, or meant, in words."""
    what, gone = "1 match" if matches == 1 else f"{matches} matches", "is" if done else "would be"
    return (
        f"{name} {gone} gone for good, with {what}, its rosters, opponents, people and devices. Everybody is "
        "signed out, and this cannot be undone. A phone drops names, rosters and opponents when it reaches "
        "the server next; the logs of matches on it, by numbers only, stay until somebody signs out there."
    )


def remove(club: str) -> dict[str, Any]:
    """Delete a club with all it has; return what that came to."""
    said = show(club)
    store.remove(club)
    folds.forget(club)
    gone = erase()
    return {
        "id": club,
        "text": consequence(said["name"], said["matches"], done=True),
        "traces_removed": gone,
    }


def export(club: str) -> Iterator[str]:
    """Yield a JSON text with everything a club has, row by row: what it is, and each table by its name.

    Secrets stay out: passwords, tokens and codes, which are kept as hashes only.
    """
    row = store.find(club)
    assert row is not None
    head = {**EXPORT, "exported_at": now().isoformat(), "club": {"id": row.id, "name": row.name}}
    yield json.dumps(head)[:-1] + ', "tables": {'
    for index, (table, rows) in enumerate(store.everything(club)):
        yield f"{', ' if index else ''}{json.dumps(table)}: ["
        for number, values in enumerate(rows):
            yield (",\n" if number else "\n") + json.dumps(values, default=_moment, ensure_ascii=False)
        yield "]"
    yield "}}\n"


def _moment(value: Any) -> str:
    return str(value.isoformat())
