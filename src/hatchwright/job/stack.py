"""A stack of sheets as one writes it at the bench, such as ``.032 + .040``."""

from typing import Annotated, Any

from msgspec import Struct
from pydantic import ValidationInfo

from hatchwright.job.entry import Entered, ReadBy, WrittenBy, refusal, sheet_thickness
from hatchwright.said import said
from hatchwright.units import Length

MOST_SHEETS = 6
"""More sheets under one fastener are a slip. Own choice, no source [-]."""


class SheetStack(Struct, frozen=True):
    """The sheets of a stack.

    Args:
        text: as typed.
        sheets: thickness of each, from outside.
    """

    text: str
    sheets: tuple[Length, ...]

    @property
    def each_in(self) -> tuple[float, ...]:
        """Thickness of each sheet, from outside [in]."""
        return tuple(sheet.inch for sheet in self.sheets)

    @property
    def grip_in(self) -> float:
        """Thickness of all together [in]."""
        return sum(self.each_in)


def _stack(value: Any, info: ValidationInfo) -> SheetStack:
    """Read thicknesses with a plus between them, or as a list."""
    typed = value if isinstance(value, list | tuple) else str(value).split("+")
    if not 1 <= len(typed) <= MOST_SHEETS or not all(str(one).strip() for one in typed):
        raise refusal(said("stack.wanted", most=MOST_SHEETS), said("stack.wanted.do"))
    sheets = tuple(sheet_thickness(str(one).strip(), info) for one in typed)
    return SheetStack(" + ".join(sheet.text for sheet in sheets), sheets)


Sheets = Annotated[SheetStack, ReadBy(_stack), WrittenBy(lambda stack: stack.text)]
"""Thickness of each sheet, from outside."""


class Stacked(Entered):
    """What goes through a stack of sheets."""

    sheets: Sheets
