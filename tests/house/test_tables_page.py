"""Every table is documented: the page of tables is the one that the catalog gives."""

from __future__ import annotations

import re
import runpy
from pathlib import Path

from hatchwright.tables.catalog import TABLES

ROOT = Path(__file__).parents[2]
PAGE = (ROOT / "docs" / "tables.md").read_text(encoding="utf-8")


def test_the_page_is_up_to_date() -> None:
    builder = runpy.run_path(str(ROOT / "builders" / "build_tables_page.py"))
    assert builder["page"]() == PAGE, "run: python builders/build_tables_page.py"


def test_every_table_and_heading_stands_on_the_page() -> None:
    for table in TABLES:
        entry = re.split(rf"^## {table.name}(?: \(open\))?$", PAGE, flags=re.M)[1].split("\n## ", 1)[0]
        assert all(f"`{heading}`" in entry for heading in table.key + table.values)
