"""`cornerwise serve`: the app and its API over HTTP."""

from __future__ import annotations

import errno
import os
import socket
import sys

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
@click.option("--host", default="127.0.0.1", show_default=True)
@click.option("--port", envvar="PORT", type=click.IntRange(1, 65535), default=8000, show_default=True)
@click.option("--workers", type=click.IntRange(1), default=1, show_default=True, help="Processes.")
@click.option("--threads", type=click.IntRange(1), default=8, show_default=True, help="Threads in each.")
def serve(host: str, port: int, workers: int, threads: int) -> None:
    """Serve the app and its API until Ctrl-C."""
    _check_free(host, port)
    click.echo(f"Cornerwise is on http://{host}:{port}/  (Ctrl-C stops it)")
    link = first_link(f"http://{host}:{port}")
    if link:
        click.echo(f"Sign in as the coach, once, within a day: {link}")
    sys.stdout.flush()
    options = {"bind": f"{host}:{port}", "workers": workers, "threads": threads, "log-level": "error"}
    # No access log, and no warnings: those would quote a request that is none, with whatever is in it.
    arguments = [f"--{name}={value}" for name, value in options.items()]
    # gthread: a phone's idle connection must not keep others waiting.
    gunicorn = [sys.executable, "-m", "gunicorn", "--worker-class=gthread", "--no-control-socket", *arguments]
    os.execv(sys.executable, [*gunicorn, "cornerwise.app:create_app()"])


def _check_free(host: str, port: int) -> None:
    try:
        socket.create_server((host, port)).close()
    except OSError as error:
        why = WHY_NOT.get(error.errno or 0, error.strerror)
        advice = "choose another with --port or PORT, or another --host"
        raise click.ClickException(f"cannot listen on {host}:{port}: {why}; {advice}") from None
