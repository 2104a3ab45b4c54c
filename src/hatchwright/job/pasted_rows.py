"""Rows of cells as they were pasted, and the columns that a list takes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec import Struct

from hatchwright.job.job_fields import JobField, Kind, fields_of
from hatchwright.said import Listed

LENGTHS: tuple[Kind, ...] = ("length", "coordinate", "diameter")
"""Kinds of a column that holds lengths."""

WORDS: tuple[Kind, ...] = ("words", "one of")
"""Kinds of a column that holds words."""


class Column(Struct, frozen=True):
    """One column that a list takes.

    Args:
        name: of the entry, by which its heading is known.
        label: what a person calls it.
        choices: the words that a column of words takes, none for any.
    """

    name: str
    label: str
    kind: Kind
    required: bool
    choices: tuple[str, ...] = ()


def columns_of(field: JobField) -> Iterator[Column]:
    """The columns of a list whose lines are numbers alone, none of any other."""
    if field.is_point:
        yield from (Column(name, name.upper(), field.kind, True) for name in ("x", "y"))
    elif not field.models:
        if field.kind in LENGTHS:
            yield Column(field.name, field.label, field.kind, True)
    elif len(field.models) == 1:
        inner = fields_of(field.models[0])
        takes = (*LENGTHS, "count", "amount", *(WORDS if field.is_bracketed else ()))
        if all(one.holds in ("value", "pair") and one.kind in takes for one in inner):
            for one in inner:
                if one.holds == "pair":
                    yield from (
                        Column(name, f"{one.label} {name.upper()}", one.kind, True) for name in ("x", "y")
                    )
                else:
                    yield Column(one.name, one.label, one.kind, one.required, one.choices)


class Row(Struct, frozen=True):
    """One row: where it stands in what was pasted, counted from 1, and its cells."""

    number: int
    cells: tuple[str, ...]


def names_of(columns: Sequence[Column]) -> Listed:
    """The columns as a list takes them, by their labels."""
    return Listed(tuple(column.label for column in columns), ",")
