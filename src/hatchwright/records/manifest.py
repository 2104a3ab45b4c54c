"""What a backup or an export says that it holds: every file with its SHA-256, and what the chain in it comes to."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterable
from datetime import UTC, datetime
from pathlib import Path
from typing import Literal

import msgspec
from msgspec import Struct

from hatchwright.errors import RecordError
from hatchwright.records.database import FILE, PLACE

Form = Literal["hatchwright backup", "hatchwright export"]
BACKUP: Form = "hatchwright backup"
EXPORT: Form = "hatchwright export"
VERSION = 1
"""Of the form of both; a greater one is of a newer program."""

STORE_FILE = f"{PLACE}/{FILE}"
"""Where the chain lies in a backup."""

EARLIER = ".earlier"
JOB_SUFFIXES = (".toml", ".fleet")
_BESIDE_SUFFIXES = (".dxf",)
"""Of what a job reads from its own folder: outlines."""

_MOST_BYTES = 128 * 2**20
"""Of a manifest: a million files fit in; more is none of ours [bytes]. Own choice, no source."""

_LONGEST = 500


class HeldFile(Struct, frozen=True, forbid_unknown_fields=True):
    """One file.

    Args:
        path: below the folder, its parts divided by ``/``.
        bytes: how many.
        time_s: when it was last changed [s since 1970].
    """

    path: str
    bytes: int
    sha256: str
    time_s: int = 0


class Manifest(Struct, frozen=True, forbid_unknown_fields=True):
    """The whole.

    Args:
        form: `BACKUP` or `EXPORT`.
        made: when, UTC, such as ``2026-03-09T14:05:00Z``.
        entries: of the chain.
        head: of the chain, as it is printed; "" without a chain.
        link: all 64 digits of it.
    """

    form: str
    version: int
    made: str
    entries: int
    head: str
    link: str
    files: tuple[HeldFile, ...]

    def encoded(self) -> bytes:
        """As it is written: JSON that a person can read."""
        return msgspec.json.format(msgspec.json.encode(self), indent=1) + b"\n"


def manifest_in(raw: bytes, form: Form, where: str) -> Manifest:
    """Read one.

    Raises:
        RecordError: it is none of that form, of a newer program, or names a file that could lead out of the folder,
            or one twice.
    """
    unread = RecordError.saying("backup.not_one", where=where)
    if len(raw) > _MOST_BYTES:
        raise unread
    try:
        version = msgspec.json.decode(raw, type=_Begun)
        if version.form == form and version.version > VERSION:
            raise RecordError.saying("backup.newer_program", where=where)
        manifest = msgspec.json.decode(raw, type=Manifest)
    except (msgspec.MsgspecError, ValueError, RecursionError):
        raise unread from None
    if manifest.form != form or manifest.version != VERSION:
        raise unread
    seen: set[str] = set()
    for file in manifest.files:
        refuse_path(file.path, where, is_among_jobs=form == BACKUP)
        if file.path in seen:
            raise RecordError.saying("backup.twice", where=where, path=shown_path(file.path))
        seen.add(file.path)
    return manifest


class _Begun(Struct):
    form: str
    version: int


def refuse_path(path: str, where: str, *, is_among_jobs: bool) -> None:
    """RecordError where a path leads out of its folder on any system, or is none that we write.

    Args:
        is_among_jobs: whether it lies in a folder of jobs: a job, a fleet, a kept step, the chain.
    """
    parts = path.split("/")
    is_text = path == path.encode("utf-8", "replace").decode("utf-8")
    is_clean = (
        is_text
        and 0 < len(path) <= _LONGEST
        and all(
            part not in ("", ".", "..") and not re.search(r"[\\\x00-\x1f\x7f]|^[A-Za-z]:", part)
            for part in parts
        )
    )
    if not is_clean or (is_among_jobs and not _is_among_jobs(parts)):
        raise RecordError.saying("backup.path", where=where, path=shown_path(path))


def _is_among_jobs(parts: list[str]) -> bool:
    if parts[0] == EARLIER:
        return len(parts) > 2 and is_of_jobs(parts[1])
    return "/".join(parts) == STORE_FILE or (len(parts) == 1 and is_of_jobs(parts[0]))


def is_of_jobs(name: str) -> bool:
    """Whether a file right in a folder of jobs goes into a backup: a job, a fleet, an outline that a job may read."""
    return name.lower().endswith((*JOB_SUFFIXES, *_BESIDE_SUFFIXES)) and not name.startswith(".")


def jobs_in(paths: Iterable[str]) -> int:
    """How many jobs and fleets are among the files of a folder."""
    return sum("/" not in path and path.endswith(JOB_SUFFIXES) for path in paths)


def shown_path(path: str) -> str:
    """A path that may hold anything, as it can be printed."""
    return ascii(path[:120])[1:-1]


def held_in(folder: Path, paths: Iterable[str]) -> tuple[HeldFile, ...]:
    """What files of a folder hold."""
    return tuple(_held(folder, path) for path in sorted(paths))


def _held(folder: Path, path: str) -> HeldFile:
    about = (folder / path).stat()
    return HeldFile(path, about.st_size, sha256_of_file(folder / path), int(about.st_mtime))


def sha256_of_file(file: Path) -> str:
    """SHA-256 of what a file holds, in hexadecimal digits; read piece by piece."""
    with file.open("rb") as source:
        return hashlib.file_digest(source, "sha256").hexdigest()


def utc(now: datetime) -> str:
    """A time as manifests and entries write it."""
    return now.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")
