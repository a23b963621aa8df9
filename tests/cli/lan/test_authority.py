"""The certificates, checked by OpenSSL itself: what they vouch for, for how long, and what is kept."""

from __future__ import annotations

import os
import ssl
import subprocess
from datetime import UTC, datetime, timedelta
from ipaddress import ip_address
from pathlib import Path

import pytest
from cornerwise.cli.lan.authority import Pair, Unreadable, authority, fingerprint, server_certificate
from cryptography import x509
from cryptography.hazmat.primitives.asymmetric.ec import SECP256R1, generate_private_key
from cryptography.hazmat.primitives.hashes import SHA256
from cryptography.hazmat.primitives.serialization import Encoding, NoEncryption, PrivateFormat

NOW = datetime.now(UTC)
HOME = ip_address("192.168.1.20")
HOTSPOT = ip_address("fd00::20")
NAME = "laptop.local"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return tmp_path / "data" / "lan"


@pytest.fixture
def signer(folder: Path) -> Pair:
    return authority(folder, NAME, NOW)


@pytest.fixture
def server(folder: Path, signer: Pair) -> Pair:
    return server_certificate(folder, signer, [HOME, HOTSPOT], NOW)


def forged(signer: Pair, *names: x509.GeneralName) -> Pair:
    """Return a certificate for any names, signed with the authority's key as a thief would."""
    key = generate_private_key(SECP256R1())
    certificate = (
        x509.CertificateBuilder(signer.certificate.subject)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(NOW - timedelta(days=1))
        .not_valid_after(NOW + timedelta(days=30))
        .subject_name(x509.Name([x509.NameAttribute(x509.NameOID.ORGANIZATION_NAME, "thief")]))
        .add_extension(x509.SubjectAlternativeName(names), critical=False)
        .sign(signer.key, SHA256())
    )
    folder = signer.key_file.parent
    pair = Pair(certificate, key, folder / "forged.crt", folder / "forged.key")
    pair.certificate_file.write_bytes(certificate.public_bytes(Encoding.PEM))
    pair.key_file.write_bytes(key.private_bytes(Encoding.PEM, PrivateFormat.PKCS8, NoEncryption()))
    return pair


def connect(server: Pair, trusted: Path | None, name: str) -> None:
    """Shake hands in memory; raise SSLCertVerificationError if the client does not believe the server."""
    there = ssl.create_default_context(ssl.Purpose.CLIENT_AUTH)
    there.load_cert_chain(server.certificate_file, server.key_file)
    here = ssl.create_default_context()  # checks chain and name, as a browser does
    if trusted is not None:
        here.load_verify_locations(trusted)
    up, down = ssl.MemoryBIO(), ssl.MemoryBIO()
    ends = [here.wrap_bio(down, up, server_hostname=name), there.wrap_bio(up, down, server_side=True)]
    for _ in range(4):
        for end in ends:
            try:
                end.do_handshake()
            except ssl.SSLWantReadError:
                continue
    assert all(end.version() in ("TLSv1.2", "TLSv1.3") for end in ends)


@pytest.mark.parametrize("name", ["192.168.1.20", "fd00::20", NAME, "localhost"])
def test_who_trusts_the_authority_believes_the_server(signer, server, name):
    connect(server, signer.certificate_file, name)


def test_who_does_not_trust_the_authority_does_not_believe_the_server(server):
    with pytest.raises(ssl.SSLCertVerificationError, match="unable to get local issuer"):
        connect(server, None, "192.168.1.20")


@pytest.mark.parametrize("name", ["192.168.1.21", "other.local", "laptop"])
def test_the_server_is_believed_under_its_own_names_only(signer, server, name):
    with pytest.raises(ssl.SSLCertVerificationError, match=r"mismatch|not valid for"):
        connect(server, signer.certificate_file, name)


@pytest.mark.parametrize("name", ["example.org", "laptop.local.example.org", "other.local", "local"])
def test_even_its_key_cannot_vouch_for_another_name(signer, name):
    with pytest.raises(ssl.SSLCertVerificationError, match="permitted subtree violation"):
        connect(forged(signer, x509.DNSName(name)), signer.certificate_file, name)


@pytest.mark.parametrize("address", ["8.8.8.8", "172.32.0.1", "192.169.0.1", "2001:db8::1", "fe00::1"])
def test_even_its_key_cannot_vouch_for_a_public_address(signer, address):
    thief = forged(signer, x509.IPAddress(ip_address(address)))
    with pytest.raises(ssl.SSLCertVerificationError, match="permitted subtree violation"):
        connect(thief, signer.certificate_file, address)


