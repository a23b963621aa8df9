"""`cornerwise serve`: the app and its API over HTTP."""

from __future__ import annotations

import errno
import os
import socket
import sys
from collections.abc import Iterable

import click

from .links import first_link

WHY_NOT = {
    errno.EADDRINUSE: "another program uses this port",
    errno.EACCES: "this port is open to administrators only",
    errno.EADDRNOTAVAIL: "this machine has no such address",
    socket.EAI_NONAME: "no host of this name is known",
    socket.EAI_AGAIN: "the name of the host cannot be looked up now",
}


@click.command()
@click.option("--host", help="Address to serve at.  [default: 127.0.0.1; with --lan all private ones]")
@click.option("--port", envvar="PORT", type=click.IntRange(1, 65535), default=8000, show_default=True)
@click.option("--workers", type=click.IntRange(1), default=1, show_default=True, help="Processes.")
@click.option("--threads", type=click.IntRange(1), help="Threads in each.  [default: 8; with --lan 32]")
@click.option("--lan", is_flag=True, help="HTTPS for the phones on the network around this machine.")
@click.option(
    "--trust-port",
    envvar="TRUST_PORT",
    type=click.IntRange(1, 65535),
    default=8080,
    show_default=True,
    help="With --lan: where phones get the certificate, over HTTP.",
)
def serve(host: str | None, port: int, workers: int, threads: int | None, lan: bool, trust_port: int) -> None:
    """Serve the app and its API until Ctrl-C."""
    if lan:
        from .lan.serving import serve_lan  # other commands start without the certificates' library

        # Browsers connect ahead; over TLS such a connection takes a thread until it has been silent for long.
        sys.exit(serve_lan(host, port, trust_port, workers, threads or 32))
    host = host or "127.0.0.1"
    check_free(host, port)
    click.echo(f"Cornerwise is on http://{host}:{port}/  (Ctrl-C stops it)")
    link = first_link(f"http://{host}:{port}")
    if link:
        click.echo(f"Sign in as the coach, once, within a day: {link}")
    sys.stdout.flush()
    arguments = gunicorn("cornerwise.app:create_app()", [(host, port)], workers=workers, threads=threads or 8)
    os.execv(sys.executable, arguments)


def gunicorn(app: str, listen: Iterable[tuple[str, int]], **options: object) -> list[str]:
    """Return the command that serves an app at these addresses and ports.

    options : gunicorn's own.
    """
    # gthread: a phone's idle connection must not keep others waiting. Only ProxyFix, when it is
    # configured, believes what a request says about who sent it. No access log, and no warnings: those
    # would quote a request that is none, with whatever is in it.
    usual = ["--worker-class=gthread", "--no-control-socket", "--log-level=error", "--forwarded-allow-ips="]
    binds = [f"--bind={host}:{port}" for host, port in listen]
    more = [f"--{name}={value}" for name, value in options.items()]
    return [sys.executable, "-m", "gunicorn", *usual, *binds, *more, app]


def check_free(host: str, port: int, option: str = "--port or PORT") -> None:
    """Raise ClickException if nobody can listen there; `option` chooses another port."""
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    try:
        socket.create_server((host, port), family=family).close()
    except OSError as error:
        why = WHY_NOT.get(error.errno or 0, error.strerror)
        advice = f"choose another with {option}, or another --host"
        raise click.ClickException(f"cannot listen on {host}:{port}: {why}; {advice}") from None
