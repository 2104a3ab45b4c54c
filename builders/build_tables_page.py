"""Rebuild `docs/tables.md`, the list of all tables with their headings, from the catalog."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from hatchwright.tables.catalog import TABLES
from hatchwright.tables.table import Table
from hatchwright.words.tell import tell

PAGE = Path(__file__).parents[1] / "docs" / "tables.md"

TOP = """\
# Tables

Every published number is a row of a CSV file in `src/hatchwright/tables/`. Each row ends with its source (a key of
[the bibliography](references.md)), the place in that document, the edition, and its basis: how far it is to be trusted.

| basis | meaning |
|---|---|
| published | read in a copy of the document cited |
| seen only restated | read in somebody's restatement of the document |
| computed | computed in this project, and reproduced by a test |
| common practice, no source | what the trade does; no document was found |
| from memory, unverified | may caution, never stops or passes a job |

A heading that ends in a unit (`_in`, `_psi`, `_lbf`, ...) holds a number in that unit.

## A shop's own rows

A shop may keep rows of its own, for instance from its licensed copy of a handbook, in a folder of its own. Each file is
named after a table below that is marked *open*, has exactly its headings, and ends every row with the shop's source,
place and edition, and with the basis `the shop's own`.

- A row that names the same thing as one of ours takes its place, unless ours is published: then the two must agree.
- A file with a wrong heading, a wrong unit, a missing source, a row twice, or values that fall where they must rise is
  refused with file, line and reason, and nothing of the folder is used.
- What comes from such a row is shown as the shop's own.
"""


def page() -> str:
    """The whole page."""
    return TOP + "".join(map(_entry, TABLES))


def _entry(table: Table[Any]) -> str:
    key = ", ".join(f"`{heading}`" for heading in table.key)
    values = ", ".join(f"`{heading}`" for heading in table.values) or "none besides"
    lines = [
        f"\n## {table.name}{' (open)' if table.is_open else ''}\n",
        f"{tell(table.about)}\n",
    ]
    lines += [f"- a row is named by {key}", f"- and holds {values}"]
    closed = [column for column in table.columns.values() if column.words]
    lines += [f"- `{column.heading}` is one of: {', '.join(column.words)}" for column in closed]
    for order in table.orders:
        others = " and ".join(f"`{heading}`" for heading in table.within(order))
        within = f", for each {others}" if others else ""
        lines.append(f"- `{order.value}` {'falls' if order.falls else 'rises'} along `{order.along}`{within}")
    return "\n".join(lines) + "\n"


if __name__ == "__main__":
    PAGE.write_text(page(), encoding="utf-8")
