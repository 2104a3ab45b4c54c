"""Write a folder of jobs with its records as plain files that a person reads, and make a folder of them again."""

from __future__ import annotations

import shutil
from datetime import datetime
from pathlib import Path

from msgspec import Struct
from msgspec.structs import replace

from hatchwright.errors import RecordError
from hatchwright.records.database import FILE, PLACE
from hatchwright.records.disk import disk_told
from hatchwright.records.manifest import (
    EXPORT,
    STORE_FILE,
    VERSION,
    HeldFile,
    Manifest,
    held_in,
    jobs_in,
    manifest_in,
    refuse_path,
    shown_path,
)
from hatchwright.records.plain import CHAIN, entries_in, kept_in, write_plain
from hatchwright.records.put_back import refuse_unsound
from hatchwright.records.store import Store
from hatchwright.records.verify import Verified
from hatchwright.said import said
from hatchwright.words.tell import tell
from hatchwright.workflow.backup import staged_copy
from hatchwright.workflow.folder_files import copy_listed, exchange, files_of, stage_in
from hatchwright.workflow.job_folder import jobs_alone

MANIFEST, CHECKSUMS, READ_ME = "export.json", "checksums.txt", "read-me.txt"
JOBS = "folder"
"""Where jobs, fleets and their kept steps lie, as in their own folder."""


class Exported(Struct, frozen=True):
    """What was written.

    Args:
        files: how many.
        left: outlines that jobs read and that are not among them.
        verified: what the chain comes to, None without one.
    """

    place: Path
    files: int
    jobs: int
    left: tuple[str, ...]
    verified: Verified | None


class Imported(Struct, frozen=True):
    """What was taken in.

    Args:
        head: of the chain, the same as before; "" without one.
    """

    jobs: int
    entries: int
    head: str


def export(folder: Path, place: Path, *, now: datetime) -> Exported:
    """Write everything of a folder into another one.

    Args:
        place: not there yet, or empty.
        now: with its time zone.
    Raises:
        RecordError: there is something already, the folder or its records can't be read, or nothing can be written.
    """
    _refuse_full(place)
    with stage_in(place.resolve().parent) as stage:
        copy, made = stage / JOBS, stage / "made"
        copy.mkdir()
        staged = staged_copy(folder, copy, form=EXPORT, now=now)
        made.mkdir()
        paths = _plain(copy, made)
        with disk_told(place):
            shutil.rmtree(copy / PLACE, ignore_errors=True)
            copy.rename(made / JOBS)
            paths += [f"{JOBS}/{held.path}" for held in staged.manifest.files if held.path != STORE_FILE]
            manifest = _listed(made, paths, staged.manifest)
            if place.is_dir():
                place.rmdir()
            made.rename(place)
    return Exported(place, len(manifest.files), staged.jobs, staged.left, staged.verified)


def take_in(place: Path, folder: Path, *, printed: str = "") -> Imported:
    """Make a folder of jobs of an export.

    Args:
        folder: without jobs and records; made when missing.
        printed: a head from paper that the chain must hold, "" for none.
    Raises:
        RecordError: a file of the export is missing or was changed, the chain is not sound, the folder is not empty, or
            something can't be written; nothing was changed then.
    """
    manifest = _read(place)
    with jobs_alone(folder), stage_in(folder) as stage:
        if files_of(folder) or _has_entries(folder):
            raise RecordError.saying("backup.import_not_empty", where=str(folder))
        staged = _chain(place, manifest, stage, printed)
        jobs = _jobs(place, manifest)
        copy_listed(place / JOBS, jobs, stage)
        if staged:
            Store.opened(folder).fill(staged.entries(), staged.all_kept())
            staged.close()
        exchange(folder, stage, stage / "none")
    return Imported(jobs_in(job.path for job in jobs), manifest.entries, manifest.head)


