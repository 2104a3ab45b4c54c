"""Run `hatchwright` as a person does: its exit status, what it prints, and what it prints to the error stream."""

from __future__ import annotations

import sys

import pytest

from hatchwright.cli.main import main


@pytest.fixture
def shell(monkeypatch, capsys):
    def run(*arguments: object) -> tuple[int, str, str]:
        monkeypatch.setattr(sys, "argv", ["hatchwright", *map(str, arguments)])
        try:
            main()
            status = 0
        except SystemExit as end:
            status = int(end.code or 0)
        said = capsys.readouterr()
        return status, said.out, said.err

    return run


@pytest.fixture
def alder_file(tmp_path, alder_text):
    """A copy of the job ALDER that a test may change."""
    path = tmp_path / "alder.toml"
    path.write_text(alder_text, encoding="utf-8")
    return path
