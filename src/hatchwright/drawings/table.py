"""Tables on a drawing: a heading row and rows of cells, such as the hole table."""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache

from msgspec import Struct
from msgspec.structs import replace

from hatchwright.drawings.block import Block
from hatchwright.drawings.ink import Anchor, Ink, Layer, Line, Style, Text
from hatchwright.drawings.lettering import BOLD_RATIO, text_width_in, wrapped
from hatchwright.errors import GeometryError
from hatchwright.said import Said, said
from hatchwright.units import Unit
from hatchwright.words.tell import tell

_PART_IN = 1.2  # "(1 of 9)" is still to be lettered


class TableStyle(Struct, frozen=True):
    """How large a table is lettered.

    Args:
        letter_in: height of a capital [in].
        row_in: from line to line [in].
        pad_in: between a cell's words and its sides [in].
        title_in: a title may run this far beyond a narrower table [in].
        bold_heads: whether the headings are bold.
    """

    letter_in: float
    row_in: float
    pad_in: float
    title_in: float
    bold_heads: bool = True


ROOMY = TableStyle(letter_in=0.11, row_in=0.21, pad_in=0.09, title_in=5.0)


class Table(Struct, frozen=True):
    """A table with a title and headings; a writer finds room for it beside the drawing.

    Args:
        headings: of each column; a line feed begins a further line.
    Raises:
        GeometryError: a row has more or fewer cells than there are headings.
    """

    title: str
    headings: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    style: TableStyle = ROOMY

    def __post_init__(self) -> None:
        for number, row in enumerate(self.rows, start=1):
            if len(row) != len(self.headings):
                raise GeometryError.saying(
                    "error.cells", where=self.title, row=number, cells=len(row), headings=len(self.headings)
                )

    @classmethod
    def told(
        cls,
        title: Said,
        headings: Iterable[str],
        rows: Iterable[tuple[str, ...]],
        unit: Unit,
        style: TableStyle = ROOMY,
    ) -> Table:
        """A table whose title and headings stand in the catalog, the headings by their ids."""
        return cls(tell(title, unit), tuple(tell(said(id)) for id in headings), tuple(rows), style)

    def block(self) -> Block:
        """The whole table as ink; figures stand under each other, words begin at the left."""
        style, row_in = self.style, self.style.row_in
        widths = [self._width_in(column) for column in range(len(self.headings))]
        edges = [sum(widths[:column]) for column in range(len(widths) + 1)]
        titles, deep = self._title_lines(), self._heading_lines
        head = -row_in * (len(titles) + 0.2)
        body = head - row_in * deep
        foot = body - row_in * len(self.rows)
        parts: list[Ink] = [
            Text((0.0, -style.letter_in * 1.2 - row * row_in), line, style.letter_in, bold=True)
            for row, line in enumerate(titles)
        ]
        title_in = max(part.box().width_in for part in parts)
        for column, left in enumerate(edges[:-1]):
            right = edges[column + 1]
            middle = 0.5 * (left + right)
            for row, words in enumerate(self.headings[column].split("\n")):
                parts.append(
                    self._cell(middle, head - row * row_in, words, Anchor.MIDDLE, bold=style.bold_heads)
                )
            is_figures = all(row[column].strip()[:1] in "0123456789.-+" for row in self.rows)
            anchor = Anchor.END if is_figures else Anchor.START
            x = right - style.pad_in if anchor is Anchor.END else left + style.pad_in
            for row, cells in enumerate(self.rows):
                parts.append(self._cell(x, body - row * row_in, cells[column], anchor))
        levels = [head, *(body - row * row_in for row in range(len(self.rows) + 1))]
        for row, y in enumerate(levels):
            line_style = Style.FINISHED if row in (0, 1) else Style.DIMENSION
            parts.append(Line(((0.0, y), (edges[-1], y)), Layer.TEXT, line_style))
        parts += [Line(((x, head), (x, foot)), Layer.TEXT) for x in edges]
        return Block(tuple(parts), max(edges[-1], title_in), -foot)

    def split(self, height_in: float) -> tuple[Table, ...]:
        """The same rows in tables no higher than a column of a page, headings repeated; titles say which part."""
        return self.parted(self.rows_in(height_in))

    def rows_in(self, height_in: float) -> int:
        """How many rows a column of a page has room for, at least one [-]."""
        lines = len(self._title_lines(room=_PART_IN)) + self._heading_lines
        return max(1, int(height_in / self.style.row_in - 0.2 - lines))

    def parted(self, most: int) -> tuple[Table, ...]:
        """The same rows in tables of so many rows at most, headings repeated; titles say which part."""
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

    def rows_each(self, most: int) -> int:
        """Rows of a column where as few columns as can be are about one length, of so many rows at most [-]."""
        return -(-len(self.rows) // -(-len(self.rows) // most))

    def in_columns(self, rows: int) -> tuple[Block, ...]:
        """The same rows as ink, in columns of so many; kept, since many layouts are tried with the same columns."""
        return _columns(self, rows)

    @property
    def _heading_lines(self) -> int:
        return max(heading.count("\n") + 1 for heading in self.headings)

    def _title_lines(self, room: float = 0.0) -> tuple[str, ...]:
        """The title broken to the width of the table, never cut."""
        style, across_in = self.style, sum(self._width_in(column) for column in range(len(self.headings)))
        return wrapped(
            self.title,
            height_in=style.letter_in,
            width_in=(max(across_in, style.title_in) - room) / BOLD_RATIO,
        )

    def _width_in(self, column: int) -> float:
        style = self.style
        widest = max(
            (text_width_in(row[column], height_in=style.letter_in) for row in self.rows), default=0.0
        )
        heading = max(
            text_width_in(line, height_in=style.letter_in, bold=style.bold_heads)
            for line in self.headings[column].split("\n")
        )
        return max(widest, heading) + 2.0 * style.pad_in

    def _cell(self, x: float, top: float, words: str, anchor: Anchor, *, bold: bool = False) -> Text:
        style = self.style
        at = x, top - 0.5 * (style.row_in + style.letter_in)
        return Text(at, words, style.letter_in, bold=bold, anchor=anchor)


@lru_cache(maxsize=256)
def _columns(table: Table, rows: int) -> tuple[Block, ...]:
    return tuple(part.block() for part in table.parted(rows))
