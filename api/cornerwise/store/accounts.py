"""People, devices, tokens, codes and links: looked up by the hash of a secret, or within their club."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import datetime
from typing import Any, NamedTuple

from sqlalchemy import delete, exists, func, insert, select, update
from sqlalchemy.exc import IntegrityError

from .account_tables import ApiToken, Device, HeldEvent, JoinCode, Person, SignInLink
from .tables import Club, db, now


def add(row: Person | Device | ApiToken | JoinCode | SignInLink) -> None:
    db.session.add(row)
    db.session.commit()


def add_person(person: Person) -> bool:
    """Add a person; return False when her name is taken."""
    try:
        add(person)
    except IntegrityError:
        db.session.rollback()
        return False
    return True


def person(login: str) -> Person | None:
    """Return who signs in by a name, as it is compared."""
    return db.session.scalar(select(Person).where(Person.login == login))


def person_of(club_id: str, person_id: str) -> Person | None:
    return db.session.scalar(select(Person).where(Person.id == person_id, Person.club_id == club_id))


def people(club_id: str | None = None) -> Sequence[Person]:
    """Return the people of a club, or of all, by name."""
    query = select(Person).order_by(Person.login)
    return db.session.scalars(query if club_id is None else query.where(Person.club_id == club_id)).all()


def set_password(person_id: str, password_hash: str, *, keep_device: str) -> None:
    """Keep a new password, and sign out where this person is signed in but on one device."""
    db.session.execute(update(Person).where(Person.id == person_id).values(password_hash=password_hash))
    revoke(Device.person_id == person_id, Device.id != keep_device)
    db.session.commit()


def take_password(person_id: str, *, sign_out: bool) -> None:
    """Keep no password of a person; sign her out everywhere if asked to."""
    db.session.execute(update(Person).where(Person.id == person_id).values(password_hash=None))
    if sign_out:
        revoke(Device.person_id == person_id)
    db.session.commit()


def revoke(*which: Any) -> None:
    """Revoke devices, unless they were already. Not committed here."""
    db.session.execute(update(Device).where(*which, Device.revoked_at.is_(None)).values(revoked_at=now()))


def remove_person(person_id: str) -> None:
    """Delete a person with her links and tokens; devices she signed in on are revoked."""
    revoke(Device.person_id == person_id)
    for column in (Device.person_id, Device.joined_by):
        db.session.execute(update(Device).where(column == person_id).values({column.key: None}))
    for table in (JoinCode, ApiToken):
        db.session.execute(delete(table).where(table.made_by == person_id))
    db.session.execute(delete(SignInLink).where(SignInLink.person_id == person_id))
    db.session.execute(delete(Person).where(Person.id == person_id))
    db.session.commit()


class Known(NamedTuple):
    """A device with the names of its club and of who signed in on it."""

    device: Device
    club: str
    person: str | None


def device(token_hash: str) -> Known | None:
    """Return the device with a token, also a revoked one; None once it has expired."""
    row = db.session.execute(
        select(Device, Club.name, Person.name)
        .join(Club, Club.id == Device.club_id)
        .outerjoin(Person, Person.id == Device.person_id)
        .where(Device.token_hash == token_hash, Device.expires_at > now())
    ).first()
    return Known(*row) if row else None


def api_token(token_hash: str) -> tuple[ApiToken, str] | None:
    """Return a script's token with the name of its club."""
    query = select(ApiToken, Club.name).join(Club, Club.id == ApiToken.club_id)
    row = db.session.execute(query.where(ApiToken.token_hash == token_hash)).first()
    return (row[0], row[1]) if row else None


def seen(row: Device | ApiToken, expires_at: datetime | None = None) -> None:
    """Note that a device or a script was here."""
    row.seen_at = now()
    if expires_at is not None and isinstance(row, Device):
        row.expires_at = expires_at
    db.session.commit()


def end_session(token_hash: str) -> None:
    """Forget a device that signs out; of a revoked one the row stays."""
    db.session.execute(delete(Device).where(Device.token_hash == token_hash, Device.revoked_at.is_(None)))
    db.session.commit()


class Listed(NamedTuple):
    """A device with the names of who signed in on it and of who let it in, and what of it is held."""

    device: Device
    person: str | None
    joined_by: str | None
    held: int


def devices(club_id: str, limit: int) -> list[Listed]:
    """Return the devices of a club that have not expired, the last to join first."""
    signed_in, let_in = db.aliased(Person), db.aliased(Person)
    held = select(func.count()).where(HeldEvent.device_id == Device.id).correlate(Device).scalar_subquery()
    rows = db.session.execute(
        select(Device, signed_in.name, let_in.name, held)
        .outerjoin(signed_in, signed_in.id == Device.person_id)
        .outerjoin(let_in, let_in.id == Device.joined_by)
        .where(Device.club_id == club_id, Device.expires_at > now())
        .order_by(Device.created_at.desc(), Device.id.desc())
        .limit(limit)
    )
    return [Listed(*row) for row in rows]


