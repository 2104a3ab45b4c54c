"""What the documents ask for in words, each sentence with its source and grade."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from hatchwright.tables.table import Record, Table
from hatchwright.workings import Grade, Source


@dataclass(frozen=True, slots=True)
class Instruction:
    """One thing that a document asks for: in our words, where it stands, how far it is to be trusted."""

    text: str
    source: Source
    grade: Grade

    def __str__(self) -> str:
        return f"{self.text} [{self.source}; {self.grade}]"


@dataclass(frozen=True, slots=True)
class _Sentence(Record):
    key: str
    text: str


INSTRUCTIONS = Table(_Sentence, "instructions", is_open=False, otherwise=True, asks=("key",))


@cache
def instruction(key: str) -> Instruction:
    """One instruction by its name; the names stand in `instructions.csv`.

    Raises:
        TableError: there is no instruction of that name.

    >>> instruction("corrosion_step_8").text
    'exterior doublers must be sealed and insulated'
    """
    row = INSTRUCTIONS.one(key=key)
    return Instruction(row.text, row.source, row.grade)
