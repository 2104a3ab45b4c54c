"""No test waits for a number of seconds or counts them: how fast the machine is says nothing about the program."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

TESTS = Path(__file__).parents[1]
WAITS = TESTS / "patience.py"
"""The one place that may look at the clock: it ends what hangs."""

CLOCKS = {"sleep", "monotonic", "perf_counter", "process_time", "wait_for_timeout", "thread_time"}
LIMITS = {"timeout", "deadline", "delay"}


def seconds_in(text: str) -> Iterator[tuple[int, str]]:
    """Line and name of whatever waits or counts: a clock that is called, a limit that is given as a bare number."""
    for node in ast.walk(ast.parse(text)):
        if not isinstance(node, ast.Call):
            continue
        name = node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
        if name in CLOCKS:
            yield node.lineno, name
        for given in node.keywords:
            if (
                given.arg in LIMITS
                and isinstance(given.value, ast.Constant)
                and given.value.value is not None
            ):
                yield node.lineno, str(given.arg)


def test_no_test_counts_seconds():
    files = [path for path in TESTS.rglob("*.py") if path != WAITS]
    assert len(files) > 200
    assert [
        f"{path.relative_to(TESTS)}:{line}: {name}"
        for path in files
        for line, name in seconds_in(path.read_text(encoding="utf-8"))
    ] == []


def test_what_counts_seconds_is_found():
    text = "sleep(1)\npage.wait_for_timeout(800)\nexpect(it, timeout=1_500)\nrun(timeout=MOST)\nsome(deadline=None)\n"
    assert [name for _, name in seconds_in(text)] == ["sleep", "wait_for_timeout", "timeout"]
