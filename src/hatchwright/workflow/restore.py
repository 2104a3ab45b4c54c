"""Put a folder of jobs back as a backup holds it: all is verified first, and what was there is set aside."""

from __future__ import annotations

from contextlib import ExitStack, closing
from datetime import datetime
from pathlib import Path

from msgspec import Struct

from hatchwright.errors import RecordError
from hatchwright.records.backup import unpack
from hatchwright.records.canonical import Plain
from hatchwright.records.database import FILE, PLACE
from hatchwright.records.manifest import STORE_FILE, Manifest, jobs_in, utc
from hatchwright.records.put_back import Present, present_of, put_back, refuse_unsound, spoilt_aside
from hatchwright.records.store import Store
from hatchwright.said import Said
from hatchwright.workflow.folder_files import exchange, files_of, stage_in
from hatchwright.workflow.job_folder import jobs_alone

ASIDE = "before-restore-"


class Restored(Struct, frozen=True):
    """What was put back.

    Args:
        jobs: how many jobs, fleets and files of that kind.
        head_now: of the chain that stands now, "" without one: its last entry says that it was restored.
        aside: folder with what was there before, None where nothing was.
    """

    manifest: Manifest
    jobs: int
    head_now: str
    aside: Path | None


def restore(
    file: Path, folder: Path, *, now: datetime, overwrite: bool = False, printed: str = ""
) -> Restored:
    """Put a folder back.

    Args:
        folder: of jobs, made when missing.
        overwrite: whether what is there may be set aside.
        printed: a head from paper that the backup must hold, "" for none.
    Raises:
        RecordError: the backup is damaged, not sound, of a newer program or another shop's, the folder holds jobs or
            records and `overwrite` is not set, or something can't be written; nothing was changed then.
    """
    with jobs_alone(folder), stage_in(folder) as stage, ExitStack() as at_end:
        manifest = unpack(file, stage)
        staged = _staged(stage, manifest, file, printed)
        if staged:
            at_end.callback(staged.close)
        jobs = files_of(folder)
        store, present = _present(folder, staged, file)
        if not overwrite and (jobs or present is None or present.entries):
            raise _in_the_way(folder, jobs_in(jobs), present)
        aside = _free(folder / f"{ASIDE}{utc(now).replace(':', '').replace('-', '')}")
        head_now = ""
        if staged:
            if not Store.is_there(folder):
                store = Store.opened(folder)
            head_now = _replaced(staged, store, folder, aside, _noted(manifest, present, aside), now)
        exchange(folder, stage, aside)
    return Restored(
        manifest,
        jobs_in(held.path for held in manifest.files),
        head_now,
        aside if aside.exists() else None,
    )


def _staged(stage: Path, manifest: Manifest, file: Path, printed: str) -> Store | None:
    """The chain of the backup, verified; None where it has none."""
    if STORE_FILE not in {held.path for held in manifest.files}:
        if printed or manifest.entries:
            raise RecordError.saying("backup.no_chain", where=str(file))
        return None
    staged = Store.in_file(stage / PLACE / FILE)
    refuse_unsound(staged, manifest, str(file), printed=printed)
    return staged


def _present(folder: Path, staged: Store | None, file: Path) -> tuple[Store | None, Present | None]:
    """The store that is there and what it holds; no store where there is none, and None where it can't be read."""
    if staged is None or not Store.is_there(folder):
        return None, Present(0, "", 0)
    try:
        store = _opened(folder)
        return store, present_of(store, staged, str(file))
    except RecordError as error:
        if not _is_spoilt(error, folder):
            raise
        return None, None


def _opened(folder: Path) -> Store:
    """The store, also where its entries got lost or somebody took away what guards it."""
    try:
        return Store.opened(folder, anew=True)
    except RecordError as error:
        if not isinstance(error.what, Said) or error.what.id != "records.unguarded":
            raise
        return Store.as_it_is(folder)


def _is_spoilt(error: RecordError, folder: Path) -> bool:
    """Whether it is the file of this folder that can't be read any more, and no server or other file."""
    file = folder / PLACE / FILE
    is_damage = isinstance(error.what, Said) and error.what.id == "records.damaged"
    return is_damage and error.where in ("", str(file.parent), str(file)) and file.is_file()


def _replaced(
    staged: Store,
    store: Store | None,
    folder: Path,
    aside: Path,
    note: dict[str, Plain],
    now: datetime,
) -> str:
    """The head that stands now. A file that turns out to be damaged on the way is moved aside as it is."""
    if store is not None:
        try:
            return put_back(staged, store, aside, note=note, now=now).head
        except RecordError as error:
            if not _is_spoilt(error, folder) or store.connection.vendor != "sqlite":
                raise
            store.close()
    with spoilt_aside(folder, aside), closing(Store.opened(folder, anew=True)) as fresh:
        return put_back(staged, fresh, None, note=note, now=now).head


def _noted(manifest: Manifest, present: Present | None, aside: Path) -> dict[str, Plain]:
    """What the chain says of it from now on."""
    there: Plain = {"entries": present.entries, "head": present.head} if present else None
    return {
        "restored": {"entries": manifest.entries, "head": manifest.head, "made": manifest.made},
        "instead_of": there,
        "set_aside_in": aside.name,
    }


def _in_the_way(folder: Path, jobs: int, present: Present | None) -> RecordError:
    if present is None:
        return RecordError.saying("backup.damaged_in_the_way", where=str(folder), jobs=jobs)
    if present.newer < 0:
        return RecordError.saying(
            "backup.parted_in_the_way", where=str(folder), jobs=jobs, n=present.entries, head=present.head
        )
    return RecordError.saying(
        "backup.in_the_way", where=str(folder), jobs=jobs, n=present.entries, newer=present.newer
    )


def _free(aside: Path) -> Path:
    if aside.exists():
        raise RecordError.saying("backup.there", where=str(aside))
    return aside
