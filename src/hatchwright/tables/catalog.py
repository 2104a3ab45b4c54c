"""The list of all tables: what each CSV file holds, what names its rows and how its columns must run."""

from __future__ import annotations

from hatchwright.tables.table import Table

DRILLS = Table(
    name="drills",
    about="number and letter twist drills",
    key=("drill",),
    values=("kind", "diameter_in", "note"),
    optional=("note",),
)

TABLES = (DRILLS,)
"""Every table, in the order in which a list of them should read."""
