"""Secrets that let somebody in: made here at random, shown once, kept as SHA-256 only.

A fast hash is enough for a token of 256 random bits, which nobody guesses; passwords need Argon2. A join code
has 40 bits: it lives ten minutes, works once, and trying is rate limited.
"""

from __future__ import annotations

import re
import secrets
from hashlib import sha256

CODE_LENGTH = 8
CROCKFORD = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"  # D. Crockford, "Base 32": no I, L, O, U
READ_AS = str.maketrans({"I": "1", "L": "1", "O": "0"})  # the same source
TOKEN_START = "cornerwise_"  # of a script's token, so that one that was published by mistake can be found


def new_token() -> str:
    return secrets.token_urlsafe(32)


def new_code() -> str:
    """Return a code that is read from one screen and typed on another."""
    return "".join(secrets.choice(CROCKFORD) for _ in range(CODE_LENGTH))


def read_code(typed: str) -> str:
    """Return a code as it was made: small letters, spaces and hyphens do not matter."""
    return re.sub(r"[\s-]", "", typed).upper().translate(READ_AS)


def hashed(secret: str) -> str:
    return sha256(secret.encode()).hexdigest()
