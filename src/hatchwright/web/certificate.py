"""What a browser knows a shop server by: a certificate of its own, kept from start to start, or one that is given."""

from __future__ import annotations

import hashlib
import ipaddress
import os
import secrets
import ssl
from contextlib import suppress
from datetime import UTC, datetime, timedelta
from pathlib import Path

from cryptography import x509
from cryptography.hazmat.primitives import hashes
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.serialization import Encoding, NoEncryption, PrivateFormat
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID
from msgspec import Struct

from hatchwright.errors import EntryError
from hatchwright.web.state_folder import state_folder

_LASTS = timedelta(days=825)
"""Some browsers take none that lasts longer. Source: from memory, unverified."""
_MADE_ANEW_BEFORE_END = timedelta(days=30)

CIPHERS = "ECDHE+AESGCM:ECDHE+CHACHA20"
"""Of TLS 1.2; those of 1.3 are all of this kind. Source: [RFC9325], 4.2, from memory."""


class Certificate(Struct, frozen=True):
    """A certificate and its private key.

    Args:
        file: that holds the certificate in PEM, and its key where `key_file` is the same.
    """

    file: Path
    key_file: Path

    @property
    def fingerprint(self) -> str:
        """SHA-256 of the certificate, as a browser shows it."""
        digest = hashlib.sha256(_first_in(self.file).public_bytes(Encoding.DER)).hexdigest().upper()
        return ":".join(digest[start : start + 2] for start in range(0, len(digest), 2))

    def context(self) -> ssl.SSLContext:
        """How a server speaks with it: TLS 1.2 or later, with keys that are worth nothing afterwards.

        Raises:
            EntryError: certificate and key don't go together, or one can't be read.
        """
        context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
        context.minimum_version = ssl.TLSVersion.TLSv1_2
        context.set_ciphers(CIPHERS)
        try:
            context.load_cert_chain(self.file, self.key_file, password=lambda: "")
        except (OSError, ValueError):  # the first is also that of TLS itself
            raise EntryError.saying("command.serve.bad_certificate", where=str(self.file)) from None
        return context


def given_certificate(file: Path, key_file: Path, now: datetime) -> Certificate:
    """One that somebody has made for this server.

    Raises:
        EntryError: it can't be read, does not go with its key, or is not valid now.
    """
    given = Certificate(file, key_file)
    given.context()
    found = _first_in(file)
    if not found.not_valid_before_utc <= now <= found.not_valid_after_utc:
        ends = f"{found.not_valid_after_utc:%Y-%m-%d}"
        raise EntryError.saying("command.serve.certificate_over", where=str(file), ends=ends)
    return given


def own_certificate(hosts: tuple[str, ...], now: datetime) -> Certificate:
    """This server's own for these names and addresses: the one of the last start, or another where that ends soon.

    Raises:
        EntryError: it can't be kept; with another at each start nobody could tell whose it is.
    """
    named = hashlib.sha256("\n".join(sorted(hosts)).encode()).hexdigest()[:12]
    try:
        file = state_folder() / f"server-{named}.pem"
        if not _is_good(file, now):
            _keep(file, _made(hosts, now))
    except (OSError, RuntimeError) as error:
        why = getattr(error, "strerror", None) or str(error)
        raise EntryError.saying("command.serve.certificate_unkept", why=why) from None
    return Certificate(file, file)


def _is_good(file: Path, now: datetime) -> bool:
    with suppress(OSError, EntryError):
        Certificate(file, file).context()
        return now < _first_in(file).not_valid_after_utc - _MADE_ANEW_BEFORE_END
    return False


def _first_in(file: Path) -> x509.Certificate:
    return x509.load_pem_x509_certificates(file.read_bytes())[0]


def _keep(file: Path, content: bytes) -> None:
    """Whole or not at all, and nobody else reads it."""
    half = file.with_name(f".{secrets.token_hex(8)}")
    handle = os.open(half, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    with os.fdopen(handle, "wb") as out:
        out.write(content)
    half.replace(file)


def _made(hosts: tuple[str, ...], now: datetime) -> bytes:
    key = ec.generate_private_key(ec.SECP256R1())
    name = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, hosts[0][:64])])
    usage = x509.KeyUsage(
        digital_signature=True, content_commitment=False, key_encipherment=False, data_encipherment=False,
        key_agreement=False, key_cert_sign=False, crl_sign=False, encipher_only=False, decipher_only=False,
    )  # fmt: skip
    made = (
        x509.CertificateBuilder()
        .subject_name(name)
        .issuer_name(name)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(now.astimezone(UTC) - timedelta(days=1))  # clocks of tablets differ
        .not_valid_after(now.astimezone(UTC) + _LASTS)
        .add_extension(x509.SubjectAlternativeName([_named(host) for host in hosts]), critical=False)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .add_extension(usage, critical=True)
        .sign(key, hashes.SHA256())
    )
    locked = key.private_bytes(Encoding.PEM, PrivateFormat.PKCS8, NoEncryption())
    return locked + made.public_bytes(Encoding.PEM)


def _named(host: str) -> x509.GeneralName:
    try:
        return x509.IPAddress(ipaddress.ip_address(host))
    except ValueError:
        return x509.DNSName(host)
