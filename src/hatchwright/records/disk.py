"""What a disk refuses where plain files are read and written, in our words."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from hatchwright.errors import RecordError


@contextmanager
def disk_told(where: object) -> Iterator[None]:
    """RecordError for what can't be read or written, with the file that the system names, or `where`."""
    try:
        yield
    except OSError as error:
        place = str(error.filename or where)
        raise RecordError.saying(
            "backup.disk", where=place, why=error.strerror or type(error).__name__
        ) from error


def settled(folder: Path) -> None:
    """The names in a folder are on disk when this returns, where the system can be asked for that."""
    with suppress(OSError):
        opened = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(opened)
        finally:
            os.close(opened)
