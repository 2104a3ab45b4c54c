"""Every one of the geometry check cases stands in a published test, by its number."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest

PUBLISHED = Path(__file__).parents[1] / "published"

CASES = {
    1: "window that is cut exactly",
    2: "corner tighter than the cutter",
    3: "square corner wanted",
    4: "end mill limits the corner",
    6: "re-entrant corner too small",
    7: "re-entrant corner just reachable",
    9: "sharp corner of 60 degrees",
    10: "sharp corner of 120 degrees",
    11: "thin tongue",
    12: "scallop, straight",
    13: "scallop, inside corner",
    14: "scallop, re-entrant corner",
    16: "guide not concentric",
    17: "template shifted",
    18: "template turned",
    21: "hold of the pins",
    23: "offset from a trial cut",
    24: "chance of a short edge distance",
    27: "corner holes, then straight cuts",
}
"""Numbers of the cases and what they are about; the missing numbers were never given out."""


def named() -> set[int]:
    """Case numbers that the names and the parameters of published tests bear."""
    found: set[int] = set()
    for path in PUBLISHED.glob("test_*.py"):
        tree = ast.parse(path.read_text(encoding="utf-8"))
        for node in ast.walk(tree):
            if isinstance(node, ast.FunctionDef) and node.name.startswith("test_"):
                said = [node.name, *(ast.unparse(one) for one in node.decorator_list)]
                found |= {int(number) for number in re.findall(r"(?:_c|\bC)(\d\d)(?!\d)", " ".join(said))}
                for first, last in re.findall(r"_c(\d\d)_to_c(\d\d)", node.name):
                    found |= {number for number in CASES if int(first) <= number <= int(last)}
    return found


@pytest.mark.parametrize("number", CASES)
def test_every_case_is_in_a_published_test(number):
    assert number in named()


def test_no_published_test_names_a_case_that_there_is_not():
    assert named() <= set(CASES)
