"""A short code to type, by which a second phone opens a match on the same server.

A code is the beginning of a hash of the match's id and of the hour, so nothing is stored: whoever knows the
id needs no code, and from a code no id follows.
"""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from hashlib import sha256
from typing import Any

from cornerwise.store import matches as store
from cornerwise.store.tables import now

from .clubs import local_club
from .errors import NoSuchCode
from .matches import found

SIGNS = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"  # Crockford, "Base 32": no I, L, O, U
READ_AS = str.maketrans({"I": "1", "L": "1", "O": "0"})  # as Crockford says: they look alike
LENGTH = 6
BITS_A_SIGN = 5
GOOD_FOR = timedelta(hours=1)  # chosen: then a new one comes, and the old one is good for as long again


def show(match_id: str) -> dict[str, Any]:
    """Return a match's code and until when it is good. Raises NoSuchMatch, MatchDeleted."""
    found(match_id)
    hour = hour_of(now())
    return {"code": code_of(match_id, hour), "expires_at": (hour + 2 * GOOD_FOR).isoformat()}


def join(code: str) -> dict[str, Any]:
    """Return the match that a code opens, as it was typed. Raises NoSuchCode."""
    typed = code.upper().translate(READ_AS)
    hour = hour_of(now())
    good = (hour, hour - GOOD_FOR)
    for match_id, name in store.names(local_club()):
        if any(code_of(match_id, when) == typed for when in good):
            return {"id": match_id, "name": name}
    raise NoSuchCode


def hour_of(moment: datetime) -> datetime:
    return moment.astimezone(UTC).replace(minute=0, second=0, microsecond=0)


def code_of(match_id: str, hour: datetime) -> str:
    """Return the code of a match in an hour: six signs of five bits each."""
    digest = sha256(f"cornerwise match {match_id} {hour.isoformat()}".encode()).digest()
    value = int.from_bytes(digest, "big") >> (8 * len(digest) - LENGTH * BITS_A_SIGN)
    shifts = range((LENGTH - 1) * BITS_A_SIGN, -1, -BITS_A_SIGN)
    return "".join(SIGNS[value >> shift & (len(SIGNS) - 1)] for shift in shifts)
