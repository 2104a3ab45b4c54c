"""How the job is drawn: its number, whose habits the drawing follows, its tolerance and its revisions."""

from typing import Literal

from pydantic import Field

from hatchwright.job.entry import Entered, Positive
from hatchwright.units import Unit

Standard = Literal["asme", "iso"]
Projection = Literal["third angle", "first angle"]


class Revision(Entered):
    """One line of the revision block."""

    rev: str = Field(min_length=1, max_length=4)
    what: str = Field(min_length=1, max_length=120)
    date: str = Field(default="", max_length=20)


class Drawing(Entered):
    """The drawing of the job; what is left open follows the unit."""

    number: str = Field(default="", max_length=24)
    standard: Standard | None = None
    projection: Projection | None = None
    tolerance: Positive | None = None
    finish: str = Field(default="", max_length=120)
    revisions: tuple[Revision, ...] = Field(default=(), max_length=12)

    def standard_in(self, unit: Unit) -> Standard:
        """Whose habits it follows: as entered, else ASME Y14 in an inch job and ISO 128 and 129 in a metric one."""
        return self.standard or ("iso" if unit == "mm" else "asme")

    def projection_in(self, unit: Unit) -> Projection:
        """How its views lie to each other: as entered, else as the standard has it by habit."""
        return self.projection or ("first angle" if self.standard_in(unit) == "iso" else "third angle")
