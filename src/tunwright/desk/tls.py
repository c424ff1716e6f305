"""HTTPS: the certificate given, or one the desk makes for itself and explains."""

from __future__ import annotations

import ipaddress
import os
import socket
import ssl
from contextlib import suppress
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

from cheroot.ssl.builtin import BuiltinSSLAdapter
from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

VALID = timedelta(days=800)
"""How long a certificate made here is good for; some browsers refuse those of more than 825 days."""
RENEWED = timedelta(days=30)
"""A certificate with less left is made anew."""


@dataclass(frozen=True)
class Certificate:
    """A certificate and its key.

    cert: PEM file
    key: PEM file
    fingerprint: SHA-256, in pairs of digits
    own: made by the desk
    """

    cert: Path
    key: Path
    fingerprint: str
    own: bool


def given(cert: Path | None, key: Path | None) -> Certificate | None:
    """The certificate somebody gives, None where none is. Raises ValueError, with a sentence, where it cannot be used.

    cert: PEM file of the certificate, with its chain
    key: PEM file of its key
    """
    if cert is None and key is None:
        return None
    if cert is None or key is None:
        raise ValueError("A certificate goes with its key: give both, --cert server.pem --key server.key.")
    for file in (cert, key):
        if not file.is_file():
            raise ValueError(f"There is no file {file}. Give PEM files: --cert server.pem --key server.key.")
    try:
        ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER).load_cert_chain(cert, key, password="")
        loaded = x509.load_pem_x509_certificate(cert.read_bytes())
    except (ssl.SSLError, ValueError, OSError) as error:
        raise ValueError(
            f"{cert} and {key} cannot be used ({error}). They must be PEM files that belong together, the key without "
            f"a password."
        ) from None
    return Certificate(cert, key, _fingerprint(loaded), own=False)


def made(folder: Path, names: tuple[str, ...]) -> Certificate:
    """The desk's own certificate; kept while it names all names and is good, else made anew.

    folder: where it is kept
    names: names and addresses the desk answers to
    """
    cert, key = folder / "desk-cert.pem", folder / "desk-key.pem"
    kept = _kept(cert, names) if key.is_file() else None
    if kept is not None:
        return Certificate(cert, key, _fingerprint(kept), own=True)
    fresh = _make(cert, key, names)
    return Certificate(cert, key, _fingerprint(fresh), own=True)


def _kept(cert: Path, names: tuple[str, ...]) -> x509.Certificate | None:
    try:
        found = x509.load_pem_x509_certificate(cert.read_bytes())
        held = set(found.extensions.get_extension_for_class(x509.SubjectAlternativeName).value)
    except (OSError, ValueError, x509.ExtensionNotFound):
        return None
    good = found.not_valid_after_utc > datetime.now(UTC) + RENEWED and held >= set(_alternatives(names))
    return found if good else None


def _alternatives(names: tuple[str, ...]) -> list[x509.GeneralName]:
    found: list[x509.GeneralName] = []
    for name in dict.fromkeys(names):
        try:
            found.append(x509.IPAddress(ipaddress.ip_address(name.strip("[]"))))
        except ValueError:
            found.append(x509.DNSName(name))
    return found


def _make(cert: Path, key: Path, names: tuple[str, ...]) -> x509.Certificate:
    private = ec.generate_private_key(ec.SECP256R1())
    subject = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, "Tunwright desk")])
    now = datetime.now(UTC)
    builder = (
        x509.CertificateBuilder()
        .subject_name(subject)
        .issuer_name(subject)
        .public_key(private.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - timedelta(hours=1))
        .not_valid_after(now + VALID)
        .add_extension(x509.SubjectAlternativeName(_alternatives(names)), critical=False)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
    )
    signed = builder.sign(private, hashes.SHA256())
    pem = serialization.Encoding.PEM
    plain = serialization.NoEncryption()
    _write(key, private.private_bytes(pem, serialization.PrivateFormat.PKCS8, plain))
    _write(cert, signed.public_bytes(pem))
    return signed


