"""The files of a folder of jobs that belong into a backup and an export, and how they are changed for others."""

from __future__ import annotations

import os
import shutil
import stat
import tempfile
import tomllib
from collections.abc import Iterable, Iterator
from contextlib import contextmanager, nullcontext, suppress
from errno import EEXIST
from pathlib import Path

from hatchwright.errors import HatchwrightError, RecordError
from hatchwright.job.text_file import HALF_WRITTEN
from hatchwright.records.disk import disk_told, settled
from hatchwright.records.manifest import EARLIER, HeldFile, is_of_jobs, refuse_path
from hatchwright.workflow.alone import alone
from hatchwright.workflow.job_folder import SUFFIX, jobs_alone
from hatchwright.workflow.outline_files import outline_files

_STAGE = ".restoring-"
_NO_STEP = ("lock",)


def files_of(folder: Path) -> tuple[str, ...]:
    """Jobs, fleets and outlines in a folder, with the kept steps of each: paths below it.

    Raises:
        RecordError: the folder can't be read, or a name is one that no other system could take.
    """
    with disk_told(folder):
        return tuple(sorted(_files(folder)))


def _files(folder: Path) -> Iterator[str]:
    jobs = {name for name in os.listdir(folder) if is_of_jobs(name) and (folder / name).is_file()}
    yield from jobs
    kept = folder / EARLIER
    if not kept.is_dir() or kept.is_symlink():
        return
    for path in kept.rglob("*"):
        parts = path.relative_to(folder).parts
        is_step = len(parts) > 2 and is_of_jobs(parts[1]) and not path.name.startswith(HALF_WRITTEN)
        if is_step and path.name not in _NO_STEP and stat.S_ISREG(path.lstat().st_mode):
            yield "/".join(parts)


def copy_files(folder: Path, into: Path) -> tuple[str, ...]:
    """Copy them while nobody changes a job, with the time of their last change; what a link leads to is copied.

    Raises:
        RecordError: a file can't be read or copied, or its name leads out of a folder on some system.
    """
    with jobs_alone(folder) if files_of(folder) else nullcontext():
        paths = files_of(folder)
        for path in paths:
            refuse_path(path, str(folder), is_among_jobs=True)
            _copy(folder / path, into / path)
    return paths


def outlines_left(folder: Path, paths: Iterable[str]) -> tuple[str, ...]:
    """Outlines that jobs of a folder read and that are not among its files, as their name is not that of a DXF file.

    Raises:
        RecordError: a job can't be read.
    """
    held, left = set(paths), set[str]()
    for path in held:
        if "/" in path or not path.endswith(SUFFIX):
            continue
        with disk_told(folder), suppress(tomllib.TOMLDecodeError, UnicodeDecodeError, HatchwrightError):
            named = outline_files((folder / path).read_text("utf-8"))
            left |= {name for name in named if name not in held and (folder / name).is_file()}
    return tuple(sorted(left))


def copy_listed(folder: Path, files: Iterable[HeldFile], into: Path) -> None:
    """Copy those that are named, with the time that is named; errors as of `copy_files`."""
    for held in files:
        _copy(folder / held.path, into / held.path)
        with disk_told(into):
            os.utime(into / held.path, (held.time_s, held.time_s))


def _copy(source: Path, target: Path) -> None:
    with disk_told(source):
        target.parent.mkdir(parents=True, exist_ok=True)
        if target.exists():  # two names that are one where capitals make no difference
            raise FileExistsError(EEXIST, os.strerror(EEXIST), str(target))
        shutil.copyfile(source, target)
        shutil.copystat(source, target)


def exchange(folder: Path, staged: Path, aside: Path) -> None:
    """Move the jobs of a folder with their steps aside, and others in; the caller keeps everybody else out.

    Where it is ended on the way, each file is in one of the three folders, and doing the same again ends it.

    Raises:
        RecordError: a file can't be moved.
    """
    try:
        _move(folder, aside)
        _move(staged, folder)
        settled(folder)
    except OSError as error:
        raise RecordError.saying(
            "backup.not_all_moved", where=str(folder), aside=str(aside), why=error.strerror or ""
        ) from None


def _move(source: Path, target: Path) -> None:
    """Job by job, each with its steps as a whole."""
    names = {path.partition("/")[0] for path in _files(source)} - {EARLIER}
    for name in sorted(names):
        target.mkdir(exist_ok=True)
        os.rename(source / name, target / name)
    steps = source / EARLIER
    for place in sorted(steps.iterdir()) if steps.is_dir() and not steps.is_symlink() else ():
        if is_of_jobs(place.name):
            (target / EARLIER).mkdir(parents=True, exist_ok=True)
            os.rename(place, target / EARLIER / place.name)


@contextmanager
def stage_in(folder: Path) -> Iterator[Path]:
    """A folder of its own inside another, on the same disk, that goes again; what an ended program left there goes too.

    Raises:
        RecordError: the folder can't be written.
        ExportError: another program has one there.
    """
    with alone(folder / f"{_STAGE}lock"):
        for left in folder.glob(f"{_STAGE}*/"):
            shutil.rmtree(left, ignore_errors=True)
        with disk_told(folder):
            stage = Path(tempfile.mkdtemp(dir=folder, prefix=_STAGE))
        try:
            yield stage
        finally:
            shutil.rmtree(stage, ignore_errors=True)
