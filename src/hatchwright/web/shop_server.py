"""Serve the jobs of a folder to a shop: over TLS alone, to people who log in."""

from __future__ import annotations

import os
import re
import socket
import threading
from contextlib import suppress
from datetime import UTC, datetime
from ipaddress import ip_address
from pathlib import Path

from hatchwright.errors import EntryError
from hatchwright.records.people import Role
from hatchwright.said import said
from hatchwright.web.certificate import Certificate, given_certificate, own_certificate
from hatchwright.web.server import (
    SETTINGS,
    application,
    heed_input,
    listener_at,
    own_tables_of,
    refuse_no_folder,
)
from hatchwright.web.staff import Staff
from hatchwright.words.tell import tell

PORT = 8443
"""Which one is usual for TLS where a program is not the only one. Source: common practice, no source."""

_NOWHERE = "192.0.2.1"
"""An address for examples, to which nothing is sent: it only tells by which of its own this machine would. Source:
[RFC5737]."""


def serve_shop(
    folder: Path,
    *,
    host: str = "",
    port: int = PORT,
    names: tuple[str, ...] = (),
    certificate: tuple[Path, Path] | None = None,
    shop: Path | None = None,
) -> None:
    """Serve until stopped or the standard input closes; prints the address and the fingerprint of the certificate.

    Args:
        host: address of this machine to listen at, "" for the one by which it is on its network.
        port: 0 for a free one.
        names: more names by which browsers reach this machine.
        certificate: file and key file in PEM, None for one of the server's own.
        shop: folder of the shop's own tables.
    Raises:
        EntryError: no such folder, nobody named to name others, a name that is none, a certificate or a port that
            can't be used.
        RecordError: the records can't be read.
        TableError: a table of the shop is refused.
    """
    refuse_no_folder(folder)
    os.environ["DJANGO_SETTINGS_MODULE"] = SETTINGS  # before the store is opened
    at = host or address_here()
    hosts = hosts_of(at, names)
    now = datetime.now(UTC)
    shown = given_certificate(*certificate, now) if certificate else own_certificate(hosts, now)
    own = own_tables_of(shop)
    staff = staff_of(folder, shown)
    with listener_at(at, port) as listener:
        app, _ = application(folder, hosts=[_in_address(one) for one in hosts], shop=own, staff=staff)

        from hatchwright.web.answering import server_of  # once Django has its settings

        server = server_of(app, shown.context())
        address = f"https://{_in_address(hosts[0])}:{listener.getsockname()[1]}/"
        put = said("command.serve.address", address=address, fingerprint=shown.fingerprint)
        print(tell(put), flush=True)
        threading.Thread(target=heed_input, args=(server, lambda: None), daemon=True).start()
        server.run(sockets=[listener])


def staff_of(folder: Path, shown: Certificate) -> Staff:
    """The people of a folder; EntryError where none of them could name another."""
    staff = Staff(folder, fingerprint=shown.fingerprint)
    if not any(person.role is Role.INSPECTOR for person in staff.people().values()):
        raise EntryError.saying("command.serve.nobody", where=str(folder))
    return staff


def hosts_of(host: str, names: tuple[str, ...]) -> tuple[str, ...]:
    """Every name and address that browsers may ask this machine for, the one to print first.

    Raises:
        EntryError: a name or an address that none can have.
    """
    for name in (host, *names):
        if not _is_host(name):
            raise EntryError.saying("command.serve.no_name", where=name[:80])
    own = host if not _is_any(host) else address_here()
    machine = socket.gethostname().lower()
    machines = (machine, f"{machine.partition('.')[0]}.local") if _is_host(machine) else ()
    return tuple(dict.fromkeys((*(name.lower() for name in names), own, *machines)))


def address_here() -> str:
    """The address of this machine on its network; the loopback one where it is on none."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as line, suppress(OSError):
        line.connect((_NOWHERE, 9))
        return str(line.getsockname()[0])
    return "127.0.0.1"


def _is_any(host: str) -> bool:
    with suppress(ValueError):
        return ip_address(host).is_unspecified
    return False


def _is_host(name: str) -> bool:
    """Whether a browser can ask for it. Source: [RFC1123], 2.1, from memory."""
    with suppress(ValueError):
        return bool(ip_address(name))
    label = r"[a-zA-Z0-9]([a-zA-Z0-9-]{0,61}[a-zA-Z0-9])?"
    return len(name) <= 253 and bool(re.fullmatch(rf"{label}(\.{label})*", name))


def _in_address(host: str) -> str:
    return f"[{host}]" if ":" in host else host
