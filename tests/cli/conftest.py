"""Run `hatchwright` as a person does: its exit status, what it prints, and what it prints to the error stream."""

from __future__ import annotations

import contextlib
import io
import sys
from collections.abc import Iterator

import pytest

from hatchwright.cli.main import main


@contextlib.contextmanager
def _caught(name: str) -> Iterator[io.BytesIO]:
    caught = io.TextIOWrapper(io.BytesIO(), encoding="utf-8", write_through=True)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(sys, name, caught)
        yield caught.buffer


@pytest.fixture(scope="session")
def shell():
    def run(*arguments: object) -> tuple[int, str, str]:
        with _caught("stdout") as out, _caught("stderr") as err, pytest.MonkeyPatch.context() as patch:
            patch.setattr(sys, "argv", ["hatchwright", *map(str, arguments)])
            try:
                main()
                status = 0
            except SystemExit as end:
                status = int(end.code or 0)
            return status, out.getvalue().decode("utf-8"), err.getvalue().decode("utf-8")

    return run


@pytest.fixture
def alder_file(tmp_path, alder_text):
    """A copy of the job ALDER that a test may change."""
    path = tmp_path / "alder.toml"
    path.write_text(alder_text, encoding="utf-8")
    return path
