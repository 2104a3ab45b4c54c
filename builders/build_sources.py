"""Rebuild `tables/sources.csv` (key, title, edition) from the one bibliography, `docs/references.md`."""

from __future__ import annotations

import csv
import re
from pathlib import Path

ROOT = Path(__file__).parents[1]
BIBLIOGRAPHY = ROOT / "docs" / "references.md"
SOURCES = ROOT / "src" / "hatchwright" / "tables" / "sources.csv"

ENTRY = re.compile(
    r"^### \[(?P<key>[^\]\n]+)\]\n(?P<title>[^\n]+)\n- Edition: (?P<edition>[^\n]+)\n- Seen: ", re.M
)


def main() -> None:
    """Write one row an entry, in the order of the bibliography."""
    with SOURCES.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(("key", "title", "edition"))
        for entry in ENTRY.finditer(BIBLIOGRAPHY.read_text(encoding="utf-8")):
            writer.writerow((entry["key"], entry["title"], entry["edition"]))


if __name__ == "__main__":
    main()
