"""One piece at full size, its datum at the origin, as a machine cuts it."""

from __future__ import annotations

from msgspec import Struct

from hatchwright.drawings.ink import Outline, Style, moved
from hatchwright.drawings.page_frame import PageFrame
from hatchwright.drawings.part_sheet_holes import hole_groups
from hatchwright.drawings.part_sheet_pieces import Piece
from hatchwright.drawings.part_sheet_view import hole_marks
from hatchwright.drawings.part_sheet_words import said_of_piece
from hatchwright.drawings.sheet import Sheet
from hatchwright.layout.layout import Layout
from hatchwright.recipe.recipe import Recipe
from hatchwright.said import said
from hatchwright.words.of_job import in_words_of


class CutSheet(Struct, frozen=True):
    """A piece for a machine.

    Args:
        part: what tells its file from those of the other pieces.
    """

    part: str
    sheet: Sheet


def cut_sheet(piece: Piece, layout: Layout, recipe: Recipe, *, date: str) -> CutSheet:
    """Draw a piece as it is seen from outside."""
    page = PageFrame(layout.frame)
    edges = (Outline(page.loop(loop), piece.layer) for loop in (piece.outer, *piece.windows))
    x, y = page.point(*piece.datum)
    groups = hole_groups((piece,), recipe)[piece.file]
    ink = moved((*edges, *hole_marks(groups, page)), right_in=-x, up_in=-y)
    legend = {Style.FINISHED: said("part_sheet.cut"), Style.DIMENSION: said("part_sheet.for_reference")}
    title = said("part_sheet.cut_title", piece=in_words_of(layout.job.kind, piece.title))
    told = said_of_piece(piece, groups, layout)
    return CutSheet(piece.file, page.sheet(layout.job, title, ink, date=date, notes=told, legend=legend))
