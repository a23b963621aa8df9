"""The app behind a real nginx with the very configuration of `api/hosting`, from outside."""

from __future__ import annotations

import http.client
import json
import os
import re
import shutil
import signal
import socket
import ssl
import subprocess
import time
from collections.abc import Iterator
from contextlib import closing
from dataclasses import dataclass
from datetime import UTC, datetime
from ipaddress import ip_address
from pathlib import Path

import pytest
from cornerwise.cli.lan.authority import authority, server_certificate

from .conftest import Server
from .screen import pick
from .trusting import phone

EXAMPLE = Path(__file__).resolve().parents[2] / "api" / "hosting" / "nginx.conf"
NAME = "bench.local"
CLIENT = "127.0.0.2"  # a client that is neither the proxy nor the app
SOMEBODY = "203.0.113.9"  # RFC 5737: for documentation, nobody's own
CLAIMS = {"X_Forwarded_For": SOMEBODY, "X_Real_IP": SOMEBODY, "Forwarded": f"for={SOMEBODY};proto=gopher"}
LOGGED = "--access-logformat=%({wsgi.url_scheme}e)s://%(h)s?%(q)s"
MAIN = """
daemon off;
{user}
pid {folder}/pid;
error_log stderr;
events {{}}
http {{
    access_log off;
    {temporary}
    include {example};
}}
"""
KINDS = ("client_body", "proxy", "fastcgi", "uwsgi", "scgi")


@dataclass(frozen=True)
class Site:
    """The app as the internet sees it.

    port, plain_port : of HTTPS and of HTTP.
    authority        : the certificate to trust.
    log              : the file in which the app says who asked and how.
    """

    port: int
    plain_port: int
    authority: Path
    log: Path

    def ask(self, method: str, path: str, body: bytes = b"", **headers: str) -> http.client.HTTPResponse:
        """Ask as a client elsewhere; return the answer, read."""
        trusted = ssl.create_default_context(cafile=self.authority)
        connection = http.client.HTTPSConnection(
            NAME, self.port, timeout=20, context=trusted, source_address=(CLIENT, 0)
        )
        return exchange(connection, self.port, method, path, body, headers)


def exchange(connection, port, method, path, body, headers) -> http.client.HTTPResponse:
    """Ask 127.0.0.1, whatever name the connection is made out to."""

    def here(_: object, timeout: float, source: tuple[str, int] | None) -> socket.socket:
        return socket.create_connection(("127.0.0.1", port), timeout, source)

    connection._create_connection = here
    with closing(connection):
        named = {name.replace("_", "-"): value for name, value in headers.items()}
        connection.request(method, path, body, named)
        answer = connection.getresponse()
        answer.text = answer.read()
        return answer


def free_port() -> int:
    with socket.create_server(("127.0.0.1", 0)) as probe:
        return probe.getsockname()[1]


def changed(text: str, changes: dict[str, str]) -> str:
    """Return the example with other ports, files and name; each has to be there."""
    for old, new in changes.items():
        assert old in text, f"the example has no {old!r}"
        text = text.replace(old, new)
    return text


def start(app: Server, folder: Path, environ: dict[str, str]) -> None:
    """Start the app with its data and its log of who asked in a folder."""
    told = {"CORNERWISE_DATA": str(folder), "GUNICORN_CMD_ARGS": f"--access-logfile={folder}/log {LOGGED}"}
    with pytest.MonkeyPatch.context() as here:
        for name, value in (told | environ).items():
            here.setenv(name, value)
        app.start()


@pytest.fixture(scope="session")
def site(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Site]:
    folder = tmp_path_factory.mktemp("hosting")
    folder.chmod(0o755)
    signer = authority(folder / "lan", NAME, datetime.now(UTC))
    own = server_certificate(folder / "lan", signer, [ip_address("127.0.0.1")], datetime.now(UTC))
    app, site = Server(), Site(free_port(), free_port(), signer.certificate_file, folder / "log")
    config = written(folder, site, app.port, own.certificate_file, own.key_file)
    start(app, folder, {"CORNERWISE_PROXIES": "1"})
    nginx = os.environ.get("NGINX") or shutil.which("nginx") or "/usr/sbin/nginx"
    proxy = subprocess.Popen([nginx, "-p", str(folder), "-c", str(config)])
    try:
        wait_until_up(proxy, site.port)
        yield site
    finally:
        proxy.send_signal(signal.SIGTERM)
        proxy.wait(10)
        app.stop()


def written(folder: Path, site: Site, app_port: int, certificate: Path, key: Path) -> Path:
    """Write the example for this site, inside a whole configuration; return the file of that."""
    example = folder / "example.conf"
    changes = {
        "listen 80;": f"listen 127.0.0.1:{site.plain_port};",
        "listen 443 ssl": f"listen 127.0.0.1:{site.port} ssl",
        "server_name bench.example.org;": f"server_name {NAME};",
        "https://$http_host": f"https://{NAME}:{site.port}",
        "/etc/ssl/cornerwise/server.crt": str(certificate),
        "/etc/ssl/cornerwise/server.key": str(key),
        "http://127.0.0.1:8000": f"http://127.0.0.1:{app_port}",
    }
    example.write_text(changed(EXAMPLE.read_text(), changes))
    temporary = " ".join(f"{kind}_temp_path {folder}/{kind};" for kind in KINDS)
    user = "user root;" if os.geteuid() == 0 else ""
    config = folder / "nginx.conf"
    config.write_text(MAIN.format(folder=folder, user=user, temporary=temporary, example=example))
    return config


