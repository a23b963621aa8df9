"""Twenty benches at once on one server process: how long a press and a call take, printed."""

from __future__ import annotations

import http.client
import json
import os
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from typing import Any

import pytest

from ..engine.review.scripts import script

BENCHES = 20
PACE_S = 1.0  # chosen: a press a second at each bench, some five to ten times the pace of play
BATCHES = 30


@pytest.fixture
def port(new_config: Any) -> Iterator[int]:
    with socket.create_server(("127.0.0.1", 0)) as probe:
        port = probe.getsockname()[1]
    environ = os.environ | {"CORNERWISE_DATA": str(new_config("sqlite").data)}
    command = [sys.executable, "-m", "cornerwise", "serve", f"--port={port}"]
    process = subprocess.Popen(command, env=environ, stdout=subprocess.DEVNULL, start_new_session=True)
    try:
        wait_for(port)
        yield port
    finally:
        os.killpg(process.pid, signal.SIGKILL)  # its own session
        process.wait(10)


def wait_for(port: int) -> None:
    end = time.monotonic() + 60
    while time.monotonic() < end:
        try:
            socket.create_connection(("127.0.0.1", port), 1).close()
            return
        except OSError:
            time.sleep(0.05)
    raise TimeoutError("the server did not start")


class Bench:
    """A device with a connection of its own, and the times that its questions took. [s]"""

    def __init__(self, port: int) -> None:
        self.connection = http.client.HTTPConnection("127.0.0.1", port, timeout=60)
        self.took_s: dict[str, list[float]] = {"post": [], "state": [], "call": []}

    def ask(self, kind: str, method: str, path: str, body: object = None) -> dict[str, Any]:
        data = None if body is None else json.dumps(body)
        start = time.perf_counter()
        self.connection.request(method, path, data, {"Content-Type": "application/json"})
        response = self.connection.getresponse()
        answer = json.loads(response.read())
        self.took_s.setdefault(kind, []).append(time.perf_counter() - start)
        assert response.status in (200, 201, 409), answer
        return answer

    def play(self, seed: int) -> None:
        """Log a match at its pace; look at the state after each press, ask for a call after each third."""
        path = f"/api/v1/matches/{self.ask('begin', 'POST', '/api/v1/matches', {})['id']}"
        log = script(seed, sets=1)
        size = len(log) // BATCHES
        opponent = {"opponent": {"setter_position": 1 + seed % 6}}
        for n in range(BATCHES):
            due = time.monotonic() + PACE_S
            self.ask("post", "POST", f"{path}/events", {"events": log[n * size : (n + 1) * size]})
            self.ask("state", "GET", f"{path}/state")
            if n % 3 == 0:
                self.ask("call", "POST", f"{path}/call", opponent)
            time.sleep(max(due - time.monotonic(), 0))
        self.connection.close()


def test_twenty_benches_at_once_are_served_by_one_process(port):
    benches = [Bench(port) for _ in range(BENCHES)]
    benches[0].ask("first", "GET", "/api/v1/matches")
    with ThreadPoolExecutor(BENCHES) as threads:
        list(threads.map(lambda bench, seed: bench.play(seed), benches, range(BENCHES)))
    print(f"\n{BENCHES} benches, one press each {PACE_S:g} s: times in ms")
    print("question   asked   median     90 %     99 %  slowest")
    for kind in ("post", "state", "call"):
        took_ms = sorted(1e3 * t for bench in benches for t in bench.took_s[kind])
        middle, most, nearly_all = (took_ms[int(len(took_ms) * share)] for share in (0.5, 0.9, 0.99))
        print(f"{kind:8} {len(took_ms):7} {middle:8.1f} {most:8.1f} {nearly_all:8.1f} {took_ms[-1]:8.1f}")
    assert all(len(bench.took_s["post"]) == BATCHES for bench in benches)
