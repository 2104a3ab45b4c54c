"""Every code that a finding may bear can be explained, and the documentation lists the same codes."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from hatchwright.workflow.rule_book import book, page_of, rule_entry

ROOT = Path(__file__).parents[2]
DOCS = ROOT / "docs"


def codes_in(folder: str, letter: str) -> set[str]:
    """Codes that stand as text in the program's sources."""
    pattern = re.compile(rf'"({letter}\d{{3}})"')
    files = (ROOT / "src" / "hatchwright" / folder).rglob("*.py")
    return {code for file in files for code in pattern.findall(file.read_text(encoding="utf-8"))}


def test_every_code_in_the_sources_is_explained():
    assert codes_in("making", "T") | codes_in("search", "T") == {entry.code for entry in book("T")}
    assert codes_in("strength", "S") | codes_in("workflow", "S") == {entry.code for entry in book("S")}
    assert codes_in("rules", "R") == {entry.code for entry in book("R")}


def test_the_page_of_the_making_is_up_to_date():
    page = (DOCS / "template-findings.md").read_text(encoding="utf-8")
    assert page == page_of("T"), "run: python builders/build_making_page.py"


def test_every_code_of_the_making_has_its_page_and_its_examples():
    for entry in book("T"):
        assert not entry.theory or (ROOT / entry.theory).is_file(), entry.code
        assert len(entry.examples) == 3
        assert len(entry.says) > 40, entry.code


def test_the_page_of_strength_is_up_to_date():
    page = (DOCS / "strength.md").read_text(encoding="utf-8")
    assert page.endswith(page_of("S")), "run: python builders/build_strength_page.py"


def test_every_code_of_strength_has_its_page_and_its_examples():
    for entry in book("S"):
        assert not entry.theory or (ROOT / entry.theory).is_file(), entry.code
        assert len(entry.examples) == 3
        assert len(entry.says) > 40, entry.code


@pytest.mark.parametrize("code", ["R101", "T601", "s803"])
def test_a_code_of_any_kind_is_explained(code):
    assert rule_entry(code).code == code.upper()
