"""Run `hatchwright` as a person does: its exit status, what it prints, and what it prints to the error stream."""

from __future__ import annotations

import contextlib
import io
import sys
from collections.abc import Iterator

import pytest

from hatchwright.cli.main import main


class _Caught(io.TextIOWrapper):
    """What is printed, to a pipe or to a terminal."""

    is_terminal = False

    def isatty(self) -> bool:
        return self.is_terminal


@contextlib.contextmanager
def _caught(name: str, *, is_terminal: bool = False) -> Iterator[io.BytesIO]:
    caught = _Caught(io.BytesIO(), encoding="utf-8", write_through=True)
    caught.is_terminal = is_terminal
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(sys, name, caught)
        yield caught.buffer


@pytest.fixture(scope="session")
def shell():
    def run(*arguments: object, columns: int = 0) -> tuple[int, str, str]:
        """Run it in a pipe, or on a plain terminal of so many columns."""
        with (
            _caught("stdout", is_terminal=columns > 0) as out,
            _caught("stderr") as err,
            pytest.MonkeyPatch.context() as patch,
        ):
            patch.setattr(sys, "argv", ["hatchwright", *map(str, arguments)])
            if columns:
                patch.setenv("COLUMNS", str(columns))
                patch.setenv("TERM", "dumb")
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
