"""Every equation that a docstring of strength quotes stands on its page, and every check in the manual."""

from __future__ import annotations

import re
from pathlib import Path

ROOT = Path(__file__).parents[2]
QUOTE = re.compile(r"docs/theory/(\w+)\.md(?:, eq\. (\d+)(?: (?:to|and) (\d+))?)?")


def test_quoted_equations_are_there() -> None:
    quoted = 0
    for path in sorted((ROOT / "src" / "hatchwright" / "strength").rglob("*.py")):
        for page, first, last in QUOTE.findall(path.read_text(encoding="utf-8")):
            text = (ROOT / "docs" / "theory" / f"{page}.md").read_text(encoding="utf-8")
            for number in range(int(first or 0), int(last or first or 0) + 1):
                assert not number or f"({number})" in text, f"{path.name} quotes {page}.md, eq. {number}"
                quoted += 1
    assert quoted > 25


def test_every_check_is_on_the_page() -> None:
    page = (ROOT / "docs" / "strength.md").read_text(encoding="utf-8")
    codes = set()
    for path in (ROOT / "src" / "hatchwright" / "strength").rglob("*.py"):
        codes |= set(re.findall(r'"(S\d{3})"', path.read_text(encoding="utf-8")))
    assert len(codes) > 25
    listed = set(re.findall(r"S\d{3}", page)) | {f"S{number}" for number in range(101, 107)}
    assert codes <= listed
