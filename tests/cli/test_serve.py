"""`cornerwise serve`, refused: over real sockets."""

from __future__ import annotations

import socket

import pytest
from click.testing import CliRunner, Result
from cornerwise.cli import main
from cornerwise.cli.lan import serving


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


def test_https_and_http_need_a_port_each():
    result = run("--lan", "--host", "127.0.0.1", "--port", "8000", "--trust-port", "8000")
    assert result.exit_code == 1
    assert result.output == "Error: --port and --trust-port are both 8000: HTTPS and HTTP need one each\n"


@pytest.mark.parametrize("host", ["8.8.8.8", "2001:db8::1", "laptop"])
def test_phones_are_served_at_private_addresses_only(host):
    result = run("--lan", "--host", host)
    assert result.exit_code == 1
    assert f"--host {host}: expected " in result.output


def test_a_taken_port_of_the_trust_page_is_said_with_its_own_option():
    with socket.create_server(("127.0.0.1", 0)) as taken, socket.create_server(("127.0.0.1", 0)) as other:
        port, trust_port = other.getsockname()[1], taken.getsockname()[1]
        other.close()
        result = run("--lan", "--host", "127.0.0.1", "--port", str(port), "--trust-port", str(trust_port))
    assert result.exit_code == 1
    assert f"127.0.0.1:{trust_port}: another program uses this port; choose another with --trust-port" in (
        result.output
    )


def test_a_laptop_on_no_network_is_told_what_to_do(monkeypatch):
    monkeypatch.setattr(serving, "private_addresses", tuple)
    result = run("--lan")
    assert result.exit_code == 1
    assert "on no private network: join the network of the phones, or turn on" in result.output


def test_certificates_that_cannot_be_read_are_said_with_what_to_do(monkeypatch, tmp_path):
    monkeypatch.setenv("CORNERWISE_DATA", str(tmp_path))
    (tmp_path / "lan").mkdir()
    (tmp_path / "lan" / "authority.crt").write_text("no certificate")
    result = run("--lan", "--host", "127.0.0.1", "--port", "18439", "--trust-port", "18089")
    assert result.exit_code == 1
    assert f"cannot read authority in {tmp_path / 'lan'}: " in result.output
    assert "to make new ones; each phone must then trust the new authority" in result.output
