"""The columns of a table, read off its record: a field's name is the heading, its type says what a cell holds.

`str`, `float`, `bool` (yes or no) and `Literal` (a closed list of words) must be filled; `float | None` and
`OptionalText` may be empty. Of a row that leaves a `Needed` number empty there is no record.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import cache
from types import NoneType
from typing import Annotated, Any, Literal, get_args, get_origin

from msgspec import Struct
from msgspec.structs import fields

_EMPTY = "may_be_empty"

OptionalText = Annotated[str, _EMPTY]
Needed = Annotated[float, _EMPTY]

_UNITS = ("in", "in_lbf", "psi", "lbf", "lb", "lb_per_in3", "per_in", "deg", "ratio", "h")


class Heading(Struct, frozen=True):
    """The heading of a field that is not called as its column is."""

    name: str


class Column(Struct, frozen=True):
    """One column: its field, its heading, what a cell holds, and from which words it is taken."""

    field: str
    heading: str
    kind: type
    may_be_empty: bool = False
    is_needed: bool = False
    words: tuple[str, ...] = ()

    @property
    def label(self) -> str:
        """The heading as people say it, without its unit."""
        unit = unit_of(self.heading)
        return (self.heading.removesuffix(f"_{unit}") if unit else self.heading).replace("_", " ")

    def read(self, cell: str) -> str | float | bool | None:
        """What a cell holds."""
        if self.kind is bool:
            return cell == "yes"
        if self.kind is float:
            return float(cell) if cell else None
        return cell

    def amount(self, value: object) -> str:
        """A value of the column as people read it."""
        if isinstance(value, bool):
            return "yes" if value else "no"
        if isinstance(value, float | int):
            is_length = self.heading.endswith("_in") and unit_of(self.heading) == "in"
            return f"{value:.3f}" if is_length and round(value, 3) == value else f"{value:g}"
        return str(value)


@cache
def unit_of(heading: str) -> str:
    """The unit that a heading ends with, "" for words.

    >>> unit_of("thickness_in"), unit_of("torque_in_lbf"), unit_of("drill")
    ('in', 'in_lbf', '')
    """
    return max((unit for unit in _UNITS if heading.endswith(f"_{unit}")), key=len, default="")


def _columns(record: Any) -> Mapping[str, Column]:
    own = set(record.__match_args__)
    return {
        one.name: _column(one.name, one.type) for one in fields(record) if one.required and one.name in own
    }


columns_of: Callable[[type], Mapping[str, Column]] = cache(_columns)
"""The columns of a record class by field; a field with a default, or of every record, is none."""


def _column(name: str, hint: Any) -> Column:
    hint, *marks = get_args(hint) if get_origin(hint) is Annotated else (hint,)
    named = (mark.name for mark in marks if isinstance(mark, Heading))
    heading = next(named, name.removeprefix("is_"))
    if get_origin(hint) is Literal:
        return Column(name, heading, str, words=get_args(hint))
    if hint is bool:
        return Column(name, heading, bool, words=("yes", "no"))
    if NoneType in get_args(hint):
        return Column(name, heading, float, may_be_empty=True)
    return Column(name, heading, hint, _EMPTY in marks, is_needed=hint is float)