def _write(file: Path, content: bytes) -> None:
    """Write a file that this account alone may read, whole or not at all."""
    beside = file.with_suffix(".part")
    with os.fdopen(os.open(beside, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600), "wb") as new:
        new.write(content)
    beside.replace(file)


def _fingerprint(cert: x509.Certificate) -> str:
    return cert.fingerprint(hashes.SHA256()).hex(":").upper()


def explained(certificate: Certificate) -> str:
    """What a person must know about the certificate.

    certificate: the certificate
    """
    if not certificate.own:
        return f"HTTPS with the certificate {certificate.cert}."
    return (
        "HTTPS with a certificate this desk made for itself. Nobody vouches for it, so every browser warns once:\n"
        "compare the SHA-256 fingerprint it shows with this one, and go on only when they agree:\n"
        f"  {certificate.fingerprint}\n"
        f"To be rid of the warning, install {certificate.cert} as trusted on the machines of the workshop,\n"
        "or start with a certificate of your own: --cert server.pem --key server.key."
    )


def local_names() -> tuple[str, ...]:
    """Names and addresses of this machine in its network."""
    name = socket.gethostname()
    found = [name.lower(), f"{name.split('.')[0].lower()}.local"]
    with suppress(OSError):
        found += [str(info[4][0]) for info in socket.getaddrinfo(name, None, family=socket.AF_INET)]
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe, suppress(OSError):
        probe.connect(("192.0.2.1", 9))  # a documentation address: nothing is sent, the system only picks a way
        found.append(str(probe.getsockname()[0]))
    return tuple(dict.fromkeys(one for one in found if _sayable(one)))


def _sayable(name: str) -> bool:
    return name.isascii() and bool(name) and all(c.isalnum() or c in ".-" for c in name)


_PLAIN = b"This desk speaks HTTPS only: put https:// before its address.\n"
_REFUSED = (
    b"HTTP/1.1 400 Bad Request\r\nContent-Type: text/plain\r\nConnection: close\r\n"
    b"Content-Length: %d\r\n\r\n%b" % (len(_PLAIN), _PLAIN)
)
_REST = 65536  # of the plain request, read so that the answer is not lost with it [bytes]
_PATIENCE = 2.0  # for that rest [s]


class _Socket(ssl.SSLSocket):
    """Shakes hands when it is first read; whoever speaks plain HTTP is told so."""

    def read(self, len: int = 1024, buffer: Any = None) -> Any:  # noqa: A002  # the name it has above
        """As above; plain HTTP is answered, and reads as the end."""
        try:
            return super().read(len, buffer)
        except ssl.SSLError as error:
            if error.reason != "HTTP_REQUEST":
                raise
        self._tell()
        return b"" if buffer is None else 0

    def _tell(self) -> None:
        """Answer beside the encryption, which never began."""
        with suppress(OSError):
            self.settimeout(_PATIENCE)
            socket.socket.sendall(self, _REFUSED)
            socket.socket.shutdown(self, socket.SHUT_WR)
            socket.socket.recv(self, _REST)


class Adapter(BuiltinSSLAdapter):
    """Shakes hands in the worker that serves a connection, so that one silent caller does not hold up all others."""

    def __init__(self, certificate: Certificate) -> None:
        super().__init__(str(certificate.cert), str(certificate.key))
        self.context.minimum_version = ssl.TLSVersion.TLSv1_2
        self.context.sslsocket_class = _Socket

    def wrap(self, sock: Any) -> tuple[Any, dict[str, str]]:
        """A socket that shakes hands when it is first read."""
        wrapped = self.context.wrap_socket(sock, server_side=True, do_handshake_on_connect=False)
        return wrapped, {"wsgi.url_scheme": "https", "HTTPS": "on"}