def _plain(copy: Path, made: Path) -> list[str]:
    """The chain of a copied folder as plain files."""
    if not (copy / STORE_FILE).is_file():
        return []
    store = Store.in_file(copy / STORE_FILE)
    paths = write_plain(store, made)
    store.close()
    return paths


def _listed(made: Path, paths: list[str], chain: Manifest) -> Manifest:
    """Say what there is, for people and for the way back."""
    text = tell(said("plain.read_me", made=chain.made, head=chain.head or "-", n=chain.entries))
    (made / READ_ME).write_text(text + "\n", encoding="utf-8", newline="\n")
    every = held_in(made, [*paths, READ_ME])
    # When the export was written says nothing: two exports of the same folder are the same.
    files = tuple(held if held.path.startswith(f"{JOBS}/") else replace(held, time_s=0) for held in every)
    manifest = Manifest(EXPORT, VERSION, chain.made, chain.entries, chain.head, chain.link, files)
    (made / MANIFEST).write_bytes(manifest.encoded())
    (made / CHECKSUMS).write_text(_checksums(manifest), encoding="utf-8", newline="\n")
    return manifest


def _checksums(manifest: Manifest) -> str:
    """In the form that `sha256sum --check` reads."""
    return "".join(f"{held.sha256}  {held.path}\n" for held in manifest.files)


def _read(place: Path) -> Manifest:
    """The manifest, and every file held to it."""
    with disk_told(place):
        if not (place / MANIFEST).is_file():
            raise RecordError.saying("backup.no_export", where=str(place))
        manifest = manifest_in((place / MANIFEST).read_bytes(), EXPORT, str(place / MANIFEST))
        for held in manifest.files:
            _refuse_changed(place, held)
        listed = (place / CHECKSUMS).read_bytes() if (place / CHECKSUMS).is_file() else b""
        if listed != _checksums(manifest).encode("utf-8"):
            raise RecordError.saying("backup.export_changed", where=str(place), path=CHECKSUMS)
    return manifest


def _refuse_changed(place: Path, held: HeldFile) -> None:
    file = place / held.path
    if not file.is_file() or not file.resolve().is_relative_to(place.resolve()):
        raise RecordError.saying("backup.export_missing", where=str(place), path=shown_path(held.path))
    if held_in(place, [held.path])[0].sha256 != held.sha256:
        raise RecordError.saying("backup.export_changed", where=str(place), path=shown_path(held.path))


def _chain(place: Path, manifest: Manifest, stage: Path, printed: str) -> Store | None:
    """The chain of an export in a store of its own, verified; None where it has none."""
    if CHAIN not in {held.path for held in manifest.files}:
        if printed or manifest.entries:
            raise RecordError.saying("backup.no_chain", where=str(place))
        return None
    with disk_told(stage):
        (stage / PLACE).mkdir()
    staged = Store.in_file(stage / PLACE / FILE)
    staged.fill(entries_in(place), kept_in(place, manifest))
    refuse_unsound(staged, manifest, str(place), printed=printed)
    return staged


def _jobs(place: Path, manifest: Manifest) -> list[HeldFile]:
    """The files of the folder of jobs, by their paths in it."""
    below = [held for held in manifest.files if held.path.startswith(f"{JOBS}/")]
    jobs = [replace(held, path=held.path.removeprefix(f"{JOBS}/")) for held in below]
    for held in jobs:
        refuse_path(held.path, str(place), is_among_jobs=True)
    if STORE_FILE in {held.path for held in jobs}:
        raise RecordError.saying("backup.path", where=str(place), path=f"{JOBS}/{STORE_FILE}")
    return jobs


def _has_entries(folder: Path) -> bool:
    return Store.is_there(folder) and Store.opened(folder).last() is not None


def _refuse_full(place: Path) -> None:
    if place.exists() and (not place.is_dir() or any(place.iterdir())):
        raise RecordError.saying("backup.export_not_empty", where=str(place))
