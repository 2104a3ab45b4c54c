"""Write a set of files into a folder: all of them or none, and never over a file that is there without leave."""

from __future__ import annotations

import os
import shutil
import tempfile
from collections.abc import Iterable, Mapping
from pathlib import Path

from hatchwright.drawings.made_file import MadeFile
from hatchwright.errors import ExportError
from hatchwright.said import Listed


def write_files(files: Iterable[MadeFile], folder: Path, *, overwrite: bool = False) -> tuple[Path, ...]:
    """Write files into a folder.

    A file of the same name and the same bytes counts as written. Any other file of one of the names is foreign,
    whoever made it, and is replaced only when `overwrite` says so. Everything is first written beside its place and
    then moved there; when something fails on the way, what was there before is put back.

    Args:
        files: each of a name of its own.
        folder: made when missing.
    Raises:
        ExportError: a name is not bare, a foreign file is in the way, or the folder cannot be written; nothing
            was changed then.
    """
    contents = {file.name: file.content for file in files}
    for name in contents:
        if name in ("", ".", "..") or Path(name).name != name:
            raise ExportError.saying("error.bare_name", where=str(folder), name=name)
    try:
        missing = [one for one in (folder, *folder.parents) if not one.exists()]  # the innermost first
        folder.mkdir(parents=True, exist_ok=True)
        try:
            _refuse_foreign(contents, folder, overwrite=overwrite)
            _place_all(contents, folder)
        except BaseException:
            for made in missing:
                if made.is_dir() and not any(made.iterdir()):
                    made.rmdir()
            raise
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
    stage = Path(tempfile.mkdtemp(dir=folder, prefix=".writing-"))
    old, new = stage / "old", stage / "new"
    placed: list[str] = []
    try:
        old.mkdir()
        new.mkdir()
        for name, data in files.items():
            with (new / name).open("wb") as out:
                out.write(data)
                out.flush()
                os.fsync(out.fileno())
        for name in files:
            if os.path.lexists(folder / name):
                os.replace(folder / name, old / name)
            placed.append(name)
            os.replace(new / name, folder / name)
    except BaseException:
        for name in reversed(placed):
            if (old / name).exists():
                os.replace(old / name, folder / name)
            else:
                (folder / name).unlink(missing_ok=True)
        raise
    finally:
        shutil.rmtree(stage, ignore_errors=True)
