"""Passwords: Argon2id, at sign-in only. Two at a time are looked at: each takes 64 MiB for its time.

Lengths from memory of NIST SP 800-63B: at least 8 characters, 15 advised where a password is all there is, at
least 64 allowed, no rules of composition, common ones refused, Unicode normalised. Ten is chosen: trying is
rate limited, and there is a link instead of a password.
"""

from __future__ import annotations

import unicodedata
from threading import BoundedSemaphore
from typing import Literal

from argon2 import PasswordHasher, Type
from argon2.exceptions import InvalidHashError, VerificationError
from argon2.profiles import RFC_9106_LOW_MEMORY

from cornerwise.engine.errors import RuleBroken

Work = Literal["usual", "least"]
SHORTEST, LONGEST = 10, 200  # characters; chosen, see above
COMMON = {  # chosen: what somebody types first who was asked for ten characters
    "0123456789", "1234567890", "12345678910", "1q2w3e4r5t", "abcdefghij", "letmein123", "password12",
    "password123", "password1234", "qwertyuiop", "qwerty1234", "qwertzuiop", "volleyball", "volleyball1",
    "volleyball12", "volleyball123",
}  # fmt: skip

_two = BoundedSemaphore(2)
_hashers = {
    "usual": PasswordHasher.from_parameters(RFC_9106_LOW_MEMORY),  # RFC 9106, section 4: second choice
    "least": PasswordHasher(time_cost=1, memory_cost=8, parallelism=1, type=Type.ID),  # for tests only
}
_nobodys: dict[Work, str] = {}


def check(password: str, name: str, field: str = "password") -> None:
    """Raise RuleBroken for a password that somebody would guess."""
    plain = _normal(password)
    if plain.casefold() in COMMON or len(set(plain)) < 4 or _bare(plain) == _bare(name):
        expected = (
            "a password that is not in common use, not a name, and of more than three different characters"
        )
        raise RuleBroken(field, None, expected, "guessable")


def hashed(password: str, work: Work) -> str:
    with _two:
        return _hashers[work].hash(_normal(password))


def right(password: str, kept: str | None, work: Work) -> bool:
    """Return whether a password is the one that was kept. Without one it takes as long and is wrong."""
    if work not in _nobodys:
        _nobodys[work] = hashed("nobody's password", work)
    try:
        with _two:
            matches = _hashers[work].verify(kept or _nobodys[work], _normal(password))
    except (VerificationError, InvalidHashError):
        return False
    return matches and kept is not None


def outdated(kept: str, work: Work) -> bool:
    """Return whether a hash was made with less work than today's."""
    return _hashers[work].check_needs_rehash(kept)


def _normal(password: str) -> str:
    return unicodedata.normalize("NFKC", password)


def _bare(text: str) -> str:
    return "".join(filter(str.isalnum, text.casefold()))
