"""A number that can be defended: its value, its unit, where it stands and how far it is to be trusted."""

from __future__ import annotations

from msgspec import Struct

from hatchwright.workings import Grade, Source


class Cited(Struct, frozen=True):
    """One value out of a table.

    Args:
        unit: its unit, such as "in", "lbf", "D" or "-".
        note: what a reader must know beside it, "" when nothing.
    """

    value: float
    unit: str
    source: Source
    grade: Grade
    note: str = ""

    def __str__(self) -> str:
        unit = self.unit if self.unit != "-" else ""
        return f"{f'{self.value:g} {unit}'.rstrip()} [{self.source}; {self.grade}]"
