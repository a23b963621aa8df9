"""The application in process, and a folder that stands for the built PWA."""

from __future__ import annotations

import gzip
import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from cornerwise.app import create_app
from cornerwise.config import Config
from cornerwise.service import accounts, clubs
from cornerwise.store import matches as matches_store
from flask import Flask
from flask.testing import FlaskClient
from werkzeug.datastructures import Headers
from werkzeug.test import TestResponse

BUILT = {
    "index.html": "<!doctype html><title>shell</title>",
    "sw.js": "// the service worker",
    "manifest.webmanifest": "{}",
    "assets/index-1a2b.js": "// hashed",
    "py/plain.zip": "as it is",
}
SQUEEZED = {
    "assets/index-3c4d.css": "main { color: black }",
    "py/engine.wasm": "a large file",
    "py/engine.mjs": "export {}",
    "index.html": BUILT["index.html"],
}


@pytest.fixture(scope="session")
def dist(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("site") / "dist"
    for name, text in BUILT.items():
        file = folder / name
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(text)
    for name, text in SQUEEZED.items():
        (folder / name).parent.mkdir(exist_ok=True)
        (folder / name).write_text(text)
        (folder / f"{name}.gz").write_bytes(gzip.compress(text.encode()))
    (folder.parent / "secret.txt").write_text("not to be served")
    return folder


@pytest.fixture(scope="session")
def app(dist: Path, tmp_path_factory: pytest.TempPathFactory) -> Flask:
    return create_app(Config(dist=dist, data=tmp_path_factory.mktemp("data"), password_work="least"))


@pytest.fixture
def client(app: Flask) -> FlaskClient:
    return app.test_client()


class Device(FlaskClient):
    """A browser on a page of the app: it says so with every request, and keeps its cookie.

    club : whom it belongs to
    """

    club: str = ""

    def open(self, *args: Any, **kwargs: Any) -> TestResponse:
        headers = Headers(kwargs.pop("headers", None))
        headers.setdefault("Sec-Fetch-Site", "same-origin")
        return super().open(*args, headers=headers, **kwargs)

    def sign_in(self, once: str) -> TestResponse:
        return self.post("/api/v1/session", json={"once": once, "label": "Phone"})


@pytest.fixture
def new_device(kept: Flask) -> Callable[[], Device]:
    """A browser that nobody has signed in on, before a server with an empty database of either kind."""
    kept.test_client_class = Device
    return kept.test_client


@pytest.fixture
def new_coach(new_device: Callable[[], Device]) -> Callable[..., Device]:
    """A device on which the coach of a new club is signed in. It has no match, not even one to try."""

    def make(name: str = "Quarry Lane", coach: str = "Ida Brook") -> Device:
        person = clubs.found(name, coach)
        for match in matches_store.page(person.club_id, None, 50):
            matches_store.remove(person.club_id, match.id)
        device = new_device()
        device.club = person.club_id
        assert device.sign_in(accounts.new_link(person)).status_code == 200
        return device

    return make


@pytest.fixture
def bench(new_coach: Callable[..., Device]) -> Device:
    """A device on which a coach is signed in, before a server with a database of either kind."""
    return new_coach()


@pytest.fixture
def joined(new_device: Callable[[], Device]):
    """Let a new device in by a code of this coach's."""

    def join(coach: Device, role: str, **scope: str) -> Device:
        made = coach.post("/api/v1/devices/codes", json={"role": role, **scope})
        assert made.status_code == 201, made.json
        device = new_device()
        entered = device.post("/api/v1/join", json={"code": made.json["code"], "label": f"Thornfield {role}"})
        assert entered.status_code == 200, entered.json
        device.club = entered.json["who"]["device_id"]
        return device

    return join


class Refusal:
    """A refused request, read: its status and its problem details."""

    def __init__(self, response: TestResponse) -> None:
        assert response.content_type == "application/problem+json"
        self.status = response.status_code
        self.problem: dict[str, Any] = response.get_json()
        assert self.problem["status"] == self.status

    @property
    def errors(self) -> list[tuple[Any, ...]]:
        """Field, value, expected and rule of each error."""
        return [tuple(error.values()) for error in self.problem["errors"]]


@pytest.fixture
def refused(client: FlaskClient):
    """Post a body, as it is or as JSON, that has to be refused."""

    def post(path: str, body: object, content_type: str = "application/json") -> Refusal:
        data = body if isinstance(body, str | bytes) else json.dumps(body)
        return Refusal(client.post(f"/api/v1/{path}", data=data, content_type=content_type))

    return post
