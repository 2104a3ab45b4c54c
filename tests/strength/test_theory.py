"""Every equation that a docstring of strength quotes stands on its page."""

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
