"""Tables on a drawing: a heading row and rows of cells, such as the hole table."""

from __future__ import annotations

from collections.abc import Iterable

from msgspec import Struct
from msgspec.structs import replace

from hatchwright.drawings.block import Block
from hatchwright.drawings.ink import Anchor, Ink, Layer, Line, Style, Text
from hatchwright.drawings.lettering import BOLD_RATIO, text_width_in, wrapped
from hatchwright.errors import GeometryError
from hatchwright.said import Said, said
from hatchwright.units import Unit
from hatchwright.words.tell import tell

_CELL_PAD_IN = 0.09
_HEIGHT_IN = 0.11
_ROW_IN = 0.21
_TITLE_IN = 5.0
_PART_IN = 1.2  # "(1 of 9)" is still to be lettered


class Table(Struct, frozen=True):
    """A table with a title and headings; a writer finds room for it beside the drawing.

    Raises:
        GeometryError: a row has more or fewer cells than there are headings.
    """

    title: str
    headings: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]

    def __post_init__(self) -> None:
        for number, row in enumerate(self.rows, start=1):
            if len(row) != len(self.headings):
                raise GeometryError.saying(
                    "error.cells", where=self.title, row=number, cells=len(row), headings=len(self.headings)
                )

    @classmethod
    def told(cls, title: Said, headings: Iterable[str], rows: Iterable[tuple[str, ...]], unit: Unit) -> Table:
        """A table whose title and headings stand in the catalog, the headings by their ids."""
        return cls(tell(title, unit), tuple(tell(said(id)) for id in headings), tuple(rows))

    def block(self) -> Block:
        """The whole table as ink; figures stand under each other, words begin at the left."""
        widths = [self._width_in(column) for column in range(len(self.headings))]
        edges = [sum(widths[:column]) for column in range(len(widths) + 1)]
        titles = self._title_lines()
        head = -_ROW_IN * (len(titles) + 0.2)
        foot = head - _ROW_IN * (len(self.rows) + 1)
        parts: list[Ink] = [
            Text((0.0, -_HEIGHT_IN * 1.2 - row * _ROW_IN), line, _HEIGHT_IN, bold=True)
            for row, line in enumerate(titles)
        ]
        title_in = max(part.box().width_in for part in parts)
        for column, left in enumerate(edges[:-1]):
            right = edges[column + 1]
            middle = 0.5 * (left + right)
            parts.append(_cell(middle, head, self.headings[column], Anchor.MIDDLE, bold=True))
            is_figures = all(row[column].strip()[:1] in "0123456789.-+" for row in self.rows)
            anchor = Anchor.END if is_figures else Anchor.START
            x = right - _CELL_PAD_IN if anchor is Anchor.END else left + _CELL_PAD_IN
            for row, cells in enumerate(self.rows, start=1):
                parts.append(_cell(x, head - row * _ROW_IN, cells[column], anchor))
        for row in range(len(self.rows) + 2):
            y = head - row * _ROW_IN
            style = Style.FINISHED if row in (0, 1) else Style.DIMENSION
            parts.append(Line(((0.0, y), (edges[-1], y)), Layer.TEXT, style))
        parts += [Line(((x, head), (x, foot)), Layer.TEXT) for x in edges]
        return Block(tuple(parts), max(edges[-1], title_in), -foot)

    def split(self, height_in: float) -> tuple[Table, ...]:
        """The same rows in tables no higher than a column of a page, headings repeated; titles say which part."""
        most = max(1, int(height_in / _ROW_IN - 1.2 - len(self._title_lines(room=_PART_IN))))
        if len(self.rows) <= most:
            return (self,)
        starts = range(0, len(self.rows), most)
        return tuple(
            replace(
                self,
                title=tell(said("sheet.part_of", title=self.title, part=part, of=len(starts))),
                rows=self.rows[start : start + most],
            )
            for part, start in enumerate(starts, start=1)
        )

    def _title_lines(self, room: float = 0.0) -> tuple[str, ...]:
        """The title broken to the width of the table, never cut."""
        across_in = sum(self._width_in(column) for column in range(len(self.headings)))
        return wrapped(
            self.title, height_in=_HEIGHT_IN, width_in=(max(across_in, _TITLE_IN) - room) / BOLD_RATIO
        )

    def _width_in(self, column: int) -> float:
        widest = max((text_width_in(row[column], height_in=_HEIGHT_IN) for row in self.rows), default=0.0)
        heading = text_width_in(self.headings[column], height_in=_HEIGHT_IN, bold=True)
        return max(widest, heading) + 2.0 * _CELL_PAD_IN


def _cell(x: float, top: float, words: str, anchor: Anchor, *, bold: bool = False) -> Text:
    return Text((x, top - 0.5 * (_ROW_IN + _HEIGHT_IN)), words, _HEIGHT_IN, bold=bold, anchor=anchor)
