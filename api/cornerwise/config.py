"""What can be set from outside, read from the environment once."""

from __future__ import annotations

import os
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
USUAL_DIST = ROOT / "pwa" / "dist"
USUAL_DATA = ROOT / ".data"


@dataclass(frozen=True, slots=True)
class Config:
    """The settings of one server.

    dist         : folder of the built PWA.
    data         : folder of the embedded database.
    database_url : another database instead, None for the embedded one.
    proxies      : how many proxies before this server are ours and say who asks; 0: believe nobody.
    """

    dist: Path = USUAL_DIST
    data: Path = USUAL_DATA
    database_url: str | None = None
    proxies: int = 0

    @classmethod
    def from_env(cls, environ: Mapping[str, str] = os.environ) -> Config:
        """Return the settings.

        CORNERWISE_DIST moves the folder of the built PWA, CORNERWISE_DATA that of the embedded database;
        DATABASE_URL (postgresql+psycopg://...) names a database to use instead. CORNERWISE_PROXIES is the
        number of our own proxies that a request passes.

        Raises ValueError if that is no number.
        """
        return cls(
            _folder(environ, "CORNERWISE_DIST", USUAL_DIST),
            _folder(environ, "CORNERWISE_DATA", USUAL_DATA),
            environ.get("DATABASE_URL") or None,
            _count(environ, "CORNERWISE_PROXIES"),
        )


def _folder(environ: Mapping[str, str], name: str, usual: Path) -> Path:
    return Path(environ[name]).resolve() if environ.get(name) else usual


def _count(environ: Mapping[str, str], name: str) -> int:
    given = environ.get(name) or "0"
    if not (given.isascii() and given.isdigit()):
        raise ValueError(f"{name}: {given!r}: expected a whole number like 1, or 0 for none")
    return int(given)
