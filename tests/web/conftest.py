"""The application in process, and a folder that stands for the built PWA."""

from __future__ import annotations

import gzip
import json
from pathlib import Path
from typing import Any

import pytest
from cornerwise.app import create_app
from cornerwise.config import Config
from flask import Flask
from flask.testing import FlaskClient
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
    return create_app(Config(dist=dist, data=tmp_path_factory.mktemp("data")))


@pytest.fixture
def client(app: Flask) -> FlaskClient:
    return app.test_client()


@pytest.fixture
def bench(kept: Flask) -> FlaskClient:
    """A device, before a server with an empty database of either kind."""
    return kept.test_client()


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
