"""One at a time: a lock between threads and programs, which the system takes back when its holder ends."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from filelock import FileLock, Timeout

from hatchwright.errors import ExportError, HatchwrightError

PATIENCE_S = 10.0


@contextmanager
def alone(
    lock: Path, *, patience_s: float = PATIENCE_S, refusal: HatchwrightError | None = None
) -> Iterator[None]:
    """Do what stands inside while no other thread or program of this machine does what stands inside the same lock.

    Args:
        lock: file that stands for what is held, and is there only meanwhile; its folder is made when missing, and
            goes again when nothing was put into it because of an error.
        patience_s: how long the others may take [s].
        refusal: what is raised when they take longer, None for an error that says it in general.
    Raises:
        ExportError: another program holds it for longer, or the folder cannot be written.
    """
    folder = lock.parent
    made: list[Path] = []
    held = FileLock(lock, timeout=patience_s, thread_local=False)
    try:
        try:
            made = [one for one in (folder, *folder.parents) if not one.exists()]  # the innermost first
            held.acquire()
        except Timeout:
            raise refusal or ExportError.saying("error.held_by_another", where=str(folder)) from None
        except OSError as error:
            raise ExportError.saying(
                "error.files_unwritten", where=str(folder), why=error.strerror or ""
            ) from None
        try:
            yield
        finally:
            with suppress(OSError):
                lock.unlink()  # while it is held: who waits for a file that is gone makes the next one
            held.release()
    except BaseException:
        with suppress(OSError):
            for one in made:
                one.rmdir()
        raise
