"""Deleted and really gone.

SQLite leaves deleted rows in its file: `secure_delete` (set on every connection) overwrites them, but copies
stand in the write-ahead log until it is written back, and in pages that a change has moved. `erase` writes
the log back, writes the file anew, and empties the log. Until then a file beside the database says so.

PostgreSQL: a deleted row is invisible at once. Its bytes stay in the file until the server vacuums the table,
which it does by itself, and in its write-ahead log and backups for as long as whoever runs it keeps those.
"""

from __future__ import annotations

from pathlib import Path

from sqlalchemy import Connection
from sqlalchemy.exc import OperationalError

from .tables import db

SQLITE = ("PRAGMA wal_checkpoint(TRUNCATE)", "VACUUM", "PRAGMA wal_checkpoint(TRUNCATE)")


def erase() -> bool:
    """Remove the traces of what was deleted and committed; return False when others kept the file busy.

    Then the traces go with the next call, or at the next start: what was deleted cannot be read through the
    app all the same.
    """
    db.session.commit()  # a transaction of our own would stand in the way
    if db.engine.dialect.name != "sqlite":
        return True
    _unfinished().touch()
    gone = _written_anew()
    if gone:
        _unfinished().unlink(missing_ok=True)
    return gone


def finish() -> None:
    """Remove the traces that an earlier run could not."""
    if _unfinished().exists():
        erase()


def _unfinished() -> Path:
    return Path(str(db.engine.url.database)).with_name("traces")


def _written_anew() -> bool:
    with db.engine.connect().execution_options(isolation_level="AUTOCOMMIT") as connection:
        try:
            waiting = [_kept_waiting(connection, statement) for statement in SQLITE]
        except OperationalError:
            return False
    return not any(waiting)


def _kept_waiting(connection: Connection, statement: str) -> bool:
    """Run a statement; return whether others kept it waiting, which a checkpoint says by a 1."""
    said = connection.exec_driver_sql(statement)
    return said.returns_rows and said.scalar() == 1
