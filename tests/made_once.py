"""Papers of a job that several tests read, made once a session, whichever of its processes asks first."""

from __future__ import annotations

import fcntl
import hashlib
import pickle
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import Any

from hatchwright.drawings.made_file import MadeFile
from hatchwright.job.job import Job
from hatchwright.workflow.examine import examine

Makes = Callable[..., tuple[MadeFile, ...]]


def by_name(files: Iterable[MadeFile]) -> dict[str, bytes]:
    """Bytes of files by their names; no two may have the same."""
    files = tuple(files)
    found = {file.name: file.content for file in files}
    assert len(found) == len(files)
    return found


class MadeOnce:
    """Sets of files, kept by what they are made of. Who asks while a set is being made waits for it.

    Args:
        folder: of this session, the same for all of its processes.
    """

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        folder.mkdir(parents=True, exist_ok=True)

    def __call__(self, make: Makes, job: Job, **how: Any) -> dict[str, bytes]:
        """The files that a maker of papers makes of a job.

        Args:
            make: such as `papers` or `template_files`.
            job: as entered, without outlines from other files.
            **how: passed on.
        Returns:
            dict[str, bytes]: file name to its bytes; a copy of its own for each who asks.
        """
        entered = job.model_dump_json()
        assert (
            '"shape":"dxf"' not in entered
        )  # what stands in another file is no part of what this is kept by
        asked = f"{make.__module__}.{make.__qualname__} {sorted(how.items())!r} {entered}"
        kept = self.folder / hashlib.sha256(asked.encode("utf-8")).hexdigest()
        with kept.with_suffix(".lock").open("w") as lock:
            fcntl.flock(lock, fcntl.LOCK_EX)
            if not kept.exists():
                part = kept.with_suffix(".part")
                part.write_bytes(pickle.dumps(by_name(make(examine(job), **how))))
                part.rename(kept)
        files: dict[str, bytes] = pickle.loads(kept.read_bytes())
        return files
