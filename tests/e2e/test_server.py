"""The real server process: its answers, its limits, and how it starts and stops."""

from __future__ import annotations

import http.client
import json
import os
import re
import signal
import socket
import subprocess
import sys
import urllib.request
from contextlib import closing

import pytest


def ask(server, body, **kwargs) -> tuple[int, dict]:
    """Post a call; return the status and the answer."""
    with closing(http.client.HTTPConnection("127.0.0.1", server.port, timeout=20)) as connection:
        connection.request("POST", "/api/v1/calls", body, {"Content-Type": "application/json"}, **kwargs)
        response = connection.getresponse()
        return response.status, json.load(response)


def test_the_served_api_answers_a_call(server):
    status, answer = ask(server, b'{"opponent": {"setter_position": 4}}')
    assert status == 200
    assert answer["best"]["words"]["call"]


def test_a_body_sent_in_chunks_has_the_same_limit(server):
    question = b'{"opponent": {"setter_position": 1}}'
    status, _ = ask(server, iter([question] + [b" " * 1024] * 80), encode_chunked=True)
    assert status == 413
    status, _ = ask(server, iter([question[:9], question[9:]]), encode_chunked=True)
    assert status == 200


def test_connections_that_stay_idle_keep_nobody_waiting(server):
    idle = [socket.create_connection(("127.0.0.1", server.port)) for _ in range(4)]
    try:
        idle[0].sendall(b"POST /api/v1/calls HTTP/1.1\r\nContent-Le")
        with urllib.request.urlopen(f"{server.url}/healthz", timeout=10) as response:
            assert response.status == 200
    finally:
        for connection in idle:
            connection.close()


def test_a_port_in_use_is_said_plainly(server):
    command = [sys.executable, "-m", "cornerwise", "serve"]
    result = subprocess.run(
        command, env=os.environ | {"PORT": str(server.port)}, capture_output=True, text=True, timeout=20
    )
    assert result.returncode == 1
    assert f"127.0.0.1:{server.port}" in result.stderr
    assert "another program uses this port; choose another with --port or PORT" in result.stderr


def test_the_address_to_open_is_printed_and_ctrl_c_stops_the_server(server):
    another = type(server)()
    another.start()
    assert another.said == f"Cornerwise is on {another.url}/  (Ctrl-C stops it)\n"
    assert re.fullmatch(rf"{another.url}/sign-in#once=[\w-]{{43}}", another.sign_in)
    another.stop(signal.SIGINT)
    with pytest.raises(ConnectionRefusedError):
        socket.create_connection(("127.0.0.1", another.port)).close()


def test_the_log_of_the_server_holds_no_secret_and_no_name(server, tmp_path):
    with (tmp_path / "log").open("w+") as log:
        another = type(server)(log)
        another.start()
        once = another.sign_in.rsplit("=", 1)[1]
        token = another.cookie()["value"]
        another.ask("/api/v1/matches", {"name": "Thornfield against Mill Road"})
        code = another.ask("/api/v1/devices/codes", {"role": "assistant"})["code"]
        for path in (f"/sign-in?once={once}", f"/join?code={code}", f"/no.thing?{token}"):
            with closing(http.client.HTTPConnection("127.0.0.1", another.port, timeout=20)) as connection:
                connection.request("GET", path, headers={"Authorization": f"Bearer {token}"})
                assert connection.getresponse().status in (200, 404)
        for line in (f"GET /?{once} HTTP/9.9", f"{once} / HTTP/1.1", f"GET / HTTP/1.1\r\n{token}"):
            with socket.create_connection(("127.0.0.1", another.port), timeout=20) as raw:
                raw.sendall(line.encode() + b"\r\n\r\n")
                assert raw.recv(12).startswith(b"HTTP/1.1 4")
        another.stop()
        log.seek(0)
        said = log.read()
    for secret in (once, token, code, "Thornfield"):
        assert secret not in said


def test_a_fault_in_the_log_shows_no_values():
    """What the database complains about is quoted without the values that were sent to it."""
    fault = """
from cornerwise.app import create_app
from cornerwise.store.tables import db
import sqlalchemy as sa
app = create_app()
bad = sa.text("INSERT INTO club (id, name) VALUES (NULL, :name)")
app.add_url_rule("/fault", "fault", lambda: db.session.execute(bad, {"name": "Thorn" + "field"}))
print(app.test_client().get("/fault").status_code)
"""
    result = subprocess.run([sys.executable, "-c", fault], capture_output=True, text=True, timeout=60)
    assert result.stdout == "500\n"
    assert "NOT NULL constraint failed" in result.stderr
    assert "Thornfield" not in result.stderr
