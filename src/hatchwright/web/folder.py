"""The one folder of jobs that this program shows, and the shop's own tables that they are judged by."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from django.conf import settings

from hatchwright.tables.table import ShopTables
from hatchwright.workflow.job_folder import JobFolder


def jobs() -> JobFolder:
    """The folder named at the start."""
    return _opened(settings.JOB_FOLDER)


def shop() -> ShopTables | None:
    """The shop's own rows that were named at the start, None without."""
    rows: ShopTables | None = settings.SHOP_TABLES
    return rows


@cache
def _opened(folder: Path) -> JobFolder:
    return JobFolder(folder)
