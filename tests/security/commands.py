"""Commands of the program, one after the other in one process, which may be another user's or another language's."""

from __future__ import annotations

import contextlib
import io
import json
import os
import subprocess
import sys
from typing import Any

from tests.patience import PATIENCE_S


def told(calls: list[list[str]]) -> list[tuple[int, str, str]]:
    """Exit status, output and complaints of each command, called in this process.

    Args:
        calls: arguments of each, without the name of the program.
    """
    from hatchwright.cli.main import main

    answers = []
    for call in calls:
        out, complaints, status = io.StringIO(), io.StringIO(), 0
        with contextlib.redirect_stdout(out), contextlib.redirect_stderr(complaints):
            sys.argv = ["hatchwright", *call]
            try:
                main()
            except SystemExit as end:
                status = int(end.code or 0)
        answers.append((status, out.getvalue(), complaints.getvalue()))
    return answers


def told_elsewhere(
    calls: list[list[str]], *options: str, begins: str = "", without: tuple[str, ...] = (), **how: Any
) -> list[tuple[int, str, str]]:
    """The same in a process of its own.

    Args:
        calls: as above.
        *options: of Python.
        begins: a statement that is done first.
        without: variables of the environment that it does not get.
        **how: passed on to `subprocess`; `env` adds to the environment.
    """
    environment = {name: value for name, value in os.environ.items() if name not in without}
    environment |= {"PYTHONPATH": os.pathsep.join(sys.path)} | how.pop("env", {})
    script = f"{begins}\nimport json, sys\nfrom tests.security.commands import told\n"
    script += "calls = json.load(sys.stdin)\nprint(json.dumps(told(calls)))\n"
    done = subprocess.run(
        [sys.executable, *options, "-c", script],
        input=json.dumps(calls),
        capture_output=True,
        text=True,
        encoding="utf-8",
        timeout=PATIENCE_S,
        env=environment,
        **how,
    )
    assert done.returncode == 0, done.stderr
    return [tuple(answer) for answer in json.loads(done.stdout)]
