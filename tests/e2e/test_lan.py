"""`cornerwise serve --lan`, from a phone that trusts the laptop and from one that does not."""

from __future__ import annotations

import json
import os
import signal
import socket
import ssl
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from contextlib import ExitStack
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path
from threading import Thread

import pytest
from cornerwise.cli.lan.addresses import at, local_name, private_addresses
from cryptography import x509
from cryptography.hazmat.primitives.asymmetric.ec import SECP256R1, generate_private_key
from cryptography.hazmat.primitives.hashes import SHA256
from cryptography.hazmat.primitives.serialization import (
    Encoding,
    NoEncryption,
    PrivateFormat,
    load_pem_private_key,
)
from playwright.sync_api import BrowserContext, Error

from .screen import axe, outside, pick
from .trusting import phone

NAME = local_name()
ANSWER = b"HTTP/1.1 200 OK\r\nContent-Length: 4\r\nConnection: close\r\n\r\ntrue"


def free_port(host: str) -> int:
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    with socket.create_server((host, 0), family=family) as probe:
        return probe.getsockname()[1]


@dataclass
class Lan:
    """`cornerwise serve --lan` at one address of this machine: the one on its network if it is on any."""

    data: Path
    host: str
    port: int
    trust_port: int
    process: subprocess.Popen | None = None
    said: str = ""

    @property
    def app(self) -> str:
        return f"https://{self.host}:{self.port}"

    @property
    def page(self) -> str:
        return f"http://{self.host}:{self.trust_port}"

    def start(self) -> None:
        command = [sys.executable, "-m", "cornerwise", "serve", "--lan", f"--host={self.host.strip('[]')}"]
        command += [f"--port={self.port}", f"--trust-port={self.trust_port}"]
        environ = os.environ | {"CORNERWISE_DATA": str(self.data)}
        self.process = subprocess.Popen(
            command, stdout=subprocess.PIPE, text=True, start_new_session=True, env=environ
        )
        lines = iter(self.process.stdout.readline, "")
        self.said = "".join(iter(lambda: next(lines, "Ctrl-C"), "Ctrl-C stops both servers.\n"))
        self._wait_until_well()

    def _wait_until_well(self) -> None:
        end = time.monotonic() + 60
        while time.monotonic() < end:
            try:
                urllib.request.urlopen(f"{self.page}/", timeout=5).close()
                self.get("/healthz")
                return
            except OSError:
                assert self.process.poll() is None, "the servers ended while they started"
                time.sleep(0.05)
        raise TimeoutError("the servers did not start")

    def get(self, path: str) -> bytes:
        trusted = ssl.create_default_context(cafile=self.data / "lan" / "authority.crt")
        with urllib.request.urlopen(self.app + path, timeout=20, context=trusted) as answer:
            return answer.read()

    def stop(self, how: signal.Signals = signal.SIGTERM) -> int:
        """Stop it; return the exit code."""
        self.process.send_signal(how)
        return self.ended()

    def ended(self) -> int:
        """Return the exit code of the command once it ends by itself."""
        with self.process as process:
            try:
                return process.wait(20)
            finally:
                if process.poll() is None:
                    os.killpg(process.pid, signal.SIGKILL)  # its own session

    def listening(self) -> list[bool]:
        return [reachable(self.host, port) for port in (self.port, self.trust_port)]


def reachable(host: str, port: int) -> bool:
    try:
        socket.create_connection((host.strip("[]"), port), timeout=5).close()
    except ConnectionRefusedError:
        return False
    return True


def new_lan(data: Path) -> Lan:
    host = str(next(iter(private_addresses()), "127.0.0.1"))
    return Lan(data, at(host), free_port(host), free_port(host))


@pytest.fixture(scope="session")
def lan(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Lan]:
    lan = new_lan(tmp_path_factory.mktemp("lan"))
    try:
        lan.start()
        yield lan
    finally:
        lan.stop()