def wait_until_up(proxy: subprocess.Popen, port: int) -> None:
    end = time.monotonic() + 20
    while time.monotonic() < end:
        try:
            socket.create_connection(("127.0.0.1", port), timeout=5).close()
            return
        except OSError:
            assert proxy.poll() is None, "nginx ended while it started"
            time.sleep(0.05)
    raise TimeoutError("nginx did not start")


def test_a_browser_that_trusts_the_site_uses_the_app_over_https(
    site, browser_type, browser_type_launch_args, tmp_path
):
    names = {NAME: "127.0.0.1"}
    with phone(browser_type, browser_type_launch_args, tmp_path / "home", site.authority, names) as context:
        page = context.new_page()
        page.goto(f"https://{NAME}:{site.port}/")
        pick(page, 4)
        assert page.evaluate("isSecureContext && 'serviceWorker' in navigator")


def test_the_page_comes_with_the_apps_own_headers_and_is_pinned_to_https(site):
    page = site.ask("GET", "/")
    assert (page.status, page.headers.get_content_type()) == (200, "text/html")
    assert page.headers["Cache-Control"] == "no-cache"
    assert "default-src 'self'" in page.headers["Content-Security-Policy"]
    assert page.headers["Strict-Transport-Security"] == "max-age=31536000"
    script = re.search(rb'src="(/assets/[^"]+\.js)"', page.text)[1].decode()
    asset = site.ask("GET", script)
    assert asset.headers.get_content_type() == "text/javascript"
    assert "immutable" in asset.headers["Cache-Control"]


def test_the_api_answers_and_refuses_in_its_own_words(site):
    kind = {"Content_Type": "application/json"}
    answer = site.ask("POST", "/api/v1/calls", b'{"opponent": {"setter_position": 4}}', **kind)
    assert answer.status == 200
    assert json.loads(answer.text)["best"]["words"]["call"]
    refused = site.ask("POST", "/api/v1/calls", b'{"opponent": {"setter_position": 7}}', **kind)
    assert (refused.status, refused.headers.get_content_type()) == (422, "application/problem+json")


@pytest.mark.parametrize(("size", "words"), [(100_000, "64 KB"), (10_000_000, "9 MB")])
def test_what_is_too_long_is_refused_as_problem_details_by_the_app_and_by_the_proxy(site, size, words):
    answer = site.ask("POST", "/api/v1/calls", b" " * size, Content_Type="application/json")
    assert (answer.status, answer.headers.get_content_type()) == (413, "application/problem+json")
    problem = json.loads(answer.text)
    assert (problem["status"], words in problem["detail"]) == (413, True)


def test_the_longest_log_passes_the_proxy(site):
    answer = site.ask("POST", "/api/v1/replay", b" " * (8 * 1024 * 1024), Content_Type="application/json")
    assert answer.status == 400  # read to its end, and no JSON


def logged(log: Path, query: str) -> str:
    """Return how and by whom the app says it was asked this; it writes that down after its answer."""
    end = time.monotonic() + 20
    while time.monotonic() < end:
        for line in log.read_text().splitlines():
            if line.endswith(f"?{query}"):
                return line.removesuffix(f"?{query}")
        time.sleep(0.02)
    raise TimeoutError(f"nobody asked {query}")


def test_the_app_sees_the_client_and_https_whatever_a_client_makes_up(site):
    assert site.ask("GET", "/healthz?honest").status == 200
    assert logged(site.log, "honest") == f"https://{CLIENT}"
    assert site.ask("GET", "/healthz?made-up", **CLAIMS | {"X_Forwarded_Proto": "http"}).status == 200
    assert logged(site.log, "made-up") == f"https://{CLIENT}"


def test_plain_http_leads_to_https_and_nowhere_else(site):
    connection = http.client.HTTPConnection("127.0.0.1", site.plain_port, timeout=20)
    answer = exchange(connection, site.plain_port, "GET", "/matches", b"", {})
    assert answer.status == 308
    assert answer.headers["Location"] == f"https://{NAME}:{site.port}/matches"


def test_without_a_proxy_of_ours_nobody_is_believed(tmp_path):
    app = Server()
    try:
        start(app, tmp_path, {})
        connection = http.client.HTTPConnection("127.0.0.1", app.port, timeout=20)
        claims = CLAIMS | {"X_Forwarded_Proto": "https"}
        assert exchange(connection, app.port, "GET", "/healthz?made-up", b"", claims).status == 200
        assert logged(tmp_path / "log", "made-up") == "http://127.0.0.1"
    finally:
        app.stop()
