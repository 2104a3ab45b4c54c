"""The files beside a job that what is made of it rests on: known by their content, as they may change without it."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable
from pathlib import Path

from hatchwright.errors import JobError
from hatchwright.job.dxf_loop import LARGEST_FILE_BYTES
from hatchwright.page.screen import Asked
from hatchwright.workflow.job_folder import version_of
from hatchwright.workflow.outline_files import outline_files


def content_mark(path: Path) -> str:
    """The same for the same content only; "" where there is none that anything could be read from."""
    try:
        if path.is_file() and path.stat().st_size <= LARGEST_FILE_BYTES:
            return hashlib.sha256(path.read_bytes()).hexdigest()
    except OSError:
        pass
    return ""


def outline_marks(asked: Asked) -> dict[str, str]:
    """The files that a job reads its outlines from, by name, each with its `content_mark`.

    Raises:
        JobError: the text is not TOML.
    """
    return {name: content_mark(asked.folder / name) for name in outline_files(asked.text)}


def version_with_files(asked: Asked, others: Iterable[str] = ()) -> str:
    """A short name for exactly this text with exactly these files beside it; that of the text where there is none.

    Args:
        others: places of files beside those that the text names, from the job's folder.
    """
    try:
        marks = outline_marks(asked)
    except JobError:
        marks = {}
    marks |= {place: content_mark(asked.folder / place) for place in others}
    return version_of("\0".join((asked.text, *(f"{name}\0{mark}" for name, mark in sorted(marks.items())))))
