"""The neutral sheet: everything that is drawn, in page inches, knowing no file format.

The views put a sheet together from the values named here; the writers know nothing else of the drawings.
"""

from __future__ import annotations

from functools import cached_property

from msgspec import Struct
from msgspec.structs import force_setattr

from hatchwright.drawings.block import Block, legend_block, notes_block, rows_of, stop_block
from hatchwright.drawings.boxes import Box, Floats, sides_of
from hatchwright.drawings.ink import Ink, Point, Solid, Style, Text, box_round
from hatchwright.drawings.lettering import literal
from hatchwright.drawings.marks import check_square
from hatchwright.drawings.table import Table
from hatchwright.drawings.tidy import tidied, without_repeats
from hatchwright.drawings.title_block import LEAST_WIDTH_IN, TitleBlock
from hatchwright.errors import GeometryError
from hatchwright.said import inch, said
from hatchwright.units import MM_PER_IN, Unit
from hatchwright.words.tell import tell

LARGEST_SHEET_IN = 400.0
"""A larger drawing is a slip of the unit, not an opening in a bay [in]. Common practice, no source."""

_GAP_IN = 0.35
_WIDEST_TITLE_IN = 9.5


class Sheet(Struct, frozen=True, dict=True):
    """One drawing at full size.

    Args:
        entities: what is drawn, in page inches, the origin at the datum corner.
        axes: where the job's X and Y point on the page, (x, y) of each [-].
        unit: of the machine files and of the check square.
        legend: meanings that replace the usual ones on this sheet, by line style.
        paper_name: what its code calls it on pages to print; "" for a sheet without a code.
        stop: what must be settled before the aircraft is cut, in a box on every page; "" when nothing must.
    Raises:
        GeometryError: nothing to draw, a coordinate not finite, or more than `LARGEST_SHEET_IN` across.
    """

    title: str
    title_block: TitleBlock
    entities: tuple[Ink, ...]
    axes: tuple[Point, Point] = ((1.0, 0.0), (0.0, 1.0))
    unit: Unit = "in"
    notes: tuple[str, ...] = ()
    tables: tuple[Table, ...] = ()
    legend: tuple[tuple[Style, str], ...] = ()
    stop: str = ""
    paper_name: str = ""

    def __post_init__(self) -> None:
        force_setattr(self, "title", literal(self.title))
        force_setattr(self, "stop", literal(self.stop))
        if max(self.box.width_in, self.box.height_in) > LARGEST_SHEET_IN:
            raise GeometryError.saying(
                "error.drawing_large",
                where=self.title,
                width=inch(self.box.width_in),
                height=inch(self.box.height_in),
                most=inch(LARGEST_SHEET_IN),
            )

    @cached_property
    def _sides(self) -> Floats:
        return sides_of(part.box() for part in self.entities)

    @cached_property
    def box(self) -> Box:
        """The box round everything drawn [in]."""
        return box_round(self._sides)

    @cached_property
    def _ink(self) -> tuple[Ink, ...]:
        return tidied(self.entities, self._sides)

    @property
    def units_per_in(self) -> float:
        """Factor from inches to the unit of the machine files [unit/in]."""
        return 1.0 if self.unit == "in" else MM_PER_IN

    def parts(self) -> tuple[Ink, ...]:
        """All ink, each piece once, hatching and structure interrupted round lettering."""
        return self._ink

    def meanings(self) -> tuple[tuple[Style, str], ...]:
        """The legend: every line style in use and what it stands for here."""
        used = {part.style for part in self.parts() if not isinstance(part, Solid | Text)}
        own = dict(self.legend)
        return tuple((style, own.get(style, style.meaning)) for style in Style if style in used)

    def framed(self) -> tuple[Ink, ...]:
        """The ink of the drawing, above it the stop box, below it check square, legend, notes, tables, title block."""
        drawing, box = self.parts(), self.box
        left, top = box.left, box.bottom - _GAP_IN
        width = max(box.width_in, LEAST_WIDTH_IN + 0.6)
        key = legend_block(self.meanings(), width_in=width - 1.3)
        stop = stop_block(self.stop, width_in=width, height_in=0.16)
        parts: list[Ink] = [*stop.at(left, box.top + _GAP_IN + stop.height_in)]
        parts += [*check_square((left, top - 1.0), self.unit), *key.at(left + 1.3, top)]
        top -= max(1.0, key.height_in) + _GAP_IN
        if self.notes:
            block = notes_block(self.notes, width_in=width)
            parts += block.at(left, top)
            top -= block.height_in + _GAP_IN
        for row in rows_of([table.block() for table in self.tables], width_in=width, gap_in=_GAP_IN):
            parts += row.at(left, top)
            top -= row.height_in + _GAP_IN
        title = self.named(page=1, pages=1, width_in=min(width, _WIDEST_TITLE_IN))
        return without_repeats((*drawing, *parts, *title.at(left, top)))

    def named(self, *, page: int, pages: int, width_in: float, full_size: bool = True) -> Block:
        """The title block of one of its pages."""
        scale = said("sheet.full_size", unit=self.unit.upper()) if full_size else said("print.not_to_scale")
        return self.title_block.block(
            title=self.title, page=page, pages=pages, scale=tell(scale), width_in=width_in
        )