def device_of(club_id: str, device_id: str) -> Device | None:
    return db.session.scalar(select(Device).where(Device.id == device_id, Device.club_id == club_id))


def revoke_device(club_id: str, device_id: str) -> None:
    revoke(Device.id == device_id, Device.club_id == club_id)
    db.session.commit()


def tokens(club_id: str, limit: int) -> Sequence[ApiToken]:
    query = select(ApiToken).where(ApiToken.club_id == club_id)
    return db.session.scalars(query.order_by(ApiToken.created_at.desc()).limit(limit)).all()


def count(table: type[ApiToken] | type[Device] | type[JoinCode], club_id: str) -> int:
    return db.session.scalar(select(func.count()).select_from(table).where(table.club_id == club_id)) or 0


def remove_token(club_id: str, token_id: str) -> bool:
    """Revoke a script's token; return False when there is none."""
    which = delete(ApiToken).where(ApiToken.id == token_id, ApiToken.club_id == club_id)
    removed = db.session.execute(which).rowcount
    db.session.commit()
    return bool(removed)


def take_code(code_hash: str) -> JoinCode | None:
    """Return a code that is still good, and use it up: of two who come at once, one gets it.

    Not committed here: the code and the device that it lets in go together.
    """
    return _take(JoinCode, JoinCode.code_hash == code_hash)


def take_link(token_hash: str) -> SignInLink | None:
    """Return a link that is still good, and use it up. Not committed here."""
    return _take(SignInLink, SignInLink.token_hash == token_hash)


def _take(table: type[Any], which: Any) -> Any:
    row = db.session.execute(
        delete(table).where(which, table.expires_at > now()).returning(*table.__table__.columns)
    ).first()
    return table(**row._mapping) if row else None


def replace_link(link: SignInLink) -> None:
    """Add a link; older ones of the same person are worth nothing from now on."""
    db.session.execute(delete(SignInLink).where(SignInLink.person_id == link.person_id))
    add(link)


def tidy() -> None:
    """Delete what has expired; a device stays while something of it is held."""
    for table in (JoinCode, SignInLink):
        db.session.execute(delete(table).where(table.expires_at <= now()))
    held = exists().where(HeldEvent.device_id == Device.id)
    db.session.execute(delete(Device).where(Device.expires_at <= now(), ~held))
    db.session.commit()


def hold(device: Device, match_id: str, events: Iterable[tuple[dict[str, Any], int]]) -> None:
    """Keep events of a revoked device that are not kept yet, each with its size in bytes."""
    events = list(events)
    which = (HeldEvent.device_id == device.id, HeldEvent.match_id == match_id)
    ids = [event["id"] for event, _ in events]
    known = set(db.session.scalars(select(HeldEvent.id).where(*which, HeldEvent.id.in_(ids))))
    newest = select(func.max(HeldEvent.number)).where(HeldEvent.device_id == device.id)
    number = db.session.scalar(newest) or 0
    rows = {
        event["id"]: {
            "device_id": device.id, "match_id": match_id, "id": event["id"], "club_id": device.club_id,
            "number": number + index, "size_bytes": size, "body": event, "received_at": now(),
        }
        for index, (event, size) in enumerate(events, 1)
        if event["id"] not in known
    }  # fmt: skip
    if rows:
        db.session.execute(insert(HeldEvent), list(rows.values()))
    db.session.commit()


def held_size(device_id: str) -> tuple[int, int]:
    """Return how many events of a device are held, and how many bytes they are."""
    row = db.session.execute(
        select(func.count(), func.coalesce(func.sum(HeldEvent.size_bytes), 0)).where(
            HeldEvent.device_id == device_id
        )
    ).one()
    return int(row[0]), int(row[1])


def held_ids(device_id: str, match_id: str) -> set[str]:
    which = (HeldEvent.device_id == device_id, HeldEvent.match_id == match_id)
    return set(db.session.scalars(select(HeldEvent.id).where(*which)))


def held(club_id: str, device_id: str) -> list[tuple[str, dict[str, Any]]]:
    """Return what is held of a device, each event with its match, in the order in which they came."""
    rows = db.session.execute(
        select(HeldEvent.match_id, HeldEvent.body)
        .where(HeldEvent.club_id == club_id, HeldEvent.device_id == device_id)
        .order_by(HeldEvent.number)
    )
    return [(match_id, body) for match_id, body in rows]


def let_go(
    club_id: str, device_id: str, match_id: str | None = None, ids: Sequence[str] | None = None
) -> int:
    """Delete what is held of a device, or only some events of a match; return how many events that were."""
    which = [HeldEvent.club_id == club_id, HeldEvent.device_id == device_id]
    if match_id is not None:
        which += [HeldEvent.match_id == match_id, HeldEvent.id.in_(ids or [])]
    removed = db.session.execute(delete(HeldEvent).where(*which)).rowcount
    db.session.commit()
    return int(removed)
