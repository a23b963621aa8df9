"""`cornerwise serve`, refused: over real sockets."""

from __future__ import annotations

import socket

from click.testing import CliRunner, Result
from cornerwise.cli import main


def run(*arguments: str) -> Result:
    return CliRunner().invoke(main, ["serve", *arguments])


def test_a_port_in_use_is_said_in_plain_words_with_what_to_do():
    with socket.create_server(("127.0.0.1", 0)) as taken:
        port = taken.getsockname()[1]
        result = run("--port", str(port))
    assert result.exit_code == 1
    assert result.output == (
        f"Error: cannot listen on 127.0.0.1:{port}: another program uses this port; "
        "choose another with --port or PORT, or another --host\n"
    )


def test_an_address_of_another_machine_is_refused():
    result = run("--host", "192.0.2.1", "--port", "8000")  # RFC 5737: for documentation, nobody's own
    assert result.exit_code == 1
    assert "192.0.2.1:8000: this machine has no such address;" in result.output
