"""The database: SQLite in a folder of its own, which upgrades itself, or the one that DATABASE_URL names."""

from __future__ import annotations

import fcntl
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from flask import Flask
from flask_migrate import Migrate, upgrade
from sqlalchemy import event

from . import (
    account_tables,  # noqa: F401 - their tables belong to the database too
    erase,
    roster_tables,  # noqa: F401
)
from .tables import db

MIGRATIONS = Path(__file__).parent / "migrations"
FILE_NAME = "cornerwise.sqlite3"
WAIT_S = 10  # chosen: how long a writer waits for another one
QUIET = {"hide_parameters": True}  # an error in the server's log shows no values: no names, no secrets


def open_database(app: Flask, url: str | None, folder: Path) -> None:
    """Give the app its database.

    url : None for the embedded one in the folder, which is made and upgraded here
    """
    if url is not None:
        options = {"pool_pre_ping": True, **QUIET}
        app.config.update(SQLALCHEMY_DATABASE_URI=url, SQLALCHEMY_ENGINE_OPTIONS=options)
        _connect(app)
        return
    folder.mkdir(parents=True, exist_ok=True)
    app.config.update(
        SQLALCHEMY_DATABASE_URI=f"sqlite:///{folder.resolve() / FILE_NAME}",
        SQLALCHEMY_ENGINE_OPTIONS={"connect_args": {"timeout": WAIT_S}, **QUIET},
    )
    _connect(app)
    with app.app_context(), _alone(folder):
        event.listen(db.engine, "connect", _set_up_sqlite)
        upgrade()
        erase.finish()


def _connect(app: Flask) -> None:
    db.init_app(app)
    Migrate(app, db, directory=str(MIGRATIONS))


def _set_up_sqlite(connection: Any, _: Any) -> None:
    connection.execute("PRAGMA journal_mode = WAL")  # readers do not wait for the writer
    connection.execute("PRAGMA foreign_keys = ON")
    connection.execute("PRAGMA secure_delete = ON")  # what is deleted is overwritten; see store.erase


@contextmanager
def _alone(folder: Path) -> Iterator[None]:
    """Keep other processes that start in this folder waiting."""
    with (folder / "upgrade.lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        yield
