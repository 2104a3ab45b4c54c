"""What tests of every folder share: the example jobs."""

from __future__ import annotations

import os

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # small blocks: threads only get in each other's way

from pathlib import Path

import pytest

from hatchwright.job.file import load_job, load_text

EXAMPLES = Path(__file__).parents[1] / "examples"


@pytest.fixture(scope="session")
def alder_text():
    return load_text(EXAMPLES / "alder.toml")


@pytest.fixture(scope="session")
def alder():
    return load_job(EXAMPLES / "alder.toml")


@pytest.fixture(scope="session")
def alder_drawn(alder):
    """The same job before anything was made."""
    return alder.model_copy(update={"as_made": None})


@pytest.fixture(scope="session")
def dogwood():
    return load_job(EXAMPLES / "dogwood.toml")
