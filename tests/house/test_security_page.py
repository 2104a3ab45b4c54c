"""`docs/security.md` names only tests that exist, and each of its rows names one, or says that there is none."""

from __future__ import annotations

import ast
import re
from functools import cache
from pathlib import Path

TESTS = Path(__file__).parents[1]
PAGE = (TESTS.parent / "docs" / "security.md").read_text(encoding="utf-8")
NAMED = sorted(set(re.findall(r"`([\w/]+\.py)::(\w+)`", PAGE)))


@cache
def names_in(file: str) -> frozenset[str]:
    """Names of the tests of a file."""
    tree = ast.parse((TESTS / file).read_text(encoding="utf-8"))
    return frozenset(node.name for node in ast.walk(tree) if isinstance(node, ast.FunctionDef))


def test_every_test_that_is_named_exists():
    assert len(NAMED) > 30
    assert [(file, test) for file, test in NAMED if test not in names_in(file)] == []


def test_every_row_names_its_test_or_says_that_there_is_none():
    applies = PAGE.partition("## Does not apply")[0]
    rows = [
        line for line in applies.splitlines() if line.startswith("| ") and "asked for | holds how" not in line
    ]
    assert len(rows) > 30
    for row in rows:
        last = row.rstrip(" |").rpartition(" | ")[2]
        assert last.startswith("none") or re.fullmatch(r"(`[\w/]+\.py::test_\w+`(, )?)+", last), row


def test_no_test_is_named_without_its_file():
    assert set(re.findall(r"`(test_\w+)`", PAGE)) == set()
