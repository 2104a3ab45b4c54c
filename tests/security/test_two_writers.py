"""Files that a command writes: whole or as before, whoever else writes there and by whatever it is ended."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from hatchwright.drawings.made_file import MadeFile, MadeKind, Written
from hatchwright.errors import ExportError
from hatchwright.workflow import write_files as module
from hatchwright.workflow.alone import alone
from hatchwright.workflow.write_files import write_files
from tests.conftest import EXAMPLES
from tests.patience import PATIENCE_S

BEFORE = {"a.svg": b"old one", "b.dxf": b"old two"}
AFTER = {"a.svg": b"one", "b.dxf": b"two", "c.pdf": b"three"}


def made(contents: dict[str, bytes]) -> tuple[MadeFile, ...]:
    return tuple(
        MadeFile(name, MadeKind.LAYOUT, "left", True, Written.PDF, data) for name, data in contents.items()
    )


def content_of(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in folder.iterdir()}


def test_while_a_set_is_placed_no_other_program_writes_there(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    replace, refused = os.replace, []

    def placing(source: Path, target: Path) -> None:
        with (
            pytest.raises(ExportError, match="another program is writing there"),
            alone(tmp_path / ".writing", patience_s=0.01),
        ):
            pass
        refused.append(target)
        replace(source, target)

    monkeypatch.setattr(module.os, "replace", placing)
    write_files(made(AFTER), tmp_path)
    assert refused
    assert content_of(tmp_path) == AFTER


def test_who_waits_in_vain_is_told_and_changes_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("filelock.FileLock.acquire", _in_vain)
    with pytest.raises(ExportError, match="another program is writing there"):
        write_files(made(AFTER), tmp_path / "out")
    assert not list(tmp_path.iterdir())


def _in_vain(self: object, *_: object, **__: object) -> None:
    from filelock import Timeout

    raise Timeout("lock")


KILLED = """
import os, sys
from pathlib import Path
from hatchwright.workflow import write_files as module
from tests.security.test_two_writers import AFTER, BEFORE, made
at, folder = 0, Path(sys.argv[1])
for last in range(1, 8):
    out = folder / str(last)
    module.write_files(made(BEFORE), out)
    if not os.fork():
        replace, calls = os.replace, iter(range(1, 100))
        def placing(source, target):
            if next(calls) == last:
                os._exit(9)  # as by SIGKILL: nothing is put back
            replace(source, target)
        os.replace = placing
        module.write_files(made(AFTER), out, overwrite=True)
        os._exit(0)
    os.wait()
"""


@pytest.mark.skipif(os.name != "posix", reason="forks")
def test_what_a_killed_program_left_is_taken_back_by_the_next_one(tmp_path: Path) -> None:
    """Killed before each of six moves; the seventh never comes, as that set stands."""
    subprocess.run([sys.executable, "-c", KILLED, str(tmp_path)], check=True, timeout=PATIENCE_S)
    other = {"d.svg": b"another set"}
    for last in range(1, 8):
        out = tmp_path / str(last)
        if last < 7:
            assert any(path.name.startswith(".writing-") for path in out.iterdir())
        write_files(made(other), out)
        assert content_of(out) == {**(BEFORE if last < 7 else AFTER), **other}


INTERRUPTED = """
import os, signal, sys
number = sys.argv.pop()
from hatchwright.cli import papers
from hatchwright.cli.main import main
from tests.security.test_two_writers import AFTER, made
papers.papers = lambda *_, **__: made(AFTER)
replace, calls = os.replace, iter(range(100))
def placing(source, target):
    replace(source, target)
    if next(calls) == 3:
        signal.raise_signal(int(number))
os.replace = placing
main()
"""


@pytest.mark.skipif(os.name != "posix", reason="signals of POSIX")
@pytest.mark.parametrize("name", ["SIGINT", "SIGTERM"])
def test_papers_that_are_interrupted_leave_everything_as_it_was(tmp_path: Path, name: str) -> None:
    out, number = tmp_path / "out", getattr(signal, name)
    write_files(made(BEFORE), out)
    call = ["papers", str(EXAMPLES / "dogwood.toml"), "--out", str(out), "--overwrite", str(int(number))]
    ended = subprocess.run(
        [sys.executable, "-c", INTERRUPTED, *call], capture_output=True, text=True, timeout=PATIENCE_S
    )
    assert ended.returncode == -number
    assert (ended.stdout, ended.stderr.strip()) == ("", "")
    assert content_of(out) == BEFORE
