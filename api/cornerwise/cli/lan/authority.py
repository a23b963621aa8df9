"""The laptop's own certificate authority, and the certificate of its server.

The authority is made once and kept, so that a phone has to trust it once. It can vouch for private addresses
and for this machine's local name, and says so itself (name constraints, RFC 5280 section 4.2.1.10): a phone
that trusts it trusts it for nothing on the internet. A bare name such as `laptop` is left out: the constraint
would hold for everything below it, and some machine's name is a top-level domain.
"""

from __future__ import annotations

import os
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta
from hashlib import sha256
from pathlib import Path

from cryptography import x509
from cryptography.hazmat.primitives.asymmetric.ec import (
    SECP256R1,
    EllipticCurvePrivateKey,
    generate_private_key,
)
from cryptography.hazmat.primitives.hashes import SHA256
from cryptography.hazmat.primitives.serialization import (
    Encoding,
    NoEncryption,
    PrivateFormat,
    load_pem_private_key,
)
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

from .addresses import PRIVATE, Address

AUTHORITY_DAYS = 5 * 365  # chosen: some seasons; then each phone trusts a new one
SERVER_DAYS = 397  # below what Apple takes at most: 825 days for an authority that a user added (from memory)
RENEW_DAYS = 30  # chosen: nothing runs out between two trainings
CLOCK_SLACK = timedelta(days=1)  # chosen: a phone's clock may be behind


@dataclass(frozen=True, slots=True)
class Pair:
    """A certificate and its key, and the files in which they lie."""

    certificate: x509.Certificate
    key: EllipticCurvePrivateKey
    certificate_file: Path
    key_file: Path

    @property
    def ends(self) -> datetime:
        return self.certificate.not_valid_after_utc


class Unreadable(Exception):
    """What lies in the folder is not a certificate with its key."""


def fingerprint(certificate: x509.Certificate) -> str:
    """Return the SHA-256 of a certificate as phones show it: AA:BB:..."""
    return sha256(certificate.public_bytes(Encoding.DER)).digest().hex(":").upper()


def authority(folder: Path, name: str, now: datetime) -> Pair:
    """Return the authority kept in a folder; make one if there is none, or if its time is nearly over.

    name : this machine's local name, `laptop.local`; a kept authority keeps the name it was made with.
    now  : in UTC.

    Raises Unreadable if the files are not a certificate with its key.
    """
    kept = _read(folder, "authority")
    if kept is not None and now < kept.ends - timedelta(days=RENEW_DAYS):
        return kept
    key = generate_private_key(SECP256R1())
    certificate = _new_authority(key, name, now).sign(key, SHA256())
    return _keep(folder, "authority", certificate, key)


def server_certificate(folder: Path, signer: Pair, addresses: Iterable[Address], now: datetime) -> Pair:
    """Return the server's certificate for these addresses and for the names that its authority can vouch for.

    The kept one is returned while it fits. Raises Unreadable as `authority` does.
    """
    names = [*map(x509.DNSName, local_names(signer)), *map(x509.IPAddress, addresses)]
    kept = _read(folder, "server")
    if kept is not None and _fits(kept, signer, names, now):
        return kept
    key = generate_private_key(SECP256R1())
    return _keep(folder, "server", _new_server(key, signer, names, now).sign(signer.key, SHA256()), key)


def local_names(signer: Pair) -> list[str]:
    """Return the names, not addresses, that an authority can vouch for."""
    constraints = signer.certificate.extensions.get_extension_for_class(x509.NameConstraints).value
    return [name.value for name in constraints.permitted_subtrees or () if isinstance(name, x509.DNSName)]


def _fits(kept: Pair, signer: Pair, names: Iterable[x509.GeneralName], now: datetime) -> bool:
    said = kept.certificate.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    try:
        kept.certificate.verify_directly_issued_by(signer.certificate)
    except Exception:  # another authority's: its name, kind of key or signature is another
        return False
    return set(said) == set(names) and now < kept.ends - timedelta(days=RENEW_DAYS)


