"""What the documents ask for in words, each sentence with its source and grade."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from hatchwright.errors import TableError
from hatchwright.tables.catalog import INSTRUCTIONS
from hatchwright.workings import Grade, Source


@dataclass(frozen=True, slots=True)
class Instruction:
    """One thing that a document asks for: in our words, where it stands, how far it is to be trusted."""

    text: str
    source: Source
    grade: Grade

    def __str__(self) -> str:
        return f"{self.text} [{self.source}; {self.grade}]"


def instruction(key: str) -> Instruction:
    """One instruction.

    Args:
        key: its name, such as "drain_holes"; the names stand in `instructions.csv`.
    Returns:
        Instruction: text, source and grade.
    Raises:
        TableError: there is no instruction of that name.

    >>> instruction("corrosion_step_8").text
    'exterior doublers must be sealed and insulated'
    """
    found = instructions().get(key)
    if found is None:
        raise TableError(
            f"there is no instruction '{key}'",
            where="instructions",
            remedy="See instructions.csv for the names",
        )
    return found


@cache
def instructions() -> Mapping[str, Instruction]:
    """All instructions by name."""
    return {
        row.text("key"): Instruction(row.text("text"), row.source, row.grade) for row in INSTRUCTIONS.rows()
    }
