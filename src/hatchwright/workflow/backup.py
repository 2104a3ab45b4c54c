"""Back up a folder of jobs while others go on working in it, read the backup again, and write it to a second place."""

from __future__ import annotations

import os
import shutil
import tempfile
from collections.abc import Iterable, Iterator
from contextlib import suppress
from datetime import datetime
from pathlib import Path

from msgspec import Struct

from hatchwright.errors import RecordError
from hatchwright.job.text_file import HALF_WRITTEN
from hatchwright.records.backup import pack, unpack
from hatchwright.records.database import FILE, PLACE
from hatchwright.records.disk import settled
from hatchwright.records.manifest import (
    BACKUP,
    STORE_FILE,
    VERSION,
    Form,
    Manifest,
    held_in,
    jobs_in,
    sha256_of_file,
    utc,
)
from hatchwright.records.snapshot import settle, snapshot
from hatchwright.records.store import Store
from hatchwright.records.verify import Verified, verify
from hatchwright.said import Said, said
from hatchwright.workflow.folder_files import copy_files, outlines_left, stage_in

HEADS = "heads.txt"
"""Beside each backup: one line for each, with its head. It shows a cut-off tail that nothing else shows."""


class Staged(Struct, frozen=True):
    """A folder at one moment, copied.

    Args:
        jobs: its jobs, fleets and other files of that kind.
        left: outlines that jobs read and that are not in it.
        verified: what its chain comes to, None without one.
    """

    manifest: Manifest
    jobs: int
    left: tuple[str, ...]
    verified: Verified | None


class BackedUp(Struct, frozen=True):
    """A backup that was written and read again.

    Args:
        files: the same bytes in each place.
        left: outlines that jobs read and that are not in it.
        is_on_same_disk: whether all lie on the disk of the folder, so that one failure takes everything.
    """

    files: tuple[Path, ...]
    sha256: str
    jobs: int
    left: tuple[str, ...]
    verified: Verified | None
    is_on_same_disk: bool


def back_up(folder: Path, places: Iterable[Path], *, now: datetime) -> BackedUp:
    """Back up a folder of jobs into each of some places.

    Args:
        places: folders, made when missing.
        now: with its time zone.
    Raises:
        RecordError: the folder or its records can't be read, or a place can't be written.
    """
    _refuse_none(folder)
    first, *others = places
    with stage_in(first) as stage:
        staged = staged_copy(folder, stage, form=BACKUP, now=now)
        file = _free(first / _name(folder, now))
        _write(stage, staged.manifest, file)
    try:
        unpack(file)
    except RecordError:
        file.unlink(missing_ok=True)  # what can't be read again is no backup
        raise
    sha256 = sha256_of_file(file)
    files = [file]
    _note(file, staged.manifest, sha256)
    for other in others:
        files.append(_copied(file, other, sha256))
        _note(files[-1], staged.manifest, sha256)
    is_near = all(place.stat().st_dev == folder.stat().st_dev for place in (first, *others))
    return BackedUp(tuple(files), sha256, staged.jobs, staged.left, staged.verified, is_near)


def staged_copy(folder: Path, stage: Path, *, form: Form, now: datetime) -> Staged:
    """Copy jobs and records of a folder as they are at one moment, and verify the copy.

    Raises:
        RecordError: the folder or its records can't be read, or the copy can't be written.
    """
    _refuse_none(folder)
    paths, verified, link = list(copy_files(folder, stage)), None, ""
    jobs, left = jobs_in(paths), outlines_left(folder, paths)
    if Store.is_there(folder):
        store = Store.opened(folder)
        snapshot(store, stage)
        store.close()
        copy = Store.in_file(stage / PLACE / FILE)
        verified, last = verify(copy), copy.last()
        copy.close()
        settle(stage / PLACE / FILE)
        link = last.link if last else ""
        paths.append(STORE_FILE)
    if not paths:
        raise RecordError.saying("backup.nothing_here", where=str(folder))
    head, entries = (verified.head, verified.entries) if verified else ("", 0)
    manifest = Manifest(form, VERSION, utc(now), entries, head, link, held_in(stage, paths))
    return Staged(manifest, jobs, left, verified)


def chain_said(verified: Verified | None, heads: str = "") -> Iterator[Said]:
    """What a copied chain comes to.

    Args:
        heads: name of the file beside a backup that lists its head, "" for none.
    """
    if verified is None:
        yield said("command.backup.no_records")
    elif verified.head:
        yield said("command.backup.chain", n=verified.entries, signed=verified.signed, head=verified.head)
        if heads:
            yield said("command.backup.heads", file=heads)


def faults_said(verified: Verified | None) -> Iterator[Said]:
    """What is wrong with a copied chain, and what that means for the copy."""
    if verified is None or verified.is_sound:
        return
    for fault in verified.faults:
        at = fault.seq
        yield (
            said("verify.fault_at", seq=at, what=fault.what) if at else said("verify.fault", what=fault.what)
        )
    yield said("command.backup.unsound" if verified.chain else "command.backup.beside")


def _refuse_none(folder: Path) -> None:
    if not folder.is_dir():
        raise RecordError.saying("records.no_folder", where=str(folder))


def _name(folder: Path, now: datetime) -> str:
    return f"{folder.resolve().name or 'jobs'}-{utc(now).replace(':', '').replace('-', '')}.backup.zip"


def _free(file: Path) -> Path:
    if file.exists():
        raise RecordError.saying("backup.there", where=str(file))
    return file


def _write(stage: Path, manifest: Manifest, file: Path) -> None:
    """The whole archive on disk under its name, or nothing."""
    try:
        handle, temporary = tempfile.mkstemp(dir=file.parent, prefix=HALF_WRITTEN)
        try:
            with os.fdopen(handle, "wb") as out:
                pack(stage, manifest, out)
                out.flush()
                os.fsync(out.fileno())
            os.chmod(temporary, 0o600)  # locked keys lie in it
            os.replace(temporary, file)
            settled(file.parent)
        except BaseException:
            Path(temporary).unlink(missing_ok=True)
            raise
    except OSError as error:
        raise RecordError.saying("backup.unwritten", where=str(file), why=error.strerror or "") from None


def _copied(file: Path, place: Path, sha256: str) -> Path:
    """The same file in another place, read again."""
    target, half = _free(place / file.name), place / f"{HALF_WRITTEN}{file.name}"
    try:
        place.mkdir(parents=True, exist_ok=True)
        with file.open("rb") as source, half.open("wb") as out:
            shutil.copyfileobj(source, out)
            out.flush()
            os.fsync(out.fileno())
        if sha256_of_file(half) != sha256:
            raise RecordError.saying("backup.second_other", where=str(target), file=str(file))
        half.chmod(0o600)
        half.replace(target)
        settled(place)
    except OSError as error:
        raise RecordError.saying(
            "backup.second_unwritten", where=str(place), file=str(file), why=error.strerror or ""
        ) from None
    finally:
        with suppress(OSError):
            half.unlink(missing_ok=True)
    return target


def _note(file: Path, manifest: Manifest, sha256: str) -> None:
    """One more line in the list of heads beside a backup."""
    line = f"{manifest.made}  {manifest.head or '-'}  {manifest.entries}  {sha256}  {file.name}\n"
    try:
        with (file.parent / HEADS).open("a", encoding="utf-8") as out:
            out.write(line)
            out.flush()
            os.fsync(out.fileno())
    except OSError as error:
        raise RecordError.saying(
            "backup.head_unwritten", where=str(file.parent), why=error.strerror or ""
        ) from None
