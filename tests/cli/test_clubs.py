"""`cornerwise club` and `cornerwise user`: what whoever runs a server does, on a database of its own."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator

import pytest
from click.testing import CliRunner, Result
from cornerwise.cli import main
from cornerwise.config import Config
from cornerwise.store.tables import db
from flask import Flask
from flask.testing import FlaskClient

Run = Callable[..., Result]


@pytest.fixture(params=["sqlite", "postgresql"])
def config(request, new_config, open_app) -> Config:
    config = new_config(request.param)
    with open_app(config).app_context():
        db.create_all()
    return config


@pytest.fixture
def run(config: Config, monkeypatch: pytest.MonkeyPatch) -> Run:
    monkeypatch.setenv("CORNERWISE_DATA", str(config.data))
    monkeypatch.setenv("DATABASE_URL", config.database_url or "")
    monkeypatch.setenv("PORT", "8123")
    return lambda *arguments, answer="": CliRunner().invoke(main, arguments, input=answer)


@pytest.fixture
def sign_in(config: Config, open_app: Callable[[Config], Flask]) -> Iterator[Callable[[str], FlaskClient]]:
    app = open_app(config)

    def sign_in(said: str) -> FlaskClient:
        client = app.test_client()
        once = re.fullmatch(r"http://127\.0\.0\.1:8123/sign-in#once=([\w-]{43})\n", said)
        assert once is not None, said
        answer = client.post("/api/v1/session", json={"once": once[1]})
        assert answer.status_code == 200
        return client

    return sign_in


def test_a_host_adds_clubs_and_people_who_sign_in_by_the_printed_address(run, sign_in):
    coach = sign_in(run("club", "add", "Quarry Lane", "--coach", "Ida Brook").output)
    assert coach.get("/api/v1/club").json["name"] == "Quarry Lane"
    assistant = sign_in(run("user", "add", "Tess Marsh").output)  # there is one club only
    assert assistant.get("/api/v1/session").json["who"]["role"] == "assistant"
    run("club", "add", "Mill Road", "--coach", "Ada Stone")
    said = run("user", "add", "Bo Field")
    assert (said.exit_code, "say which club" in said.output) == (1, True)
    second = sign_in(run("user", "add", "Bo Field", "--club", "Mill Road", "--role", "coach").output)
    assert second.get("/api/v1/club").json["name"] == "Mill Road"
    people = [line.split(maxsplit=1) for line in run("user", "list").output.splitlines()]
    assert [(role, rest.split("  ")[-1]) for role, rest in people] == [
        ("coach", "Ada Stone"), ("coach", "Bo Field"), ("coach", "Ida Brook"), ("assistant", "Tess Marsh"),
    ]  # fmt: skip
    assert [line.split("  ")[-1] for line in run("club", "list").output.splitlines()] == [
        "Mill Road", "Quarry Lane",
    ]  # fmt: skip


def test_a_name_that_is_taken_is_said_plainly(run):
    run("club", "add", "Quarry Lane", "--coach", "Ida Brook")
    for command in (("user", "add", "IDA BROOK"), ("club", "add", "Mill Road", "--coach", " ida brook")):
        said = run(*command)
        assert (said.exit_code, said.output) == (
            1, "Error: somebody on this server signs in by this name already: choose another\n",
        )  # fmt: skip
    assert len(run("club", "list").output.splitlines()) == 1


def test_a_reset_takes_the_password_away_and_gives_a_link(run, sign_in):
    coach = sign_in(run("club", "add", "Quarry Lane", "--coach", "Ida Brook").output)
    coach.put(
        "/api/v1/password", json={"password": "far corner, deep"}, headers={"Origin": "http://localhost"}
    )
    assert "password" in run("user", "list").output
    again = sign_in(run("user", "reset", "ida brook").output)
    assert again.get("/api/v1/session").json["who"]["has_password"] is False
    assert coach.get("/api/v1/matches").status_code == 200
    sign_in(run("user", "reset", "Ida Brook", "--sign-out").output)
    assert coach.get("/api/v1/session").json["revoked"] is True
    assert run("user", "reset", "Nobody").exit_code == 1


def test_removing_asks_first_unless_told_not_to(run, sign_in):
    coach = sign_in(run("club", "add", "Quarry Lane", "--coach", "Ida Brook").output)
    assistant = sign_in(run("user", "add", "Tess Marsh").output)
    assert run("user", "remove", "Tess Marsh", answer="n\n").exit_code == 1
    assert assistant.get("/api/v1/matches").status_code == 200
    assert run("user", "remove", "Tess Marsh", answer="y\n").exit_code == 0
    assert assistant.get("/api/v1/matches").status_code == 401
    said = run("club", "remove", "Quarry Lane", answer="n\n")
    assert (said.exit_code, "would be gone for good" in said.output) == (1, True)
    assert coach.get("/api/v1/club").status_code == 200
    assert "is gone for good" in run("club", "remove", "Quarry Lane", "--yes").output
    assert coach.get("/api/v1/club").status_code == 401
    assert run("club", "remove", "Quarry Lane", "--yes").output == "Error: no club of this name\n"


def test_a_database_that_is_not_ready_is_said_plainly(new_config, monkeypatch):
    monkeypatch.setenv("DATABASE_URL", new_config("postgresql").database_url)
    said = CliRunner().invoke(main, ["user", "list"])
    assert (said.exit_code, said.output) == (
        1, "Error: the database is not ready: run `cornerwise db upgrade` first\n",
    )  # fmt: skip