@pytest.fixture(scope="session")
def certificate(lan: Lan, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The certificate as a phone gets it."""
    with urllib.request.urlopen(f"{lan.page}/cornerwise.crt", timeout=20) as answer:
        assert answer.headers["Content-Type"] == "application/x-x509-ca-cert"
        file = tmp_path_factory.mktemp("downloads") / "cornerwise.crt"
        file.write_bytes(answer.read())
    return file


@pytest.fixture(scope="session")
def trusting(
    lan: Lan, certificate: Path, browser_type, browser_type_launch_args, tmp_path_factory
) -> Iterator[BrowserContext]:
    """A phone that trusts the laptop."""
    names = {NAME: lan.host, "example.org": "127.0.0.1", "localhost": "127.0.0.1"}
    home = tmp_path_factory.mktemp("phone") / "home"
    with phone(browser_type, browser_type_launch_args, home, certificate, names) as context:
        yield context


def test_a_phone_that_trusts_the_laptop_goes_from_the_trust_page_into_the_app(lan, trusting):
    page = trusting.new_page()
    refused = []
    page.on("requestfailed", lambda request: refused.append(request.url))
    page.goto(f"{lan.page}/")
    page.get_by_role("link", name="Open the app").tap()
    page.wait_for_url(f"{lan.app}/**")
    pick(page, 4)  # a call, from the API
    assert page.evaluate("isSecureContext && 'serviceWorker' in navigator")
    assert refused == []


def test_the_laptops_name_is_as_good_as_its_address(lan, trusting):
    page = trusting.new_page()
    page.goto(f"https://{NAME}:{lan.port}/")
    pick(page, 4)  # a call, from the API
    assert page.evaluate("isSecureContext && 'serviceWorker' in navigator")


def test_a_phone_that_does_not_trust_the_laptop_is_refused(
    lan, browser_type, browser_type_launch_args, tmp_path
):
    with phone(browser_type, browser_type_launch_args, tmp_path / "home", None, {NAME: lan.host}) as context:
        page = context.new_page()
        for url in (lan.app, f"https://{NAME}:{lan.port}"):
            with pytest.raises(Error, match="ERR_CERT_AUTHORITY_INVALID"):
                page.goto(f"{url}/")


def forged(lan: Lan, folder: Path, name: str) -> ssl.SSLContext:
    """Return a server's TLS for any name, signed with the authority's own key."""
    signer = x509.load_pem_x509_certificate((lan.data / "lan" / "authority.crt").read_bytes())
    key = generate_private_key(SECP256R1())
    now = datetime.now(UTC)
    certificate = (
        x509.CertificateBuilder(signer.subject, x509.Name([]))
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - timedelta(days=1))
        .not_valid_after(now + timedelta(days=30))
        .add_extension(x509.SubjectAlternativeName([x509.DNSName(name)]), critical=True)
        .sign(load_pem_private_key((lan.data / "lan" / "authority.key").read_bytes(), None), SHA256())
    )
    pem = folder / "forged.pem"
    secret = key.private_bytes(Encoding.PEM, PrivateFormat.PKCS8, NoEncryption())
    pem.write_bytes(secret + certificate.public_bytes(Encoding.PEM))
    context = ssl.create_default_context(ssl.Purpose.CLIENT_AUTH)
    context.load_cert_chain(pem)
    return context


@pytest.mark.parametrize(
    ("name", "believed"), [("localhost", True), ("example.org", False)], ids=["its own", "a public one"]
)
def test_a_trusting_phone_believes_the_laptop_under_its_own_names_only(
    lan, trusting, tmp_path, name, believed
):
    with socket.create_server(("127.0.0.1", 0)) as listening, ExitStack() as after:
        certificate = forged(lan, tmp_path, name)

        def answer() -> None:
            while True:
                try:
                    connection, _ = listening.accept()
                except OSError:
                    return  # the test is over
                try:
                    with certificate.wrap_socket(connection, server_side=True) as client:
                        client.recv(65536)
                        client.sendall(ANSWER)
                except OSError:
                    continue  # the phone did not believe us

        thread = Thread(target=answer)
        thread.start()
        after.callback(thread.join)
        after.callback(listening.shutdown, socket.SHUT_RDWR)
        page = trusting.new_page()
        url = f"https://{name}:{listening.getsockname()[1]}/"
        if believed:
            assert page.goto(url).text() == "true"
        else:
            with pytest.raises(Error, match="ERR_CERT_"):
                page.goto(url)


def status(url: str, method: str = "GET") -> int:
    try:
        with urllib.request.urlopen(urllib.request.Request(url, method=method), timeout=20) as answer:
            return answer.status
    except urllib.error.HTTPError as error:
        with error:
            return error.code


def test_the_trust_page_serves_nothing_of_the_app_and_no_key(lan):
    document = json.loads(lan.get("/api/openapi.json"))
    asked = [path.replace("{", "").replace("}", "") for path in document["paths"]]
    assert len(asked) > 5
    asked += ["/api/openapi.json", "/healthz", "/index.html", "/sw.js", "/manifest.webmanifest", "/matches"]
    kept = os.listdir(lan.data / "lan")
    assert "authority.key" in kept
    asked += [f"{way}{name}" for way in ("/", "/lan/", "/../", "/%2e%2e/") for name in kept]
    asked += ["/page.html", "/__init__.py", "/style.css/../page.html"]
    assert {path: status(lan.page + path) for path in asked} == dict.fromkeys(asked, 404)
    assert status(f"{lan.page}/", "POST") == 405


def test_the_trust_page_reads_well_on_a_phone(lan, trusting):
    page = trusting.new_page()
    said = []
    page.on("console", lambda message: said.append(message.text))
    page.goto(f"{lan.page}/")
    for summary in page.locator("summary").all():
        summary.tap()
    assert axe(page) == []
    assert outside(page) == []
    assert said == []  # the policy of the page stops nothing of its own
    links = page.locator("a, summary").all()
    assert len(links) >= 6
    assert all(link.bounding_box()["height"] >= 44 for link in links)


def test_phones_that_fall_silent_are_let_go_and_keep_nobody_waiting(lan):
    address = (lan.host.strip("[]"), lan.port)
    trusted = ssl.create_default_context(cafile=lan.data / "lan" / "authority.crt")
    with ExitStack() as phones:
        started = [phones.enter_context(socket.create_connection(address, timeout=30)) for _ in range(12)]
        for phone in started:
            phone.sendall(b"\x16\x03\x01")  # the first bytes of a handshake
        ahead = []
        for _ in range(12):
            plain = socket.create_connection(address, timeout=30)
            ahead.append(phones.enter_context(trusted.wrap_socket(plain, server_hostname=address[0])))
        assert json.loads(lan.get("/healthz")) == {"status": "ok"}
        for phone in (*started, *ahead):
            phone.settimeout(30)
            while phone.recv(1024):
                pass  # until the server ends it


def marks(said: str) -> str:
    return "".join(line.strip() for line in said.splitlines() if line.count(":") == 7 and len(line) == 25)


def test_laptop_and_page_show_the_fingerprint_of_the_certificate(lan, certificate, trusting):
    command = ["openssl", "x509", "-noout", "-fingerprint", "-sha256", "-inform", "DER", "-in", certificate]
    shown = subprocess.run(command, capture_output=True, text=True, check=True, timeout=20).stdout
    expected = shown.strip().partition("=")[2].replace(":", "")
    assert marks(lan.said).replace(":", "") == expected
    page = trusting.new_page()
    page.goto(f"{lan.page}/")
    assert "".join(page.locator(".marks span").all_inner_texts()).replace(":", "") == expected


def test_the_laptop_says_where_phones_begin_and_where_the_app_is(lan):
    assert f"A new phone: scan this, or open {lan.page}/\n" in lan.said
    assert f"  {lan.app}/\n" in lan.said
    assert f"  https://{NAME}:{lan.port}/\n" in lan.said
    assert "█▄▄▄█" in lan.said  # a finder pattern of the code


def test_on_the_laptop_itself_the_page_shows_the_codes_for_phones(lan):
    with urllib.request.urlopen(f"http://127.0.0.1:{lan.trust_port}/", timeout=20) as answer:
        text = answer.read().decode()
    assert f'alt="QR code of {lan.page}/"' in text
    assert f'alt="QR code of {lan.app}/"' in text


def test_both_servers_end_together_and_a_restart_keeps_the_authority(tmp_path):
    lan = new_lan(tmp_path)
    lan.start()
    before = marks(lan.said)
    assert lan.listening() == [True, True]
    assert lan.stop(signal.SIGINT) == 0
    assert lan.listening() == [False, False]
    lan.start()
    assert marks(lan.said) == before != ""
    family = Path(f"/proc/{lan.process.pid}/task/{lan.process.pid}/children")
    _, trust_page = map(int, family.read_text().split())
    os.kill(trust_page, signal.SIGKILL)  # as if it had crashed
    assert lan.ended() != 0
    assert not reachable(lan.host, lan.port)
