"""The one folder of jobs that this program shows."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from django.conf import settings

from hatchwright.workflow.job_folder import JobFolder


def jobs() -> JobFolder:
    """The folder named at the start."""
    return _opened(settings.JOB_FOLDER)


@cache
def _opened(folder: Path) -> JobFolder:
    return JobFolder(folder)
