"""The layouts of the example jobs."""

from __future__ import annotations

from pathlib import Path

import pytest

from hatchwright.job.file import load_job
from hatchwright.layout.lay_out import lay_out
from hatchwright.layout.layout import Layout

EXAMPLES = Path(__file__).parents[2] / "examples"
JOBS = ("alder", "birch", "cypress", "dogwood", "elder", "finch", "heron")


@pytest.fixture(scope="session")
def every_job() -> tuple[Layout, ...]:
    return tuple(lay_out(load_job(EXAMPLES / f"{name}.toml")) for name in JOBS)
