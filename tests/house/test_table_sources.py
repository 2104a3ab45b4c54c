"""Every number has an address: every row of every table cites a document of the one bibliography."""

from __future__ import annotations

import ast
import csv
import re
from pathlib import Path

import pytest

from hatchwright.workings import Grade

ROOT = Path(__file__).parents[2]
SOURCE_CODE = ROOT / "src" / "hatchwright"
TABLES = sorted(path for path in (SOURCE_CODE / "tables").glob("*.csv") if path.name != "sources.csv")
BIBLIOGRAPHY = (ROOT / "docs" / "references.md").read_text(encoding="utf-8")
ENTRY = re.compile(
    r"^### \[(?P<key>[^\]\n]+)\]\n(?P<title>[^\n]+)\n- Edition: (?P<edition>[^\n]+)\n- Seen: (?P<seen>\S)",
    re.M,
)
EDITIONS = {entry["key"]: entry["edition"] for entry in ENTRY.finditer(BIBLIOGRAPHY)}


def _rows(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def test_every_entry_of_the_bibliography_is_complete() -> None:
    headings = re.findall(r"^### \[([^\]\n]+)\]$", BIBLIOGRAPHY, re.M)
    assert len(headings) == len(set(headings))
    assert set(headings) == set(EDITIONS), "an entry lacks its title, edition or what was seen"


@pytest.mark.parametrize("path", TABLES, ids=lambda path: path.stem)
def test_every_row_cites_the_bibliography(path: Path) -> None:
    grades = {str(grade) for grade in Grade} - {str(Grade.SHOP)}
    with path.open(encoding="utf-8", newline="") as file:
        assert next(csv.reader(file))[-4:] == ["source", "place", "edition", "basis"]
    for line, row in enumerate(_rows(path), start=2):
        where = f"{path.name}, line {line}"
        assert row["source"] in EDITIONS, f"{where}: [{row['source']}] is not in docs/references.md"
        assert row["edition"] == EDITIONS[row["source"]], (
            f"{where}: the edition is not that of the bibliography"
        )
        assert row["place"], f"{where}: no place in the document"
        assert row["basis"] in grades, f"{where}: '{row['basis']}' is not a grade"


@pytest.mark.parametrize("path", TABLES, ids=lambda path: path.stem)
def test_practice_and_memory_are_not_dressed_up(path: Path) -> None:
    for line, row in enumerate(_rows(path), start=2):
        if row["source"] == "PRACTICE":
            assert row["basis"] in (Grade.PRACTICE, Grade.MEMORY), (
                f"{path.name}, line {line}: practice is not published"
            )
        if row["source"] == "GEOMETRY":
            assert row["basis"] == Grade.COMPUTED, f"{path.name}, line {line}: geometry is computed, not read"


def test_the_printed_titles_are_those_of_the_bibliography() -> None:
    titles = {entry["key"]: (entry["title"], entry["edition"]) for entry in ENTRY.finditer(BIBLIOGRAPHY)}
    carried = {
        row["key"]: (row["title"], row["edition"]) for row in _rows(SOURCE_CODE / "tables" / "sources.csv")
    }
    assert carried == titles, "run: python builders/build_sources.py"


def test_every_source_named_in_the_code_is_in_the_bibliography() -> None:
    for path in SOURCE_CODE.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call) and getattr(node.func, "id", "") == "Source" and node.args:
                key = node.args[0]
                if isinstance(key, ast.Constant):
                    where = f"{path.relative_to(ROOT)}, line {node.lineno}"
                    assert key.value in EDITIONS, f"{where}: [{key.value}] is not in docs/references.md"
