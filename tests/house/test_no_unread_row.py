"""Every limit and every instruction is read by something: a row that nothing reads is a promise that nobody keeps."""

from __future__ import annotations

import ast
import csv
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

SOURCE_CODE = Path(__file__).parents[2] / "src" / "hatchwright"

WAITING = {
    "stop_drill_thin_max": "ends of a crack",
}
"""Rows that wait for what is still to be built, and for what; each leaves the list as it is read."""


def _written() -> Iterator[str]:
    """Every string of the code and the tool list, an f-string as the pattern of what it can become."""
    for path in SOURCE_CODE.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Constant) and isinstance(node.value, str):
                yield re.escape(node.value)
            elif isinstance(node, ast.JoinedStr) and isinstance(node.values[0], ast.Constant):
                yield "".join(
                    re.escape(str(part.value)) if isinstance(part, ast.Constant) else r"\w+"
                    for part in node.values
                )
    with (SOURCE_CODE / "job" / "tool_kinds.csv").open(encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            yield from (re.escape(cell) for cell in row.values())


@cache
def read_by() -> re.Pattern[str]:
    """Every key that the code can ask for."""
    return re.compile("|".join(dict.fromkeys(text for text in _written() if re.match(r"[a-z0-9_]{4}", text))))


@pytest.mark.parametrize("table", ["rule_limits", "instructions"])
def test_every_row_is_read(table: str) -> None:
    with (SOURCE_CODE / "tables" / f"{table}.csv").open(encoding="utf-8", newline="") as file:
        keys = {row["key"] for row in csv.DictReader(file)}
    unread = {key for key in keys if not read_by().fullmatch(key)}
    assert unread <= set(WAITING), f"nothing reads {sorted(unread - set(WAITING))}: use it or take it out"
    read = (keys - unread) & set(WAITING)
    assert not read, f"{sorted(read)} is read now: take it off the list"
