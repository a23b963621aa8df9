"""What was deleted is gone from the file, not only from the answers."""

from __future__ import annotations

from pathlib import Path

import pytest
import sqlalchemy as sa
from cornerwise.app import create_app
from cornerwise.config import Config
from cornerwise.service import clubs
from cornerwise.store.erase import SQLITE, erase
from cornerwise.store.tables import Club, db
from flask import Flask

NAME = "Thornfield Juniors"


def bytes_of(app: Flask) -> bytes:
    """Return all that lies in the folder of the embedded database."""
    folder = Path(db.engine.url.database).parent
    return b"".join(file.read_bytes() for file in folder.iterdir())


@pytest.fixture
def embedded(new_app) -> Flask:
    app = new_app("sqlite")
    with app.app_context():
        yield app


def test_the_name_of_a_deleted_club_is_in_none_of_the_bytes_on_disk(embedded):
    person = clubs.found(NAME, f"Coach of {NAME}")
    with db.engine.connect() as connection:
        connection.exec_driver_sql("PRAGMA wal_checkpoint")  # so that it stands in the file and in the log
    clubs.rename(person.club_id, f"{NAME} II")
    assert NAME.encode() in bytes_of(embedded)
    assert clubs.remove(person.club_id)["traces_removed"] is True
    assert NAME.encode() not in bytes_of(embedded)


def test_deleting_alone_leaves_the_name_in_the_log_beside_the_file(embedded):
    """Why `erase` is needed: without it the test above could not tell."""
    person = clubs.found(NAME, f"Coach of {NAME}")
    clubs.store.remove(person.club_id)
    assert NAME.encode() in bytes_of(embedded)
    assert erase()
    assert NAME.encode() not in bytes_of(embedded)


def test_who_reads_at_that_moment_is_not_disturbed_and_the_traces_go_later(embedded, monkeypatch):
    with db.engine.connect() as reader:
        reader.exec_driver_sql("BEGIN")
        reader.execute(sa.select(Club)).all()
        monkeypatch.setattr("cornerwise.store.erase.SQLITE", ("PRAGMA busy_timeout = 50", *SQLITE))
        clubs.found(NAME, "Ida Brook")
        assert erase() is False
    assert erase() is True


def test_what_could_not_be_removed_goes_at_the_next_start(embedded, monkeypatch):
    config = Config(data=Path(db.engine.url.database).parent, password_work="least")
    with db.engine.connect() as reader:
        reader.exec_driver_sql("BEGIN")
        reader.execute(sa.select(Club)).all()
        monkeypatch.setattr("cornerwise.store.erase.SQLITE", ("PRAGMA busy_timeout = 50", *SQLITE))
        person = clubs.found(NAME, f"Coach of {NAME}")
        assert clubs.remove(person.club_id)["traces_removed"] is False
    assert NAME.encode() in bytes_of(embedded)
    db.engine.dispose()
    create_app(config)
    assert NAME.encode() not in bytes_of(embedded)
    assert not (config.data / "traces").exists()


def test_on_postgresql_no_live_row_is_left(new_app):
    with new_app("postgresql").app_context():
        person = clubs.found(NAME, "Ida Brook")
        assert clubs.remove(person.club_id)["traces_removed"] is True
        for table in db.metadata.sorted_tables:
            assert NAME not in repr(db.session.execute(sa.select(table)).all())
