"""Who is asking: people who sign in, devices that joined, scripts with a token; and what a role may do."""

from __future__ import annotations

import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import timedelta
from typing import Any, Literal, get_args

from cornerwise.engine.errors import RuleBroken
from cornerwise.store import accounts as store
from cornerwise.store.account_tables import Device, Person, SignInLink
from cornerwise.store.erase import erase
from cornerwise.store.tables import now

from . import passwords
from .errors import LoginTaken, NotLetIn
from .ids import new_id
from .passwords import Work
from .secrets import TOKEN_START, hashed, new_token

Role = Literal["server", "assistant", "coach"]
ROLES: Sequence[Role] = get_args(Role)  # each may do what those before it may
PEOPLE_ROLES: Sequence[Role] = ("assistant", "coach")

# Chosen: a season. A phone that lies in a bag between two matches, often without a network, must not be
# signed out in the middle of one; a lost one is revoked by the coach.
STAYS_SIGNED_IN = timedelta(days=180)
LINK_LASTS = timedelta(days=1)  # chosen: printed in the evening, opened in the morning
NOTED_EVERY = timedelta(hours=1)  # chosen: a write an hour, not one a request


@dataclass(frozen=True, slots=True)
class Who:
    """Somebody who was let in.

    device_id : of a device; None for a script
    match_id : the one match that she may see, if not None
    team : without a match the one team whose call she may see; with one our team that plays it, see `scope`
    revoked : she was let in once, and is no more
    stays : the device's time has just been prolonged, and its cookie's should be
    """

    club: str
    club_name: str
    role: Role
    name: str | None
    label: str
    person_id: str | None = None
    device_id: str | None = None
    team: str | None = None
    match_id: str | None = None
    revoked: bool = False
    stays: bool = False

    def may(self, least: Role) -> bool:
        return ROLES.index(self.role) >= ROLES.index(least)


def by_cookie(token: str) -> Who | None:
    """Return whose device has this token, also a revoked one; None when nobody's has."""
    known = store.device(hashed(token))
    if known is None:
        return None
    device, stays = known.device, False
    if device.revoked_at is None and now() - device.seen_at > NOTED_EVERY:
        stays = True
        store.seen(device, now() + STAYS_SIGNED_IN)
    return Who(
        club=device.club_id, club_name=known.club, role=role(device.role), name=known.person,
        label=device.label, person_id=device.person_id, device_id=device.id, team=device.team,
        match_id=device.match_id, revoked=device.revoked_at is not None, stays=stays,
    )  # fmt: skip


def by_bearer(token: str) -> Who | None:
    """Return whose script has this token; None when nobody's has."""
    found = store.api_token(hashed(token)) if token.startswith(TOKEN_START) else None
    if found is None:
        return None
    row, club = found
    if row.seen_at is None or now() - row.seen_at > NOTED_EVERY:
        store.seen(row)
    return Who(row.club_id, club, role(row.role), None, row.label, person_id=row.made_by)


def role(name: str) -> Role:
    """Return a role by its name in the database."""
    return ROLES[ROLES.index(name)]  # type: ignore[call-overload]


def login(name: str) -> str:
    """Return a name as it is compared: capitals, accents' encoding and outer spaces do not matter."""
    return unicodedata.normalize("NFKC", name).casefold().strip()


def sign_in_by_password(name: str, password: str, label: str, work: Work) -> str:
    """Sign somebody in; return her device's token. Raises NotLetIn, the same for an unknown name."""
    person = store.person(login(name))
    if not passwords.right(password, person and person.password_hash, work) or person is None:
        raise NotLetIn("name and password do not belong together")
    if passwords.outdated(person.password_hash or "", work):
        person.password_hash = passwords.hashed(password, work)
    return signed_in(person, label, by_link=False)


def sign_in_by_link(once: str, label: str) -> str:
    """Sign somebody in by a one-time link; return her device's token. Raises NotLetIn."""
    link = store.take_link(hashed(once))
    person = link and store.person_of(link.club_id, link.person_id)
    if person is None:
        raise NotLetIn("this link was used before, or is too old: ask for a new one")
    return signed_in(person, label, by_link=True)


def signed_in(person: Person, label: str, *, by_link: bool) -> str:
    """Make a device of a person's; return its token, which is new whatever the browser had before."""
    token = new_token()
    device = Device(
        id=new_id(), club_id=person.club_id, person_id=person.id, label=label, role=person.role,
        by_link=by_link, token_hash=hashed(token), expires_at=now() + STAYS_SIGNED_IN,
    )  # fmt: skip
    store.add(device)
    store.tidy()
    return token


def sign_out(token: str) -> None:
    store.end_session(hashed(token))


def new_link(person: Person) -> str:
    """Return the secret of a new one-time link, in place of an older one."""
    once = new_token()
    store.replace_link(
        SignInLink(
            token_hash=hashed(once), club_id=person.club_id, person_id=person.id,
            expires_at=now() + LINK_LASTS,
        )
    )  # fmt: skip
    return once


def add_person(club: str, name: str, role: Role) -> Person:
    """Add a person to a club, without a password. Raises LoginTaken."""
    person = Person(id=new_id(), club_id=club, name=name.strip(), login=login(name), role=role)
    if not store.add_person(person):
        raise LoginTaken
    return person


def set_password(who: Who, password: str, current: str | None, work: Work) -> None:
    """Keep a new password, and sign this person out everywhere else.

    current : her password until now; not needed if she has none, or came by a link

    Raises NotLetIn when `current` is wrong, RuleBroken for a password that is no good, or nobody's.
    """
    person = who.person_id and store.person_of(who.club, who.person_id)
    device = who.device_id and store.device_of(who.club, who.device_id)
    if not person or not device or device.person_id != person.id:
        raise RuleBroken("password", None, "somebody who signed in by name or link", "no_person")
    passwords.check(password, person.name)
    excused = person.password_hash is None or device.by_link
    if not excused and not passwords.right(current or "", person.password_hash, work):
        raise NotLetIn("the password until now is another one")
    device.by_link = False  # from now on she knows it
    store.set_password(person.id, passwords.hashed(password, work), keep_device=device.id)


def has_password(who: Who) -> bool:
    person = who.person_id and store.person_of(who.club, who.person_id)
    return bool(person and person.password_hash)


def described(who: Who) -> dict[str, Any]:
    """Return who somebody is, as plain values."""
    return {
        "club": {"id": who.club, "name": who.club_name},
        "name": who.name, "label": who.label, "role": who.role, "device_id": who.device_id,
        "team": who.team, "match_id": who.match_id, "has_password": has_password(who),
    }  # fmt: skip


def take_password(person: Person, *, sign_out: bool) -> None:
    """Take a person's password away, and sign her out everywhere if asked to."""
    store.take_password(person.id, sign_out=sign_out)


def remove_person(person: Person) -> None:
    """Delete a person. Her devices are revoked; what she did stays."""
    store.remove_person(person.id)
    erase()
