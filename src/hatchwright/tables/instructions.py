"""What the documents ask for in words, each sentence with its source and grade."""

from __future__ import annotations

from functools import cache

from hatchwright.tables.table import Record, Table
from hatchwright.workings import Grade, Source


class Instruction(Record, frozen=True):
    """One thing that a document asks for, in our words; the key is "" where no row of the table holds it."""

    key: str
    text: str

    def __str__(self) -> str:
        return f"{self.text} [{self.source}; {self.grade}]"


def practised(text: str, of: str = "") -> Instruction:
    """What common practice asks for, without a source; `of` names the practice where the text doesn't."""
    return Instruction("", text, source=Source("PRACTICE", of or text), grade=Grade.PRACTICE)


INSTRUCTIONS = Table(Instruction, "instructions", is_open=False, otherwise=True, asks=("key",))


@cache
def instruction(key: str) -> Instruction:
    """One instruction by its name; the names stand in `instructions.csv`.

    Raises:
        TableError: there is no instruction of that name.

    >>> instruction("corrosion_step_8").text
    'exterior doublers must be sealed and insulated'
    """
    return INSTRUCTIONS.one(key=key)
