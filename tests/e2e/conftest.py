"""A real browser, a phone's profile, and a real server that a test can stop and start again."""

from __future__ import annotations

import json
import os
import shutil
import signal
import socket
import subprocess
import sys
import time
import urllib.request
from collections.abc import Callable, Iterator, Mapping
from http.cookies import SimpleCookie
from pathlib import Path
from typing import IO, Any

import pytest
from playwright.sync_api import BrowserContext, Page, expect

expect.set_options(timeout=15_000)  # chosen: a machine that does several things at once

CHROMIUM_ARGS = [
    "--no-sandbox",  # the tests may run as root
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]


class Server:
    """`cornerwise serve` on a free port, the same one after each start.

    environ : settings beside those of the test run.
    said    : the line it printed when it started.
    log     : where its own log goes, if not to that of the tests.
    sign_in : the address it printed that signs the coach in, once; each start prints a new one.
    """

    def __init__(self, log: IO[str] | None = None, **environ: str) -> None:
        self._log = log
        self._environ = environ
        with socket.create_server(("127.0.0.1", 0)) as probe:
            self.port = probe.getsockname()[1]
        self.url = f"http://127.0.0.1:{self.port}"
        self.said = self.sign_in = ""
        self._cookie = ""
        self._process: subprocess.Popen | None = None

    def start(self) -> None:
        command = [sys.executable, "-m", "cornerwise", "serve", f"--port={self.port}"]
        self._process = subprocess.Popen(
            command,
            env=os.environ | self._environ,
            stdout=subprocess.PIPE,
            stderr=self._log,
            text=True,
            start_new_session=True,
        )
        self.said = self._process.stdout.readline()
        self.sign_in = self._process.stdout.readline().split(": ", 1)[-1].strip()
        try:
            self._wait_until_well()
        except BaseException:
            self.stop()
            raise

    def _wait_until_well(self) -> None:
        end = time.monotonic() + 30
        while time.monotonic() < end:
            try:
                urllib.request.urlopen(f"{self.url}/healthz", timeout=5).close()
                return
            except OSError:
                assert self._process.poll() is None, "the server ended while it started"
                time.sleep(0.05)
        raise TimeoutError("the server did not start")

    def cookie(self) -> dict[str, Any]:
        """Return the cookie of a browser in which the coach is signed in, as a browser's context takes it."""
        if not self._cookie:
            once = self.sign_in.rsplit("once=", 1)[1]
            with self._open("/api/v1/session", {"once": once, "label": "Browser of the tests"}) as response:
                self._cookie = SimpleCookie(response.headers["Set-Cookie"])["cornerwise"].value
        return {"name": "cornerwise", "value": self._cookie, "domain": "127.0.0.1", "path": "/",
                "httpOnly": True, "secure": False, "sameSite": "Strict", "expires": -1}  # fmt: skip

    def ask(self, path: str, body: object = None, method: str | None = None) -> dict[str, Any]:
        """Return what the API answers the coach; without a method it is POST with a body, GET without."""
        with self._open(path, body, {"Cookie": f"cornerwise={self.cookie()['value']}"}, method) as response:
            return json.load(response)

    def _open(
        self,
        path: str,
        body: object = None,
        headers: Mapping[str, str] | None = None,
        method: str | None = None,
    ) -> Any:
        data = None if body is None else json.dumps(body).encode()
        said = {"Content-Type": "application/json", "Origin": self.url, **(headers or {})}
        asked = urllib.request.Request(self.url + path, data, said, method=method)
        return urllib.request.urlopen(asked, timeout=20)

    def stop(self, how: signal.Signals = signal.SIGTERM) -> None:
        if self._process is None:
            return
        with self._process as process:
            process.send_signal(how)
            try:
                process.wait(10)
            except subprocess.TimeoutExpired:
                os.killpg(process.pid, signal.SIGKILL)  # its own session
        self._process = None

    def kill(self) -> None:
        """End it and its workers at once, as a power cut would."""
        with self._process as process:
            os.killpg(process.pid, signal.SIGKILL)  # its own session
            process.wait(10)
        self._process = None


@pytest.fixture(scope="session")
def server() -> Iterator[Server]:
    server = Server()
    server.start()
    yield server
    server.stop()


@pytest.fixture(scope="session")
def base_url(server: Server) -> str:
    return server.url


@pytest.fixture(scope="session")
def browser_type_launch_args(browser_type_launch_args: dict) -> dict:
    chromium = os.environ.get("CHROMIUM") or shutil.which("chromium")
    return browser_type_launch_args | {"executable_path": chromium, "args": CHROMIUM_ARGS}


@pytest.fixture
def with_device() -> None:
    """Ask for this to have the engine on the device; without it the browser is one that cannot run it."""


@pytest.fixture
def context(context: BrowserContext, request: pytest.FixtureRequest) -> BrowserContext:
    if "with_device" not in request.fixturenames:
        context.add_init_script("delete globalThis.Worker")
    return context


@pytest.fixture(scope="session")
def browser_context_args(browser_context_args: dict, playwright, server: Server) -> dict:
    """A phone on which the coach is signed in, and that keeps nothing of the app: each test loads it from
    the server. A test of signing in begins with a context of its own."""
    signed_in = {"storage_state": {"cookies": [server.cookie()], "origins": []}}
    return browser_context_args | playwright.devices["Pixel 7"] | signed_in | {"service_workers": "block"}


@pytest.fixture
def phone(browser, browser_context_args: dict, base_url: str) -> Iterator[BrowserContext]:
    """A phone that keeps the app, as every phone does."""
    context = browser.new_context(**browser_context_args | {"service_workers": "allow"})
    yield context
    context.close()


@pytest.fixture
def fresh(tmp_path: Path) -> Iterator[Server]:
    """A server with a data folder of its own, whose sign-in link nobody has opened yet."""
    server = Server(CORNERWISE_DATA=str(tmp_path / "data"))
    server.start()
    yield server
    server.stop()


@pytest.fixture
def nobody(
    browser, browser_context_args: dict, request: pytest.FixtureRequest
) -> Iterator[Callable[..., Page]]:
    """Another phone, on which nobody is signed in, at a server's address; like `context`, one that cannot run
    the engine unless `with_device` is asked for. keeps : it keeps the app, as every phone does"""
    opened: list[BrowserContext] = []

    def open_one(url: str, *, keeps: bool = False) -> Page:
        workers = {"service_workers": "allow"} if keeps else {}
        context = browser.new_context(
            **browser_context_args | {"storage_state": None, "base_url": url} | workers
        )
        if "with_device" not in request.fixturenames:
            context.add_init_script("delete globalThis.Worker")
        opened.append(context)
        return context.new_page()

    yield open_one
    for context in opened:
        context.close()


@pytest.fixture
def profile(
    playwright, tmp_path: Path, browser_type_launch_args: dict, server: Server
) -> Iterator[Callable[[], BrowserContext]]:
    """A phone with its memory on the disk: its browser can be closed and started again."""
    pixel = {k: v for k, v in playwright.devices["Pixel 7"].items() if k != "default_browser_type"}
    options: dict[str, Any] = {**browser_type_launch_args, **pixel, "headless": True, "base_url": server.url}
    opened: list[BrowserContext] = []

    def launch() -> BrowserContext:
        opened.append(playwright.chromium.launch_persistent_context(tmp_path / "profile", **options))
        opened[-1].add_cookies([server.cookie()])
        return opened[-1]

    yield launch
    for context in opened:
        context.close()
