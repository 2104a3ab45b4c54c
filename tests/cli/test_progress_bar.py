"""The bar of a command: on a terminal alone, rising, gone at the end; never where a program reads along."""

from __future__ import annotations

import importlib
import io
import re
import sys
from contextlib import contextmanager

import pytest

from hatchwright.cli.progress_bar import progress_bar
from hatchwright.progress import unheard
from hatchwright.said import said
from hatchwright.words.tell import tell
from tests.conftest import EXAMPLES
from tests.strength.jobs import ANSWERED, SYMMETRIC, running


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


def test_where_a_program_reads_along_nothing_is_written(capsys, monkeypatch):
    monkeypatch.setenv("FORCE_COLOR", "1")
    with progress_bar() as progress:
        assert progress is unheard
    assert capsys.readouterr() == ("", "")


@pytest.mark.parametrize("how", ["done", "stopped"])
def test_on_a_terminal_it_says_how_far_and_what_and_is_gone_at_the_end(monkeypatch, how):
    terminal = Terminal()
    monkeypatch.setenv("TERM", "xterm")
    monkeypatch.setattr(sys, "stderr", terminal)
    try:
        with progress_bar() as progress:
            progress(0.25, said("progress.variants", done=1, all=4))
            if how == "stopped":
                raise KeyboardInterrupt
    except KeyboardInterrupt:
        assert how == "stopped"
    shown = terminal.getvalue()
    assert re.search(r"25%.*1 of 4 variants", shown)
    assert shown.endswith("\x1b[1A\x1b[2K")  # up one line and erase it (ECMA-48: CUU, EL)
    assert (
        shown.count("\x1b[?25l") == shown.count("\x1b[?25h") == 1
    )  # the cursor is shown again (DEC private mode 25)


@pytest.mark.parametrize(
    ("command", "told"),
    [
        ("papers", ("Checking every rule, CENTER side", "Drawing the CENTER layout drawing (PDF)")),
        ("strength", ("Solving the skin with its doubler on two grids", "Load case case 1, 1 of 1")),
        ("sweep", ("0 of 1 variants", "1 of 1 variants")),
    ],
)
def test_long_commands_tell_how_far_they_are(shell, tmp_path, monkeypatch, command, told):
    heard: list[tuple[float, str]] = []

    @contextmanager
    def listener():
        yield lambda share, doing: heard.append((share, tell(doing)))

    module = importlib.import_module(f"hatchwright.cli.{command}")
    monkeypatch.setattr(module, "progress_bar", listener)
    job = tmp_path / "job.toml"
    if command == "papers":
        job.write_text((EXAMPLES / "dogwood.toml").read_text(encoding="utf-8"), encoding="utf-8")
    else:
        job.write_text(SYMMETRIC + ANSWERED + running({"q": 60.0}), encoding="utf-8")
    more = (
        ("--vary", "doubler.thickness=.040", "--processes", 1, "--no-buckling") if command == "sweep" else ()
    )
    out = () if command == "strength" else ("--out", tmp_path / "out")
    assert shell(command, job, *more, *out)[0] in (0, 1)
    shares, words = zip(*heard, strict=True)
    assert list(shares) == sorted(shares)
    assert shares[0] == 0.0
    assert set(told) <= set(words)
