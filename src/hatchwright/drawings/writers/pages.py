"""Pages: a sheet laid over paper, what is to be read first and then the full-size tiles.

What is read first: notes, tables, and how the pages are joined.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from hatchwright.drawings.block import (
    Block,
    legend_block,
    notes_block,
    paragraph,
    rows_of,
    stacked,
    stop_block,
)
from hatchwright.drawings.boxes import Box, Floats, meeting
from hatchwright.drawings.ink import Anchor, Circle, Ink, Layer, Line, Outline, Text, moved
from hatchwright.drawings.scaled_sheet import ScaledSheet
from hatchwright.drawings.sheet import Sheet
from hatchwright.drawings.writers.paper import GAP_IN, MARGIN_IN, AnyPaper, Page, before_use, corrected_words
from hatchwright.drawings.writers.tile_pages import laid_over, tile_pages
from hatchwright.drawings.writers.tiling import Tiling, tile_name
from hatchwright.said import said
from hatchwright.words.tell import tell

_KEY_PLAN_IN = (4.6, 2.6)
_SPACE_IN = 0.2
_TILE_LETTER_IN = 0.11


@lru_cache(maxsize=1)  # who writes a file lays out its pages, and who reads it back asks for them once more
def pages_of(sheet: Sheet | ScaledSheet, paper: AnyPaper) -> tuple[Page, ...]:
    """Lay a sheet over pages: first those of notes and tables if there are any, then the tiles row by row. A drawing
    to scale lies on its own pages, whatever the printer does to true size.

    Raises:
        ExportError: more pages than a person will join.
    """
    if isinstance(sheet, ScaledSheet):
        return tuple(Page(*sheet.lies_in, "", None, (), ink) for ink in sheet.inked)
    front = _front_pages(sheet, paper)
    return (*front, *tile_pages(sheet, paper, before=len(front)))


def page_count(sheet: Sheet | ScaledSheet, paper: AnyPaper) -> int:
    """How many pages a sheet takes, before its tiles are drawn; raises as `pages_of` does."""
    if isinstance(sheet, ScaledSheet):
        return len(sheet.pages)
    _, _, tiling = laid_over(sheet, paper)
    return len(_front_pages(sheet, paper)) + tiling.count


def _front_pages(sheet: Sheet, paper: AnyPaper) -> tuple[Page, ...]:
    """The pages to read first, upright; none when one full-size page says it all."""
    _, _, tiling = laid_over(sheet, paper)
    if tiling.count == 1 and not sheet.notes and not sheet.tables:
        return ()
    width, height = paper.size_in
    width_in = width - 2.0 * MARGIN_IN
    stop = (stop_block(sheet.stop, width_in=width_in, height_in=0.14),) if sheet.stop else ()
    title = sheet.named(page=1, pages=1, width_in=width_in, full_size=False)
    used_in = title.height_in + sum(block.height_in + _SPACE_IN for block in stop)
    room_in = height - 2.0 * MARGIN_IN - GAP_IN - used_in
    columns = _filled(_blocks(sheet, tiling, paper, width_in, room_in), room_in)
    pages = len(columns) + tiling.count
    made = []
    for page, blocks in enumerate(columns, start=1):
        title = sheet.named(page=page, pages=pages, width_in=width_in, full_size=False)
        text = stacked((*stop, *blocks), gap_in=_SPACE_IN).at(MARGIN_IN, height - MARGIN_IN)
        parts = (*text, *title.at(MARGIN_IN, MARGIN_IN + title.height_in))
        made.append(Page(width, height, "", None, (), parts))
    return tuple(made)


def _blocks(sheet: Sheet, tiling: Tiling, paper: AnyPaper, width_in: float, room_in: float) -> list[Block]:
    blocks = [paragraph([sheet.title], width_in=width_in, height_in=0.17, bold=True)]
    joining = (said("print.joining"), said("print.after_taping")) if tiling.count > 1 else ()
    before = [tell(one) for one in (before_use(sheet.unit), *joining)]
    blocks += corrected_words(paper, width_in=width_in, unit=sheet.unit)
    blocks.append(paragraph(before, width_in=width_in))
    if tiling.count > 1:
        blocks.append(_key_plan(sheet, tiling))
    blocks.append(legend_block(sheet.meanings(), width_in=width_in))
    if sheet.notes:
        blocks.append(notes_block(sheet.notes, width_in=width_in))
    tables = [part.block() for table in sheet.tables for part in table.split(room_in)]
    return blocks + rows_of(tables, width_in=width_in, gap_in=_SPACE_IN)


def _filled(blocks: list[Block], room_in: float) -> list[list[Block]]:
    """The blocks divided over pages in their order."""
    columns: list[list[Block]] = [[]]
    left_in = room_in
    for block in blocks:
        if block.height_in > left_in and columns[-1]:
            columns.append([])
            left_in = room_in
        columns[-1].append(block)
        left_in -= block.height_in + _SPACE_IN
    return columns


def _key_plan(sheet: Sheet, tiling: Tiling) -> Block:
    """A small picture of the edges and holes with the tiles drawn over it."""
    xs, ys = tiling.corners_x(), tiling.corners_y()
    whole = Box(xs[0], ys[-1], xs[-1], ys[0])
    scale = min(_KEY_PLAN_IN[0] / whole.width_in, _KEY_PLAN_IN[1] / whole.height_in)
    small = moved(
        [part for part in sheet.parts() if isinstance(part, Outline | Circle)],
        right_in=-whole.left * scale,
        up_in=-whole.top * scale - 0.2,
        scale_ratio=scale,
    )
    edges = [part.loop.points(0.02) for part in small if isinstance(part, Outline)]
    drawn = np.concatenate([*edges, *([part.center] for part in small if isinstance(part, Circle))])
    dots = np.hstack([drawn, drawn])
    parts: list[Ink] = [Text((0.0, -0.12), tell(said("print.key_plan")), 0.1, bold=True), *small]
    for row, column in tiling.places():
        left, right = ((x - whole.left) * scale for x in xs[column : column + 2])
        top, bottom = ((y - whole.top) * scale - 0.2 for y in ys[row : row + 2])
        tile = Box(left, bottom, right, top)
        parts += (Line(tile.corners, Layer.CHECK), _tile_label(tile_name(row, column), tile, dots))
    return Block(tuple(parts), whole.width_in * scale, whole.height_in * scale + 0.2)


def _tile_label(name: str, tile: Box, dots: Floats) -> Text:
    """The name of a tile in that of its corners where it hides least of the drawing, of which some dots are given as
    boxes, shape (n, 4) [in]."""
    high, low = tile.top - _TILE_LETTER_IN - 0.05, tile.bottom + 0.05
    corners = [
        Text((x, y), name, _TILE_LETTER_IN, bold=True, anchor=anchor)
        for y in (high, low)
        for x, anchor in ((tile.left + 0.05, Anchor.START), (tile.right - 0.05, Anchor.END))
    ]
    return min(corners, key=lambda text: np.count_nonzero(meeting(dots, np.array(text.box()))))