@pytest.mark.parametrize("address", ["10.1.2.3", "172.31.0.1", "192.168.9.9", "fd12::1"])
def test_its_key_can_vouch_for_private_addresses(signer, address):
    connect(forged(signer, x509.IPAddress(ip_address(address))), signer.certificate_file, address)


def test_its_key_cannot_make_another_authority(signer):
    constraints = signer.certificate.extensions.get_extension_for_class(x509.BasicConstraints)
    assert (constraints.critical, constraints.value.ca, constraints.value.path_length) == (True, True, 0)


def test_openssl_takes_it_for_a_server_and_for_nothing_else(signer, server):
    def verify(purpose: str) -> int:
        command = ["openssl", "verify", "-x509_strict", "-purpose", purpose, "-CAfile"]
        command += [str(signer.certificate_file), str(server.certificate_file)]
        return subprocess.run(command, capture_output=True, timeout=20).returncode

    assert verify("sslserver") == 0
    assert verify("sslclient") != 0
    assert verify("smimesign") != 0


def test_neither_lasts_longer_than_it_may(signer, server):
    lasts = [pair.ends - pair.certificate.not_valid_before_utc for pair in (signer, server)]
    assert lasts[0] <= timedelta(days=5 * 366)
    assert lasts[1] <= timedelta(days=397)


def test_the_authority_carries_this_machines_name(signer):
    assert signer.certificate.subject.rfc4514_string() == "CN=Cornerwise on laptop"


def test_its_fingerprint_is_the_one_openssl_shows(signer):
    command = ["openssl", "x509", "-noout", "-fingerprint", "-sha256", "-in", str(signer.certificate_file)]
    said = subprocess.run(command, capture_output=True, text=True, check=True, timeout=20).stdout
    assert said.strip().partition("=")[2] == fingerprint(signer.certificate)


def test_a_restart_keeps_both(folder, signer, server):
    again = authority(folder, "renamed.local", NOW + timedelta(days=30))
    assert again.certificate == signer.certificate
    kept = server_certificate(folder, again, [HOTSPOT, HOME], NOW + timedelta(days=30))
    assert kept.certificate == server.certificate


@pytest.mark.parametrize(
    ("addresses", "days"), [([HOME], 0), ([HOME, HOTSPOT, ip_address("10.0.0.2")], 0), ([HOME, HOTSPOT], 370)]
)
def test_the_servers_certificate_is_made_anew_for_other_addresses_and_before_it_ends(
    folder, signer, server, addresses, days
):
    new = server_certificate(folder, signer, addresses, NOW + timedelta(days=days))
    assert new.certificate != server.certificate
    said = new.certificate.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    assert said.get_values_for_type(x509.IPAddress) == addresses


def test_an_authority_near_its_end_is_made_anew_and_the_servers_certificate_with_it(folder, signer, server):
    later = NOW + timedelta(days=5 * 365 - 20)
    new = authority(folder, NAME, later)
    assert new.certificate.public_key() != signer.certificate.public_key()
    signed = server_certificate(folder, new, [HOME, HOTSPOT], later)
    signed.certificate.verify_directly_issued_by(new.certificate)


def test_the_servers_certificate_never_outlives_its_authority(folder, signer):
    late = server_certificate(folder, signer, [HOME], signer.ends - timedelta(days=40))
    assert late.ends == signer.ends


def test_only_the_owner_can_read_the_keys(folder):
    before = os.umask(0)
    try:
        signer = authority(folder, NAME, NOW)
        server = server_certificate(folder, signer, [HOME], NOW)
    finally:
        os.umask(before)
    for pair in (signer, server):
        assert pair.key_file.stat().st_mode & 0o777 == 0o600
    assert folder.stat().st_mode & 0o777 == 0o700


def test_a_key_that_others_could_read_is_closed_at_the_next_start(folder, signer):
    signer.key_file.chmod(0o644)
    folder.chmod(0o755)
    authority(folder, NAME, NOW)
    assert signer.key_file.stat().st_mode & 0o777 == 0o600
    assert folder.stat().st_mode & 0o777 == 0o700


def test_a_pair_of_which_only_the_key_was_written_counts_as_none(folder, signer):
    signer.certificate_file.unlink()
    assert authority(folder, NAME, NOW).certificate != signer.certificate


@pytest.mark.parametrize("name", ["authority.crt", "authority.key"])
def test_what_cannot_be_read_is_said_and_never_replaced(folder, signer, name):
    (folder / name).write_text("no certificate")
    with pytest.raises(Unreadable, match=f"authority in {folder}"):
        authority(folder, NAME, NOW)
    assert (folder / name).read_text() == "no certificate"


def test_a_key_of_another_certificate_is_said(folder, signer, server):
    server.key_file.replace(signer.key_file)
    with pytest.raises(Unreadable, match="the key is not the one of the certificate"):
        authority(folder, NAME, NOW)
