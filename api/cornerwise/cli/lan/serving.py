"""Two servers: the app over HTTPS, and over HTTP only the page on which a phone learns to trust it."""

from __future__ import annotations

import io
import signal
import subprocess
import sys
import time
from collections.abc import Iterable, Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass
from datetime import UTC, datetime
from ipaddress import IPv4Address, ip_address
from pathlib import Path

import click
import segno

from cornerwise.config import Config

from ..links import first_link
from ..serve import check_free, gunicorn
from .addresses import Address, at, is_private, local_name, private_addresses
from .authority import Pair, Unreadable, authority, fingerprint, local_names, server_certificate

HERE = IPv4Address("127.0.0.1")
LOOK_EVERY_S = 0.2  # chosen: how soon one server's end ends the other
STOP_WITHIN_S = 15.0  # chosen: longer than a call takes
TRUST_APP = "cornerwise.web.trust:create_trust_app"


@dataclass(frozen=True, slots=True)
class Plan:
    """What is served where.

    addresses  : those for phones, the one for the QR code first.
    everywhere : those and this machine's own.
    name       : this machine's local name, empty if the authority vouches for none.
    port       : of HTTPS.
    trust_port : of HTTP.
    """

    addresses: tuple[Address, ...]
    everywhere: tuple[Address, ...]
    name: str
    port: int
    trust_port: int
    signer: Pair


def serve_lan(host: str | None, port: int, trust_port: int, workers: int, threads: int) -> int:
    """Serve until Ctrl-C, or until one of the servers ends; return the exit code.

    host : a private address of this machine, None for all it has.

    Raises ClickException with what is in the way.
    """
    addresses = _addresses(host)
    if port == trust_port:
        raise click.ClickException(f"--port and --trust-port are both {port}: HTTPS and HTTP need one each")
    everywhere = tuple(dict.fromkeys([HERE, *addresses]))
    for address in everywhere:
        check_free(str(address), port)
        check_free(str(address), trust_port, "--trust-port or TRUST_PORT")
    signer, server = _certificates(Config.from_env().data / "lan", everywhere)
    name = next((name for name in local_names(signer) if name.endswith(".local")), "")
    plan = Plan(addresses, everywhere, name, port, trust_port, signer)
    click.echo("\n".join(_said(plan)))
    sys.stdout.flush()
    return _run([_app(plan, server, workers, threads), _trust(plan)])


def _addresses(host: str | None) -> tuple[Address, ...]:
    """Return where to serve, the address for the QR code first."""
    if host is None:
        found = private_addresses()
        if not found:
            advice = "join the network of the phones, or turn on this laptop's hotspot, and start again"
            raise click.ClickException(f"this laptop is on no private network: {advice}")
        return found
    try:
        address = ip_address(host)
    except ValueError:
        expected = "an address like 192.168.1.20 with --lan"
        raise click.ClickException(f"--host {host}: expected {expected}") from None
    if not is_private(address):
        raise click.ClickException(f"--host {host}: expected a private address with --lan, this one is not")
    return (address,)


def _certificates(folder: Path, addresses: Sequence[Address]) -> tuple[Pair, Pair]:
    now = datetime.now(UTC)
    try:
        signer = authority(folder, local_name(), now)
        return signer, server_certificate(folder, signer, addresses, now)
    except Unreadable as error:
        advice = f"delete the folder {folder} to make new ones; each phone must then trust the new authority"
        raise click.ClickException(f"cannot read {error}; {advice}") from None
    except OSError as error:
        raise click.ClickException(f"cannot keep the certificates in {folder}: {error.strerror}") from None


def _said(plan: Plan) -> Iterator[str]:
    """Yield the lines that tell how a phone gets in."""
    trust = f"http://{at(plan.addresses[0])}:{plan.trust_port}/"
    yield f"A new phone: scan this, or open {trust}\n"
    yield from _code(trust)
    yield "\nA phone that trusts this laptop opens the app at"
    hosts = [*map(at, plan.addresses), *filter(None, [plan.name])]
    yield from (f"  https://{host}:{plan.port}/" for host in hosts)
    link = first_link(f"https://{at(plan.addresses[0])}:{plan.port}")
    if link:
        yield f"\nSign in as the coach, once, within a day:\n  {link}"
    yield f"\nThe codes on a screen: http://{HERE}:{plan.trust_port}/"
    yield "SHA-256 of the certificate, for comparing with the phone's:"
    marks = fingerprint(plan.signer.certificate)
    yield from (f"  {marks[start : start + 23]}" for start in range(0, len(marks), 24))
    yield "Ctrl-C stops both servers."


def _code(address: str) -> Iterator[str]:
    """Yield the lines of a QR code, in black and white whatever the terminal's colours are."""
    drawn = io.StringIO()
    segno.make(address, micro=False).terminal(drawn, compact=True, border=2)
    for line in drawn.getvalue().splitlines():
        yield click.style(line, fg="bright_white", bg="black")


def _app(plan: Plan, server: Pair, workers: int, threads: int) -> list[str]:
    pair = {"certfile": server.certificate_file, "keyfile": server.key_file}
    tls = {"config": "python:cornerwise.cli.lan.tls", **pair}
    listen = [(at(address), plan.port) for address in plan.everywhere]
    return gunicorn("cornerwise.app:create_app()", listen, workers=workers, threads=threads, **tls)


def _trust(plan: Plan) -> list[str]:
    told = {
        "certificate_file": str(plan.signer.certificate_file),
        "hosts": [at(address) for address in plan.addresses],
        "name": plan.name,
        "port": plan.port,
        "trust_port": plan.trust_port,
    }
    app = f"{TRUST_APP}({', '.join(f'{key}={value!r}' for key, value in told.items())})"
    return gunicorn(app, [(at(address), plan.trust_port) for address in plan.everywhere], threads=4)


def _run(commands: Iterable[list[str]]) -> int:
    """Run programs until one ends or we are told to stop, then stop all; return 0 if we were told to."""
    for stop in (signal.SIGINT, signal.SIGTERM):
        signal.signal(stop, signal.default_int_handler)  # also where a shell has it ignored
    running: list[subprocess.Popen[bytes]] = []
    try:
        for command in commands:
            running.append(subprocess.Popen(command))
        while all(process.poll() is None for process in running):
            time.sleep(LOOK_EVERY_S)
        return next(process.returncode for process in running if process.returncode is not None) or 1
    except KeyboardInterrupt:
        return 0
    finally:
        _stop(running)


def _stop(running: Iterable[subprocess.Popen[bytes]]) -> None:
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # a second Ctrl-C must not leave one of them behind
    for process in running:
        process.terminate()
    for process in running:
        with suppress(subprocess.TimeoutExpired):
            process.wait(STOP_WITHIN_S)
        process.kill()
        process.wait()
