"""One at a time: a lock between threads and programs, which the system takes back when its holder ends."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from filelock import FileLock, Timeout

from hatchwright.errors import ExportError

PATIENCE_S = 10.0


@contextmanager
def alone(lock: Path, *, patience_s: float = PATIENCE_S) -> Iterator[None]:
    """Do what stands inside while no other thread or program of this machine does what stands inside the same lock.

    Args:
        lock: file that stands for what is held; its folder is made when missing.
        patience_s: how long the others may take [s].
    Raises:
        ExportError: another program holds it for longer, or the folder cannot be written.
    """
    held = FileLock(lock, timeout=patience_s, thread_local=False)
    try:
        held.acquire()
    except Timeout:
        raise ExportError.saying("error.held_by_another", where=str(lock.parent)) from None
    except OSError as error:
        raise ExportError.saying(
            "error.files_unwritten", where=str(lock.parent), why=error.strerror or ""
        ) from None
    try:
        yield
    finally:
        held.release()
