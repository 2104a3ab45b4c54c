"""Two programs at one folder: the second waits, and is told when it waits in vain."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from hatchwright.errors import ExportError
from hatchwright.workflow.alone import alone

HOLDER = """
import sys
from pathlib import Path
from hatchwright.workflow.alone import alone
with alone(Path(sys.argv[1])):
    print("held", flush=True)
    sys.stdin.read()
"""


def test_another_program_is_waited_for_and_a_killed_one_holds_nothing(tmp_path: Path) -> None:
    lock = tmp_path / "lock"
    call = [sys.executable, "-c", HOLDER, str(lock)]
    with subprocess.Popen(call, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True) as holder:
        assert holder.stdout is not None
        assert holder.stdout.readline() == "held\n"
        with (
            pytest.raises(ExportError, match="another program is writing there"),
            alone(lock, patience_s=0.05),
        ):
            pass
        holder.kill()
    with alone(lock, patience_s=0.05):
        pass


def test_a_folder_that_cannot_be_written_is_named(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("no folder")
    with pytest.raises(ExportError, match="can't be written"), alone(tmp_path / "file" / "lock"):
        pass
