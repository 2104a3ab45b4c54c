"""What is printed fits a terminal, and a pipe gets one row a line, nothing folded and nothing framed."""

from __future__ import annotations

import re
import sys

import pytest

from hatchwright.cli.answer_table import put_table
from hatchwright.cli.lines import line_width, put_text
from tests.conftest import EXAMPLES

FRAME = re.compile("[\u2500-\u257f]")
"""Box-drawing characters. Source: The Unicode Standard, block U+2500 to U+257F."""

LONG = "Rivets on side X+, ahead of the edge. " * 5
ROWS = [("OK", "S101", f"{LONG}\nApplied 27 lbf"), ("NOT SHOWN", "S2", "short")]


@pytest.fixture(autouse=True)
def no_columns(monkeypatch):
    monkeypatch.delenv("COLUMNS", raising=False)


def test_a_table_in_a_pipe_has_one_row_a_line_in_columns(capsys):
    put_table(("", "Check", "What"), ROWS, title="Margins")
    assert capsys.readouterr().out.splitlines() == [
        "Margins",
        "           Check  What",
        f"OK         S101   {LONG} | Applied 27 lbf",
        "NOT SHOWN  S2     short",
    ]


def test_a_table_on_a_terminal_is_framed_and_as_wide_as_that(capsys, monkeypatch):
    monkeypatch.setenv("COLUMNS", "60")
    monkeypatch.setenv("TERM", "dumb")
    monkeypatch.setattr(sys.stdout, "isatty", lambda: True)
    put_table(("", "Check", "What"), ROWS, title="Margins")
    told = capsys.readouterr().out
    assert FRAME.search(told)
    assert max(map(len, told.splitlines())) == 60
    assert LONG.split() == FRAME.sub(" ", told).split("S101")[1].split()[: len(LONG.split())]


def test_a_text_is_folded_on_a_terminal_alone(capsys, monkeypatch):
    put_text(LONG, indent="  ")
    assert capsys.readouterr().out == f"  {LONG.rstrip()}\n"
    monkeypatch.setenv("COLUMNS", "40")
    put_text(LONG, indent="  ")
    lines = capsys.readouterr().out.splitlines()
    assert max(map(len, lines)) <= 40 < len(LONG)
    assert " ".join(" ".join(lines).split()) == LONG.rstrip()


def test_a_terminal_that_is_very_wide_gets_lines_that_can_be_read(monkeypatch):
    monkeypatch.setenv("COLUMNS", "400")
    assert line_width() == 110


def test_each_answer_of_a_check_is_one_line_of_a_pipe(shell):
    _, piped, _ = shell("check", EXAMPLES / "alder.toml")
    (rivet,) = (line for line in piped.splitlines() if line.startswith("NOT SHOWN  Rivet 4 "))
    assert rivet.endswith("[R101]")
    _, shown, _ = shell("check", EXAMPLES / "alder.toml", columns=60)
    assert max(map(len, shown.splitlines())) <= 60
    assert shown.split() == piped.split()
