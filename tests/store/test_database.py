"""The database: made and upgraded by itself, the same by its tables as by its migrations."""

from __future__ import annotations

import subprocess
import sys

import flask_migrate
import pytest
import sqlalchemy as sa
from cornerwise.store.clubs import signals
from cornerwise.store.tables import Club, Match, db

START = """
import sys
from pathlib import Path
from cornerwise.store.database import open_database
from flask import Flask
open_database(Flask("app"), None, Path(sys.argv[1]))
"""


def tables() -> set[str]:
    return set(sa.inspect(db.engine).get_table_names())


def test_tables_and_migrations_agree(kept):
    flask_migrate.check()  # ends the process when they do not


def test_tables_and_migrations_that_differ_are_noticed(new_app):
    with new_app("sqlite").app_context():
        db.session.execute(sa.text("ALTER TABLE hands DROP COLUMN signals"))
        db.session.commit()
        with pytest.raises(SystemExit):
            flask_migrate.check()


@pytest.mark.parametrize("database", ["sqlite", "postgresql"])
def test_every_migration_can_be_taken_back(new_app, database):
    with new_app(database).app_context():
        made = tables()
        assert {"club", "team", "match", "event"} <= made
        flask_migrate.downgrade(revision="base")
        assert tables() == {"alembic_version"}
        flask_migrate.upgrade()
        assert tables() == made


def test_another_database_is_left_as_it_is_until_somebody_upgrades_it(new_config, open_app):
    app = open_app(new_config("postgresql"))
    with app.app_context():
        assert tables() == set()
        assert app.test_cli_runner().invoke(args=["db", "upgrade"]).exit_code == 0
        assert "event" in tables()


def test_the_embedded_database_is_made_at_start_and_lets_readers_read_while_one_writes(new_config, open_app):
    config = new_config("sqlite")
    with open_app(config).app_context():
        assert "event" in tables()
        assert db.session.scalar(sa.text("PRAGMA journal_mode")) == "wal"
        assert db.session.scalar(sa.text("PRAGMA foreign_keys")) == 1
    assert (config.data / "cornerwise.sqlite3").is_file()


def test_what_the_embedded_database_holds_is_there_after_the_next_start(new_config, open_app):
    config = new_config("sqlite")
    with open_app(config).app_context():
        db.session.add(Club(id="00000000-0000-7000-8000-00000000000a", name="Harbour Street"))
        db.session.commit()
    with open_app(config).app_context():
        assert db.session.scalars(sa.select(Club.name)).all() == ["Harbour Street"]


def test_processes_that_start_at_once_make_the_embedded_database_once(tmp_path):
    command = [sys.executable, "-c", START, str(tmp_path)]
    started = [subprocess.Popen(command, stderr=subprocess.PIPE, text=True) for _ in range(4)]
    said = [process.communicate()[1] for process in started]
    assert [process.returncode for process in started] == [0, 0, 0, 0], said


def test_every_table_carries_its_club():
    for table in db.metadata.sorted_tables:
        if table.name != "club":
            assert [key.target_fullname for key in table.c.club_id.foreign_keys] == ["club.id"]
            assert not table.c.club_id.nullable


def test_a_match_without_its_club_is_refused_by_the_database(kept):
    nobody = "00000000-0000-7000-8000-0000000000ff"
    db.session.add(Match(id="00000000-0000-7000-8000-00000000000b", club_id=nobody))
    with pytest.raises(sa.exc.IntegrityError):
        db.session.commit()
    db.session.rollback()


@pytest.mark.parametrize("database", ["sqlite", "postgresql"])
def test_the_code_of_a_teams_hands_is_kept_when_teams_get_rosters(new_config, open_app, database):
    app = open_app(new_config(database))
    with app.app_context():
        if database == "postgresql":
            flask_migrate.upgrade(revision="0002")
        else:
            flask_migrate.downgrade(revision="0002")
        club = "00000000-0000-7000-8000-00000000000a"
        db.session.add(Club(id=club, name="Harbour Street"))
        db.session.flush()
        row = "SELECT id, 'Quarry Lane', '{\"spot\": 1}' FROM club"
        db.session.execute(sa.text(f"INSERT INTO team (club_id, name, signals) {row}"))
        db.session.commit()
        flask_migrate.upgrade()
        assert signals(club, "Quarry Lane") == {"spot": 1}
        db.session.rollback()
        flask_migrate.downgrade(revision="0002")
        assert db.session.scalar(sa.text("SELECT name FROM team")) == "Quarry Lane"
        db.session.rollback()
        flask_migrate.upgrade()
