"""Write a set of files into a folder: all of them or none, and never over a file that is there without leave."""

from __future__ import annotations

import os
import shutil
import tempfile
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Protocol

from hatchwright.errors import ExportError
from hatchwright.said import Listed
from hatchwright.workflow.alone import alone

_LOCK, _STAGE = ".writing", ".writing-"
_OLD, _NEW = "old", "new"


class NamedFile(Protocol):
    """A file that was made, or kept."""

    @property
    def name(self) -> str:
        """Of the file, bare."""

    @property
    def content(self) -> bytes:
        """What it holds."""


def write_files(files: Iterable[NamedFile], folder: Path, *, overwrite: bool = False) -> tuple[Path, ...]:
    """Write files into a folder.

    A file of the same name and the same bytes counts as written. Any other file of one of the names is foreign,
    whoever made it, and is replaced only when `overwrite` says so. Everything is first written beside its place and
    then moved there; when something fails on the way, what was there before is put back, and when the program is killed
    on the way, by the next one that writes there. Programs that write into one folder do so one after the other.

    Args:
        files: each of a name of its own.
        folder: made when missing.
    Raises:
        ExportError: a name is not bare, a foreign file is in the way, another program goes on writing there, or
            the folder cannot be written; nothing was changed then.
    """
    contents = {file.name: file.content for file in files}
    for name in contents:
        if name in ("", ".", "..") or Path(name).name != name:
            raise ExportError.saying("error.bare_name", where=str(folder), name=name)
    try:
        with alone(folder / _LOCK):
            for left in folder.glob(f"{_STAGE}*"):
                _clear(left)
            _refuse_foreign(contents, folder, overwrite=overwrite)
            _place_all(contents, folder)
    except OSError as error:
        raise ExportError.saying(
            "error.files_unwritten", where=str(folder), why=error.strerror or ""
        ) from None
    return tuple(folder / name for name in contents)


def _refuse_foreign(files: Mapping[str, bytes], folder: Path, *, overwrite: bool) -> None:
    there = [name for name in files if os.path.lexists(folder / name)]
    blocked = [name for name in there if not (folder / name).is_file()]
    if blocked:
        raise ExportError.saying("error.blocked", where=str(folder), names=Listed(tuple(blocked), ","))
    foreign = [name for name in there if not overwrite and (folder / name).read_bytes() != files[name]]
    if foreign:
        raise ExportError.saying(
            "error.replaced", where=str(folder), n=len(foreign), names=Listed(tuple(foreign), ",")
        )


def _place_all(files: Mapping[str, bytes], folder: Path) -> None:
    """Write all files into a folder of their own beside their places, then move them there."""
    stage = Path(tempfile.mkdtemp(dir=folder, prefix=_STAGE))
    old, new = stage / _OLD, stage / _NEW
    try:
        new.mkdir()
        for name, data in files.items():
            with (new / name).open("wb") as out:
                out.write(data)
                out.flush()
                os.fsync(out.fileno())
        old.mkdir()
        for name in files:
            if os.path.lexists(folder / name):
                os.replace(folder / name, old / name)
            else:
                (old / name).mkdir()
            os.replace(new / name, folder / name)
        os.replace(old, stage / "replaced")  # from here on the new set stands
    finally:
        _clear(stage)


def _clear(stage: Path) -> None:
    """Take the stage of a set away. A set that was not placed whole, because writing it failed or its program was
    killed, is taken back: what stood in each place returns, and where a folder marks that nothing did, nothing stays.
    """
    old = stage / _OLD
    for before in old.iterdir() if old.is_dir() else ():
        place = stage.parent / before.name
        if not before.is_dir():
            os.replace(before, place)
        elif not (stage / _NEW / before.name).exists():
            place.unlink(missing_ok=True)
    shutil.rmtree(stage, ignore_errors=True)
