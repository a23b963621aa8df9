"""The log of a real server, whatever happens to it, holds no names and no secrets."""

from __future__ import annotations

import http.client
import json
import re
import socket
import sqlite3
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from .conftest import Server

NAMES = ("Zephyrine Quillfeather", "Odile Ash", "Marrow Bay", "Tell nobody of it", "Kitbag phone")
PASSWORD = "a goose in the rafters"


class Loud(Server):
    """A server whose whole output is kept.

    secrets : what was ever sent to it, or came from it, that lets somebody in
    """

    def __init__(self, folder: Path) -> None:
        self.folder, self.file = folder, folder / "log"
        self.secrets: list[str] = [PASSWORD]
        folder.mkdir(exist_ok=True)
        self.output = self.file.open("w")
        super().__init__(self.output, CORNERWISE_DATA=str(folder))

    def raw(self, method: str, path: str, body: bytes = b"", **headers: str) -> int:
        """Ask, whatever is answered."""
        said = {name.replace("_", "-"): value for name, value in headers.items()}
        connection = http.client.HTTPConnection("127.0.0.1", self.port, timeout=30)
        connection.request(method, path, body, said)
        status = connection.getresponse().status
        connection.close()
        return status

    def as_coach(self, method: str, path: str, body: Any = None) -> int:
        data = b"" if body is None else json.dumps(body).encode()
        cookie = f"cornerwise={self.cookie()['value']}"
        return self.raw(method, path, data, Content_Type="application/json", Origin=self.url, Cookie=cookie)

    def stream(self, data: bytes) -> None:
        """Send what is no request."""
        with socket.create_connection(("127.0.0.1", self.port), timeout=5) as plain:
            plain.sendall(data)
            plain.shutdown(socket.SHUT_WR)
            while plain.recv(4096):
                pass


@pytest.fixture
def loud(tmp_path: Path) -> Iterator[Loud]:
    server = Loud(tmp_path / "data")
    server.start()
    server.secrets += [server.sign_in.rsplit("once=", 1)[1], server.cookie()["value"]]
    yield server
    server.stop()
    server.output.close()


def a_day_of_use(server: Loud) -> str:
    """Do what names and secrets go through; return a team's id."""
    team = server.ask("/api/v1/teams", {"name": "Marrow Bay"})["id"]
    for number, name in ((4, NAMES[0]), (7, NAMES[1])):
        server.ask(f"/api/v1/teams/{team}/players", {"number": number, "name": name})
    table = f"number,name,reach\n4,{NAMES[0]},none\nx,{NAMES[1]},2.2\n"
    server.as_coach("POST", f"/api/v1/teams/{team}/players/import?dry_run=0", {"text": table})
    server.ask("/api/v1/opponents", {"name": "Salt Row", "notes": NAMES[3]})
    token = server.ask("/api/v1/tokens", {"label": "sheet", "role": "coach"})["token"]
    code = server.ask("/api/v1/devices/codes", {"role": "assistant"})["code"]
    server.secrets += [token, code, "WR0NGC0D", "guessed-once", "guessed-password"]
    assert server.raw("GET", "/api/v1/teams", Authorization=f"Bearer {token}") == 200
    server.raw("GET", "/api/v1/teams", Authorization=f"Bearer {token}x")
    server.as_coach("PUT", "/api/v1/password", {"password": PASSWORD})
    kind = {"Content_Type": "application/json", "Origin": server.url}
    for path, body in (
        ("session", {"name": NAMES[0], "password": "guessed-password"}),
        ("session", {"name": "Coach", "password": PASSWORD, "label": NAMES[4]}),
        ("session", {"once": "guessed-once"}),
        ("session", {"once": "guessed-once", "password": PASSWORD}),
        ("join", {"code": "WR0NGC0D"}),
        ("join", {"code": code, "label": NAMES[4]}),
        ("join", {"code": code * 9}),
    ):
        server.raw("POST", f"/api/v1/{path}", json.dumps(body).encode(), **kind)
        server.raw("POST", f"/api/v1/{path}", json.dumps(body).encode()[:-2], **kind)
    return team


def not_requests(server: Loud, cookie: str) -> None:
    """Send what a server warns of: broken lines, headers, lengths, with secrets in them."""
    for broken in (
        f"GET /join#{PASSWORD} {cookie}\r\n\r\n",
        f"GET /api/v1/teams HTTP/1.1\r\nCookie cornerwise={cookie}\r\n\r\n",
        f"GET /api/v1/teams HTTP/1.1\r\nHost: x\r\nCookie: cornerwise={cookie}\r\n",
        f"GET /{cookie} HTTP/9.9\r\nHost: x\r\n\r\n",
        f"POST /api/v1/join HTTP/1.1\r\nHost: x\r\nContent-Length: {cookie}\r\n\r\n",
        f"POST /api/v1/join HTTP/1.1\r\nHost: x\r\nTransfer-Encoding: {NAMES[0]}\r\n\r\n{NAMES[1]}",
        f"{PASSWORD}\r\n\r\n",
    ):
        server.stream(broken.encode())


def spoilt(server: Loud) -> None:
    """Take tables away under the running server: faults of its own, with names and secrets on their way."""
    with sqlite3.connect(server.folder / "cornerwise.sqlite3") as database:
        for table in ("player", "join_code", "opponent"):
            database.execute(f"ALTER TABLE {table} RENAME TO {table}_gone")
        database.execute("UPDATE team SET lineup = ?", (f"{NAMES[0]} {{",))  # no JSON any more


def test_whatever_happens_the_log_has_no_name_and_no_secret(loud: Loud):
    team = a_day_of_use(loud)
    not_requests(loud, loud.secrets[2])
    spoilt(loud)
    cookie = loud.cookie()["value"]
    faults = [
        loud.as_coach("POST", f"/api/v1/teams/{team}/players", {"number": 9, "name": NAMES[0]}),
        loud.as_coach("PATCH", f"/api/v1/teams/{team}", {"name": NAMES[2]}),
        loud.as_coach("POST", "/api/v1/devices/codes", {"role": "assistant"}),
        loud.as_coach("POST", "/api/v1/opponents", {"name": NAMES[2], "notes": NAMES[3]}),
        loud.raw("POST", "/api/v1/join", json.dumps({"code": "WR0NGC0D", "label": NAMES[4]}).encode(),
                 Content_Type="application/json", Origin=loud.url, Cookie=f"cornerwise={cookie}"),
    ]  # fmt: skip
    assert all(status >= 500 for status in faults), faults
    loud.stop()
    text = loud.file.read_text() + loud.said
    for word in (*NAMES, *loud.secrets):
        assert word not in text, word
    assert not re.search(r"cornerwise_[\w-]{20}", text)


def test_a_fault_does_reach_the_log_so_that_looking_there_finds_something(loud: Loud):
    team = loud.ask("/api/v1/teams", {"name": "Marrow Bay"})["id"]
    spoilt(loud)
    assert loud.as_coach("POST", "/api/v1/devices/codes", {"role": "assistant"}) == 503
    assert loud.as_coach("PATCH", f"/api/v1/teams/{team}", {"name": NAMES[2]}) == 500
    loud.stop()
    text = loud.file.read_text()
    assert "the database does not answer: no such table: join_code" in text
    assert "JSONDecodeError" in text
