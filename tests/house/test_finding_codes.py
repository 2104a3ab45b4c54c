"""Every code that a finding may bear can be explained, and the documentation lists the same codes."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from hatchwright.workflow.finding_codes import STRENGTH
from hatchwright.workflow.rule_book import making_book, making_page, rule_book, rule_entry

ROOT = Path(__file__).parents[2]
DOCS = ROOT / "docs"


def codes_in(folder: str, letter: str) -> set[str]:
    """Codes that stand as text in the program's sources."""
    pattern = re.compile(rf'"({letter}\d{{3}})"')
    files = (ROOT / "src" / "hatchwright" / folder).rglob("*.py")
    return {code for file in files for code in pattern.findall(file.read_text(encoding="utf-8"))}


def test_every_code_in_the_sources_is_explained():
    assert codes_in("making", "T") == {entry.code for entry in making_book()}
    assert codes_in("strength", "S") == set(STRENGTH)
    assert codes_in("rules", "R") == {entry.code for entry in rule_book()}


def test_the_page_of_the_making_is_up_to_date():
    page = (DOCS / "template-findings.md").read_text(encoding="utf-8")
    assert page == making_page(), "run: python builders/build_making_page.py"


@pytest.mark.parametrize("entry", making_book(), ids=lambda entry: entry.code)
def test_every_code_of_the_making_is_explained_with_examples(entry):
    assert len(entry.says) > 40
    assert len(entry.examples) == 3
    assert not entry.theory or (ROOT / entry.theory).is_file()


def test_the_page_of_strength_lists_the_same_codes():
    listed: set[str] = set()
    for cell in re.findall(
        r"^\| (S\d{3}[^|]*?) \|", (DOCS / "strength.md").read_text(encoding="utf-8"), re.M
    ):
        numbers = [int(number) for number in re.findall(r"S(\d{3})", cell)]
        found = range(numbers[0], numbers[-1] + 1) if " to " in cell else numbers
        listed |= {f"S{number}" for number in found}
    assert listed == set(STRENGTH)
    assert all((ROOT / page).is_file() for _, page in STRENGTH.values())


@pytest.mark.parametrize("code", ["R101", "T601", "s803"])
def test_a_code_of_any_kind_is_explained(code):
    assert rule_entry(code).code == code.upper()
