"""Part sheets: each piece that is cut from sheet, to scale on one page, and at full size for a machine.

Pieces share a page where that leaves each of them large enough to be read.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import chain, combinations

from msgspec import Struct, field

from hatchwright.drawings.block import Block, stacked
from hatchwright.drawings.hole_map_numbers import numbered_holes
from hatchwright.drawings.ink import Ink, Text, box_of, moved
from hatchwright.drawings.one_page import GAP_IN, MARGIN_IN, Arrangement, Framed, on_pages, scales_with_room
from hatchwright.drawings.overview_blocks import drawing_block, number_block
from hatchwright.drawings.page_frame import PageFrame
from hatchwright.drawings.part_sheet_contents import Contents
from hatchwright.drawings.part_sheet_cut import CutSheet, cut_sheet
from hatchwright.drawings.part_sheet_holes import LETTER_IN
from hatchwright.drawings.part_sheet_pieces import Piece, pieces_of
from hatchwright.drawings.part_sheet_view import PieceView
from hatchwright.drawings.part_sheet_words import NAME_IN
from hatchwright.drawings.parts_table import sheet_said
from hatchwright.drawings.scale import Scale, scales
from hatchwright.drawings.scaled_sheet import ScaledSheet
from hatchwright.drawings.table import Table
from hatchwright.errors import ExportError
from hatchwright.layout.layout import Layout
from hatchwright.recipe.recipe import Recipe
from hatchwright.said import Listed, Said, Value, said
from hatchwright.words.of_job import in_words_of
from hatchwright.words.tell import tell

_NAME_UP_IN = 0.08
_LEAST_RATIO = 0.2
_FOOT_IN = 2.0
_NARROW_IN, _WIDE_IN, _WIDEST_IN = 2.3, 3.6, 5.0
_MOST_ROWS = (60, 40, 30, 24, 20, 16, 13, 11, 9)


class PartSheet(Struct, frozen=True):
    """A sheet of one piece or more.

    Args:
        part: what tells its file from those of the other sheets, "" where it shows all of several pieces.
    """

    part: str
    sheet: ScaledSheet


MOST_SHARED = 150
"""Holes of a job whose pieces may share a page; more fill pages of their own, and nobody waits for the attempt. Own
choice, no source [-]."""


class PartSheets(Struct, frozen=True):
    """The part sheets of one side of a job, and what a machine cuts them by."""

    drawn: tuple[PartSheet, ...]
    cut: tuple[CutSheet, ...]


def part_sheets(
    layout: Layout, recipe: Recipe, *, paper_in: tuple[float, float], date: str, stop: str = ""
) -> PartSheets:
    """Draw every piece of a job; nothing where it has none.

    Args:
        recipe: of the job, by which its pieces are drilled.
        paper_in: width and height of the paper, upright [in].
        stop: what must be settled before the aircraft is cut, "" when nothing must.
    Raises:
        ExportError: no scale is small enough for this paper.
    """
    pieces = pieces_of(layout)
    drawing = _Drawing(layout, recipe, paper_in, date, stop)
    drawn = tuple(
        PartSheet("" if len(shown) == len(pieces) > 1 else "_".join(piece.file for piece in shown), sheet)
        for shown, sheet in drawing.sheets(pieces)
    )
    return PartSheets(drawn, tuple(cut_sheet(piece, layout, recipe, date=date) for piece in pieces))


class _Drawing(Struct, frozen=True):
    """What all sheets of one side have in common, and the views that were drawn, by pieces and scale."""

    layout: Layout
    recipe: Recipe
    paper_in: tuple[float, float]
    date: str
    stop: str
    views: dict[tuple[tuple[str, ...], Scale], tuple[Block, ...]] = field(default_factory=dict)

    @property
    def choice(self) -> tuple[Scale, ...]:
        """The scales by the job's standard."""
        job = self.layout.job
        return scales(job.drawing.standard_in(job.unit))

    def sheets(self, pieces: tuple[Piece, ...]) -> Iterator[tuple[tuple[Piece, ...], ScaledSheet]]:
        """Every piece on one page with as many of those that follow as it has room for."""
        while pieces:
            many = len(self.layout.holes) > MOST_SHARED
            counts = () if many else range(len(pieces), 1, -1)
            shared = ((pieces[:count], self.together(pieces[:count])) for count in counts)
            shown, sheet = next(((some, one) for some, one in shared if one), (pieces[:1], None))
            yield shown, sheet or self.sheet(shown)
            pieces = pieces[len(shown) :]

    def together(self, pieces: Sequence[Piece]) -> ScaledSheet | None:
        """Pieces on one page, told in brief if there is no other way; None where they would be too small, and smaller
        than on their own, or it is too full."""
        for is_brief in (False, True):
            if sheet := self._one_page(pieces, _LEAST_RATIO, is_brief=is_brief):
                return sheet
        least = max(self.sheet((piece,)).scale.ratio for piece in pieces)
        return self._one_page(pieces, least, is_brief=False) if least < _LEAST_RATIO else None

    def _one_page(self, pieces: Sequence[Piece], least: float, *, is_brief: bool) -> ScaledSheet | None:
        """Pieces on one page at a least scale, None where it has no room for them."""
        try:
            return self.sheet(pieces, self._some(least), is_brief=is_brief, one_page=True)
        except ExportError:
            return None

    def _some(self, least: float) -> tuple[Scale, ...]:
        """The scales of a least ratio."""
        return tuple(scale for scale in self.choice if scale.ratio >= least)

    def sheet(
        self,
        pieces: Sequence[Piece],
        choice: Iterable[Scale] = (),
        *,
        is_brief: bool = False,
        one_page: bool = False,
    ) -> ScaledSheet:
        """Pieces at the largest scale that has room for all that is said of them; their tables follow on further pages
        where no scale has."""
        job, contents = self.layout.job, Contents.of(pieces, self.layout, self.recipe, is_brief=is_brief)
        framed = Framed(
            title=tell(in_words_of(job.kind, _title(pieces))),
            title_block=PageFrame(self.layout.frame).title_block(job, date=self.date),
            unit=job.unit,
            stop=self.stop,
            foot=(
                lambda width_in: drawing_block(
                    self.layout, width_in, letter_in=LETTER_IN, material=_material(pieces)
                ),
            ),
            corner=number_block(job, letter_in=LETTER_IN),
        )
        shown = tuple(piece.file for piece in pieces)

        def drawn(scale: Scale) -> tuple[Block, ...]:
            if (shown, scale) not in self.views:
                self.views[shown, scale] = tuple(self._views(contents, scale))
            return self.views[shown, scale]

        x_from, y_from, x_to, y_to = pieces[0].outer.bounds
        some = scales_with_room(tuple(choice) or self.choice, (x_to - x_from, y_to - y_from), self.paper_in)
        listed = contents.tables
        rows = dict.fromkeys(tuple(table.rows_each(most) for table in listed) for most in _MOST_ROWS)
        cut = [tuple(chain.from_iterable(map(Table.in_columns, listed, each))) for each in rows]
        tries = (
            (scale, (arranged,))
            for scale, follows in _order(some, one_page=one_page)
            if not one_page or all(map(_is_legible, drawn(scale)))
            for words in self._all_words(contents, drawn(scale)[0], scale)
            for arranged in (
                (Arrangement((*drawn(scale)[1:], *words), listed),)
                if follows
                else self._on_one_page(drawn(scale), words, cut)
            )
        )
        return on_pages(framed, self.paper_in, tries, lambda scale: drawn(scale)[0].parts)

    def _all_words(self, contents: Contents, drawn: Block, scale: Scale) -> Iterator[tuple[Block, ...]]:
        """The words beside a drawing of that size, in columns of some widths, such as it leaves room for."""
        rooms = (side - 2.0 * MARGIN_IN - drawn.width_in - GAP_IN for side in self.paper_in)
        widths = (_WIDE_IN, *(min(room, _WIDEST_IN) for room in rooms if room > _NARROW_IN), _NARROW_IN)
        rose = () if contents.is_brief else (self._rose(),)
        return ((*contents.words(scale, width_in), *rose) for width_in in dict.fromkeys(widths))

    def _on_one_page(
        self, views: tuple[Block, ...], words: tuple[Block, ...], tables_of: Iterable[tuple[Block, ...]]
    ) -> Iterator[Arrangement]:
        """Further views, words and tables, each cut in some way into columns, in some orders; none that takes more than
        the page."""
        width, height = (side - 2.0 * MARGIN_IN for side in self.paper_in)
        for cut in tables_of:
            used = sum(block.width_in * block.height_in for block in (*views, *words, *cut))
            if used < width * (height - _FOOT_IN):
                yield Arrangement((*views[1:], stacked(words, gap_in=GAP_IN), *cut))
                yield Arrangement((*views[1:], *words, *cut))
                yield Arrangement((*views[1:], *cut, *words))
                if views[1:]:
                    yield Arrangement((stacked(words, gap_in=GAP_IN), *views[1:], *cut))
                    yield Arrangement((*words, *views[1:], *cut))
                    yield Arrangement(_highest_first((*views[1:], *words, *cut)))
                    yield Arrangement((*views[1:], *_highest_first((*words, *cut))))

    def _rose(self) -> Block:
        """The direction arrows of all pieces, which lie the same way."""
        return _as_block(PageFrame(self.layout.frame).arrows((0.0, 0.0), length_in=0.4, height_in=LETTER_IN))

    def _views(self, contents: Contents, scale: Scale) -> Iterator[Block]:
        """The drawing of each piece, under its name where there are several."""
        job, numbered = self.layout.job, numbered_holes(self.layout)
        standard = job.drawing.standard_in(job.unit)
        for piece in contents.pieces:
            view = PieceView(piece, contents.groups[piece.file], numbered, standard, job.unit)
            ink = view.ink(PageFrame(self.layout.frame, scale=scale))
            if len(contents.pieces) > 1:
                box, title = box_of(ink), tell(in_words_of(job.kind, piece.title))
                ink += (Text((box.left, box.top + _NAME_UP_IN), title, NAME_IN, bold=True, css="view"),)
            yield _as_block(ink)


