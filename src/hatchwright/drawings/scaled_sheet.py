"""A drawing to scale, laid out on pages of one size of paper: ready to be written, knowing no file format."""

from __future__ import annotations

from functools import cached_property

from msgspec import Struct
from msgspec.structs import force_setattr

from hatchwright.drawings.boxes import Box, sides_of
from hatchwright.drawings.ink import Ink, moved
from hatchwright.drawings.lettering import literal
from hatchwright.drawings.scale import Scale
from hatchwright.drawings.tidy import tidied
from hatchwright.drawings.title_block import TitleBlock
from hatchwright.units import MM_PER_IN, Unit

_BETWEEN_PAGES_IN = 0.5


class ScaledSheet(Struct, frozen=True, dict=True):
    """A drawing to scale; a true-size drawing is a `Sheet`.

    Args:
        title_block: whose drawing it is, for a file that keeps that beside its ink.
        lies_in: width and height of the paper as it lies [in].
        pages: the ink of each page, in page inches from its lower left corner; the drawing is on the first.
        scale: of the drawing, which its title block states.
        unit: of its figures and of a file that states one.
        paper_name: of the paper that it is printed as, for the code on each page; "" for none.
    """

    title: str
    title_block: TitleBlock
    lies_in: tuple[float, float]
    pages: tuple[tuple[Ink, ...], ...]
    scale: Scale
    unit: Unit = "in"
    paper_name: str = ""

    def __post_init__(self) -> None:
        force_setattr(self, "title", literal(self.title))

    @property
    def units_per_in(self) -> float:
        """Factor from inches of paper to the unit of the files [unit/in]."""
        return 1.0 if self.unit == "in" else MM_PER_IN

    @cached_property
    def inked(self) -> tuple[tuple[Ink, ...], ...]:
        """The ink of each page, each piece once, hatching and structure interrupted round lettering."""
        return tuple(tidied(page, sides_of(part.box() for part in page)) for page in self.pages)

    @property
    def box(self) -> Box:
        """All pages, one below the other [in]."""
        width, height = self.lies_in
        below = (len(self.pages) - 1) * (height + _BETWEEN_PAGES_IN)
        return Box(0.0, -below, width, height)

    def framed(self) -> tuple[Ink, ...]:
        """The ink of all pages, one below the other, for a file that has only one."""
        step = self.lies_in[1] + _BETWEEN_PAGES_IN
        placed = (moved(page, right_in=0.0, up_in=-step * row) for row, page in enumerate(self.inked))
        return tuple(part for page in placed for part in page)
