"""A backup is one file: the jobs and fleets of a folder, their kept steps, the chain, and a manifest of all that.

It is a ZIP archive that any computer opens. Source: [ZIP-APPNOTE]. The manifest stands first, and each file is held to
its SHA-256 there.
"""

from __future__ import annotations

import hashlib
import os
import zipfile
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import IO

from hatchwright.errors import RecordError
from hatchwright.records.disk import disk_told
from hatchwright.records.manifest import BACKUP, HeldFile, Manifest, manifest_in, shown_path

MANIFEST = "backup.json"
_EPOCH = (1980, 1, 1, 0, 0, 0)
_CHUNK = 2**20


def pack(folder: Path, manifest: Manifest, file: IO[bytes]) -> None:
    """Write the files of a manifest into one archive.

    Args:
        folder: where they lie.
        file: written from its present place on.
    """
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED, compresslevel=1) as archive:
        archive.writestr(_member(MANIFEST), manifest.encoded())
        for held in manifest.files:
            with (
                (folder / held.path).open("rb") as source,
                archive.open(_member(held.path), "w", force_zip64=True) as out,
            ):
                while chunk := source.read(_CHUNK):
                    out.write(chunk)


def unpack(file: Path, folder: Path | None = None) -> Manifest:
    """Read a whole backup, and hold every file in it to its manifest.

    Args:
        folder: an empty one that the files are written into; None to look only.
    Raises:
        RecordError: it can't be read, is no backup, is damaged or cut off, is of a newer program, or names a file
            outside of its folder.
    """
    with disk_told(file), _sound_archive(file), zipfile.ZipFile(file) as archive:
        members = archive.infolist()
        if not members or members[0].filename != MANIFEST:
            raise RecordError.saying("backup.not_one", where=str(file))
        with archive.open(members[0]) as source:
            manifest = manifest_in(source.read(_most(members[0])), BACKUP, str(file))
        names = [member.filename for member in members[1:]]
        if names != [held.path for held in manifest.files]:
            raise _damaged(file, MANIFEST)
        for member, held in zip(members[1:], manifest.files, strict=True):
            with archive.open(member) as source:
                _read(file, source, held, folder)
    return manifest


def _member(path: str) -> zipfile.ZipInfo:
    member = zipfile.ZipInfo(path, _EPOCH)  # when a file was changed stands in the manifest
    member.compress_type, member.external_attr = zipfile.ZIP_DEFLATED, 0o644 << 16
    return member


def _most(member: zipfile.ZipInfo) -> int:
    """No more is read of a manifest, whatever comes out of a small archive."""
    return min(member.file_size, 2**28)


def _read(file: Path, source: IO[bytes], held: HeldFile, folder: Path | None) -> None:
    digest, left = hashlib.sha256(), held.bytes
    with _written(folder, held) as out:
        while chunk := source.read(min(_CHUNK, left + 1)):
            left -= len(chunk)
            if left < 0:
                break
            digest.update(chunk)
            if out:
                out.write(chunk)
    if left or digest.hexdigest() != held.sha256:
        raise _damaged(file, held.path)
    if folder:
        os.utime(folder / held.path, (held.time_s, held.time_s))


@contextmanager
def _written(folder: Path | None, held: HeldFile) -> Iterator[IO[bytes] | None]:
    if folder is None:
        yield None
        return
    place = folder / held.path
    place.parent.mkdir(parents=True, exist_ok=True)
    with place.open("xb") as out:
        yield out
        out.flush()
        os.fsync(out.fileno())


@contextmanager
def _sound_archive(file: Path) -> Iterator[None]:
    """What is wrong with an archive, in our words."""
    try:
        yield
    except (
        zipfile.BadZipFile,
        zlib.error,
        EOFError,
        NotImplementedError,
        ValueError,
        OverflowError,
        RuntimeError,
    ):
        raise RecordError.saying("backup.damaged_archive", where=str(file)) from None


def _damaged(file: Path, path: str) -> RecordError:
    return RecordError.saying("backup.damaged", where=str(file), path=shown_path(path))