def _is_legible(view: Block) -> bool:
    """Whether no words of a view meet: a small piece at a small scale has no room for its own."""
    boxes = [part.box() for part in view.parts if isinstance(part, Text)]
    return not any(a.touches(b) for a, b in combinations(boxes, 2))


def _highest_first(blocks: Iterable[Block]) -> tuple[Block, ...]:
    return tuple(sorted(blocks, key=lambda block: -block.height_in))


def _as_block(ink: Iterable[Ink]) -> Block:
    ink = tuple(ink)
    box = box_of(ink)
    return Block(moved(ink, right_in=-box.left, up_in=-box.top), box.width_in, box.height_in)


def _order(choice: Sequence[Scale], *, one_page: bool) -> Iterator[tuple[Scale, bool]]:
    """Scales, and whether the tables follow on a further page: one page while the drawing is large enough, then
    further pages, then smaller."""
    for is_large in (True, False):
        some = [scale for scale in choice if (scale.ratio >= _LEAST_RATIO) == is_large]
        for follows in (False,) if one_page else (False, True):
            yield from ((scale, follows) for scale in some)


def _title(pieces: Sequence[Piece]) -> Said:
    return said("part_sheet.title", pieces=Listed(tuple(piece.title for piece in pieces), ","))


def _material(pieces: Sequence[Piece]) -> Value:
    """That of one piece, or that it stands with each."""
    return sheet_said(pieces[0].part) if len(pieces) == 1 else said("part_sheet.as_noted")
