"""Start a job file."""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path

from hatchwright.errors import JobError
from hatchwright.job.file import save_text


def new_job(path: Path) -> None:
    """Write a job file to begin with; JobError where it exists, or its folder cannot be written."""
    if path.exists():
        raise JobError.about("file", "error.file_there", str(path))
    save_text(path, starting_text())


def starting_text() -> str:
    """The text of a new job: a sound one of round numbers with each field explained."""
    return files("hatchwright.workflow").joinpath("new_job.toml").read_text(encoding="utf-8")