def _builder(
    key: EllipticCurvePrivateKey, subject: str, issuer: x509.Name | None, now: datetime, ends: datetime
) -> x509.CertificateBuilder:
    name = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, subject)])
    return (
        x509.CertificateBuilder(subject_name=name, issuer_name=issuer or name)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - CLOCK_SLACK)
        .not_valid_after(ends)
        .add_extension(x509.SubjectKeyIdentifier.from_public_key(key.public_key()), critical=False)
    )


def _new_authority(key: EllipticCurvePrivateKey, name: str, now: datetime) -> x509.CertificateBuilder:
    allowed = [x509.DNSName(name), x509.DNSName("localhost"), *map(x509.IPAddress, PRIVATE)]
    subject = f"Cornerwise on {name.removesuffix('.local')}"[:64]  # RFC 5280: 64 characters at most
    return (
        _builder(key, subject, None, now, now + timedelta(days=AUTHORITY_DAYS))
        .add_extension(x509.BasicConstraints(ca=True, path_length=0), critical=True)
        .add_extension(_usage(signs_certificates=True), critical=True)
        .add_extension(x509.NameConstraints(allowed, excluded_subtrees=None), critical=True)
    )


def _new_server(
    key: EllipticCurvePrivateKey, signer: Pair, names: list[x509.GeneralName], now: datetime
) -> x509.CertificateBuilder:
    ends = min(now - CLOCK_SLACK + timedelta(days=SERVER_DAYS), signer.ends)
    identifier = signer.certificate.extensions.get_extension_for_class(x509.SubjectKeyIdentifier).value
    issuer = x509.AuthorityKeyIdentifier.from_issuer_subject_key_identifier(identifier)
    return (
        _builder(key, "Cornerwise server", signer.certificate.subject, now, ends)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(_usage(signs_certificates=False), critical=True)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .add_extension(x509.SubjectAlternativeName(names), critical=False)
        .add_extension(issuer, critical=False)
    )


def _usage(signs_certificates: bool) -> x509.KeyUsage:
    return x509.KeyUsage(
        digital_signature=not signs_certificates,
        key_cert_sign=signs_certificates,
        crl_sign=signs_certificates,
        content_commitment=False,
        key_encipherment=False,
        data_encipherment=False,
        key_agreement=False,
        encipher_only=False,
        decipher_only=False,
    )


def _read(folder: Path, name: str) -> Pair | None:
    """Return a pair as it was kept, None if there is none."""
    certificate_file, key_file = folder / f"{name}.crt", folder / f"{name}.key"
    if not certificate_file.exists():
        return None
    try:
        certificate = x509.load_pem_x509_certificate(certificate_file.read_bytes())
        key = load_pem_private_key(key_file.read_bytes(), password=None)
    except (OSError, ValueError, TypeError) as error:
        raise Unreadable(f"{name} in {folder}: {error}") from None
    if not isinstance(key, EllipticCurvePrivateKey) or key.public_key() != certificate.public_key():
        raise Unreadable(f"{name} in {folder}: the key is not the one of the certificate")
    _close_to_others(folder, key_file)
    return Pair(certificate, key, certificate_file, key_file)


def _keep(folder: Path, name: str, certificate: x509.Certificate, key: EllipticCurvePrivateKey) -> Pair:
    folder.mkdir(parents=True, exist_ok=True)
    pair = Pair(certificate, key, folder / f"{name}.crt", folder / f"{name}.key")
    pair.certificate_file.unlink(missing_ok=True)  # last written: a pair that was cut short counts as none
    text = key.private_bytes(Encoding.PEM, PrivateFormat.PKCS8, NoEncryption())
    _write(pair.key_file, text)
    _close_to_others(folder, pair.key_file)
    _write(pair.certificate_file, certificate.public_bytes(Encoding.PEM))
    return pair


def _write(file: Path, content: bytes) -> None:
    """Write a file that only its owner can read, whole or not at all."""
    part = file.with_name(f".{file.name}.part")
    part.unlink(missing_ok=True)
    with open(os.open(part, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "wb") as stream:
        stream.write(content)
        os.fsync(stream.fileno())
    part.replace(file)


def _close_to_others(folder: Path, key_file: Path) -> None:
    folder.chmod(0o700)
    key_file.chmod(0o600)
