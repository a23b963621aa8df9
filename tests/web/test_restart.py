"""The real server, killed while devices write: what it has answered for is there when it comes back."""

from __future__ import annotations

import json
import os
import signal
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from http.client import HTTPException
from threading import Thread
from typing import Any

import pytest
from cornerwise.config import Config
from cornerwise.engine.match.logbook import entry_id

CORNERWISE = [sys.executable, "-m", "cornerwise"]
DEVICES = 4


class Server:
    """`cornerwise serve` with two processes, on a free port, that can be killed and started again."""

    def __init__(self, config: Config) -> None:
        with socket.create_server(("127.0.0.1", 0)) as probe:
            self.port = probe.getsockname()[1]
        self.environ = os.environ | {"CORNERWISE_DATA": str(config.data)}
        if config.database_url:
            self.environ["DATABASE_URL"] = config.database_url
            subprocess.run([*CORNERWISE, "db", "upgrade"], check=True, env=self.environ)
        self.token = ""
        self.process: subprocess.Popen | None = None

    def ask(self, path: str, body: object = None) -> dict[str, Any]:
        data = None if body is None else json.dumps(body).encode()
        headers = {"Content-Type": "application/json", "Authorization": f"Bearer {self.token}"}
        url = f"http://127.0.0.1:{self.port}{path}"
        with urllib.request.urlopen(urllib.request.Request(url, data, headers), timeout=20) as answer:
            return json.load(answer)

    def start(self) -> None:
        command = [*CORNERWISE, "serve", f"--port={self.port}", "--workers=2"]
        self.process = subprocess.Popen(
            command, env=self.environ, stdout=subprocess.PIPE, text=True, start_new_session=True
        )
        assert self.process.stdout is not None
        self.process.stdout.readline()
        once = self.process.stdout.readline().strip().rsplit("once=", 1)[1]
        end = time.monotonic() + 60
        while time.monotonic() < end:
            try:
                self.ask("/healthz")
                break
            except OSError:
                assert self.process.poll() is None, "the server ended while it started"
                time.sleep(0.05)
        else:
            raise TimeoutError("the server did not start")
        self.token = self.token or self.new_token(once)

    def new_token(self, once: str) -> str:
        """Return a token of the coach's, who signs in by the printed link."""
        url = f"http://127.0.0.1:{self.port}/api/v1"
        headers = {"Content-Type": "application/json", "Origin": f"http://127.0.0.1:{self.port}"}
        body = json.dumps({"once": once}).encode()
        with urllib.request.urlopen(urllib.request.Request(f"{url}/session", body, headers)) as answer:
            headers["Cookie"] = answer.headers["Set-Cookie"].split(";")[0]
        body = json.dumps({"label": "tests", "role": "coach"}).encode()
        with urllib.request.urlopen(urllib.request.Request(f"{url}/tokens", body, headers)) as answer:
            token: str = json.load(answer)["token"]
            return token

    def kill(self) -> None:
        if self.process is not None:
            os.killpg(self.process.pid, signal.SIGKILL)  # its own session
            self.process.wait(10)
            self.process.stdout.close()
            self.process = None


@pytest.fixture(params=["sqlite", "postgresql"])
def server(request: pytest.FixtureRequest, new_config) -> Iterator[Server]:
    server = Server(new_config(request.param))
    try:
        server.start()
        yield server
    finally:
        server.kill()


def event(device: int, counter: int) -> dict[str, Any]:
    return {
        "id": entry_id(counter, device),
        "device": f"device-{device}",
        "counter": counter,
        "set_number": 1,
        "rally_number": 1 + counter // 4,
        "type": "serve_noted",
        "grade": counter % 4,
    }


def write(server: Server, path: str, device: int, answered: dict[str, int]) -> None:
    """Send events until the server is gone; write down the positions it has answered with."""
    for counter in range(4000):
        try:
            answer = server.ask(path, {"events": [event(device, counter)]})
        except (OSError, HTTPException):
            return
        answered.update({one["id"]: one["position"] for one in answer["accepted"]})


def test_what_was_answered_for_survives_that_the_server_is_killed(server):
    match_id = server.ask("/api/v1/matches", {"name": "Cup"})["id"]
    path = f"/api/v1/matches/{match_id}/events"
    answered: dict[str, int] = {}
    writers = [Thread(target=write, args=(server, path, device, answered)) for device in range(DEVICES)]
    for writer in writers:
        writer.start()
    while len(answered) < 100:
        assert any(writer.is_alive() for writer in writers)
        time.sleep(0.01)
    server.kill()
    for writer in writers:
        writer.join()

    server.start()
    assert server.ask(f"/api/v1/matches/{match_id}")["name"] == "Cup"
    kept: dict[str, int] = {}
    while True:
        page = server.ask(f"{path}?after={len(kept)}")
        kept |= {item["event"]["id"]: item["position"] for item in page["items"]}
        if not page["more"]:
            break
    assert list(kept.values()) == [*range(1, len(kept) + 1)]
    assert answered.items() <= kept.items()
    again = server.ask(path, {"events": [event(device, 0) for device in range(DEVICES)]})
    assert {one["id"]: one["position"] for one in again["known"]} == {
        entry_id(0, device): kept[entry_id(0, device)] for device in range(DEVICES)
    }
