"""Databases for the tests: SQLite in a folder of its own, and a real PostgreSQL server, started here.

Nothing here touches the database of this checkout.
"""

from __future__ import annotations

import os
import shutil
import socket
import subprocess
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path
from uuid import uuid4

import flask_migrate
import psycopg
import pytest
from cornerwise.app import create_app
from cornerwise.config import Config
from cornerwise.store.tables import db
from flask import Flask

DATABASES = ("sqlite", "postgresql")
FAST = "-c fsync=off -c synchronous_commit=off -c full_page_writes=off"  # nothing here has to survive


def pytest_configure() -> None:
    os.environ["CORNERWISE_DATA"] = tempfile.mkdtemp(prefix="cornerwise-tests-")
    os.environ.pop("DATABASE_URL", None)


def pytest_unconfigure() -> None:
    shutil.rmtree(os.environ["CORNERWISE_DATA"], ignore_errors=True)


class PostgreSQL:
    """A server on a free port of this machine, with its data in a folder that goes with it."""

    def __init__(self) -> None:
        self._programs = self._find_programs()
        self._folder = Path(tempfile.mkdtemp(prefix="cornerwise-postgresql-"))
        self._folder.chmod(0o755)
        with socket.create_server(("127.0.0.1", 0)) as probe:
            self._port = probe.getsockname()[1]

    @staticmethod
    def _find_programs() -> Path:
        named = os.environ.get("POSTGRESQL_BIN")
        if named:
            return Path(named)
        found = sorted(Path("/usr/lib/postgresql").glob("*/bin/initdb"))
        if not found:
            pytest.fail("PostgreSQL is needed: install it, or set POSTGRESQL_BIN to the folder of its initdb")
        return found[-1].parent

    def _run(self, program: str, *arguments: str) -> None:
        # The server refuses to run as root: then as the user that its package made.
        user = ["runuser", "-u", "postgres", "--"] if os.geteuid() == 0 else []
        command = [*user, str(self._programs / program), "-D", str(self._folder / "data"), *arguments]
        subprocess.run(command, check=True, stdout=subprocess.DEVNULL, cwd="/")

    def start(self) -> None:
        if os.geteuid() == 0:
            shutil.chown(self._folder, "postgres")
        self._run("initdb", "-A", "trust", "-U", "postgres", "-E", "UTF8", "--locale=C.UTF-8", "--no-sync")
        options = f"-c listen_addresses=127.0.0.1 -p {self._port} -k {self._folder} {FAST}"
        self._run("pg_ctl", "-w", "-l", str(self._folder / "log"), "-o", options, "start")

    def stop(self) -> None:
        self._run("pg_ctl", "-m", "fast", "-w", "stop")
        shutil.rmtree(self._folder)

    def new_database(self) -> str:
        """Return the URL of a new, empty database."""
        name = f"test_{uuid4().hex}"
        address = f"postgres@127.0.0.1:{self._port}"
        with psycopg.connect(f"postgresql://{address}/postgres", autocommit=True) as connection:
            connection.execute(f"CREATE DATABASE {name}")
        return f"postgresql+psycopg://{address}/{name}"


@pytest.fixture(scope="session")
def postgresql() -> Iterator[PostgreSQL]:
    server = PostgreSQL()
    server.start()
    yield server
    server.stop()


@pytest.fixture(scope="session")
def new_config(
    request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory
) -> Callable[[str], Config]:
    """Settings with a new, empty database of a kind."""

    def make(database: str) -> Config:
        data = tmp_path_factory.mktemp("data")
        if database == "sqlite":
            return Config(data=data, password_work="least")
        url = request.getfixturevalue("postgresql").new_database()
        return Config(data=data, database_url=url, password_work="least")

    return make


@pytest.fixture(scope="session")
def open_app(new_config: Callable[[str], Config]) -> Iterator[Callable[[Config], Flask]]:
    """An app with these settings, whose connections are closed in the end."""
    opened: list[Flask] = []

    def make(config: Config) -> Flask:
        opened.append(create_app(config))
        return opened[-1]

    yield make
    for app in opened:
        with app.app_context():
            db.engine.dispose()


@pytest.fixture(scope="session")
def new_app(
    new_config: Callable[[str], Config], open_app: Callable[[Config], Flask]
) -> Callable[[str], Flask]:
    """An app with a new database of a kind, its tables made."""

    def make(database: str) -> Flask:
        app = open_app(new_config(database))
        with app.app_context():
            flask_migrate.upgrade()
        return app

    return make


@pytest.fixture(scope="session", params=DATABASES)
def stored_app(request: pytest.FixtureRequest, new_app: Callable[[str], Flask]) -> Flask:
    """An app for each kind of database."""
    return new_app(request.param)


@pytest.fixture
def kept(stored_app: Flask) -> Iterator[Flask]:
    """An app whose database is empty at first, with a context of it."""
    with stored_app.app_context():
        for table in reversed(db.metadata.sorted_tables):
            db.session.execute(table.delete())
        db.session.commit()
        stored_app.extensions["tries"].storage.reset()  # tries to sign in
        yield stored_app
