"""Tile pages: a part of the drawing at full size, with all that shows whether the paper may be used."""

from __future__ import annotations

from hatchwright.drawings.sheet import (
    BIG_IN,
    Anchor,
    Block,
    Box,
    Ink,
    Layer,
    Line,
    Point,
    Sheet,
    Style,
    Text,
    legend_block,
    moved,
    paragraph,
    stacked,
    stop_block,
)
from hatchwright.drawings.writers.check_bars import BARS_IN, SIDES, CheckBar, check_bars, measured_boxes
from hatchwright.drawings.writers.correction import corrected_words
from hatchwright.drawings.writers.paper import GAP_IN, MARGIN_IN, STRIP_IN, AnyPaper, Page, true_size_in
from hatchwright.drawings.writers.tiling import (
    OVERLAP_IN,
    Tiling,
    fewest_tiles,
    refuse_too_many,
    tile_name,
    tiled,
)
from hatchwright.units import MM_PER_IN

BEFORE_USE = (
    "PRINT AT 100 %, NO FIT TO PAGE. Measure all bars on the day of use: paper moves with damp."
    " Write down what the 6.000 in bars measure. DO NOT USE IF WRONG."
)
"""What every full-size page says before it is used."""

_JOIN_BARS_IN = {"in": (4.0, "4.000 in OVER THE JOIN"), "mm": (100.0 / MM_PER_IN, "100 mm OVER THE JOIN")}
_AROUND_IN = 0.15


def laid_over(sheet: Sheet, paper: AnyPaper) -> tuple[tuple[float, float], Box, Tiling]:
    """Lay a sheet over as few pages as the paper allows, upright or lying.

    Args:
        sheet: the drawing.
        paper: the paper.
    Returns:
        tuple: width and height of the paper as it lies [in], the page's window [in], and the division of the sheet.
    Raises:
        ExportError: more pages than a person will join.
    """
    width, height = paper.size_in
    drawn = sheet.box.grown(_AROUND_IN)
    lies = ((width, height), (height, width))
    plain = [_window(sheet, size, None) for size in lies]  # a page lies the same way, corrected or not
    best = fewest_tiles(drawn, [(window.width_in, window.height_in) for window in plain])
    window = _window(sheet, true_size_in(lies[best], paper.ratios(lies[best])), paper)
    tiling = tiled(drawn, (window.width_in, window.height_in))
    refuse_too_many(tiling, where=f"{sheet.title} on {paper}")
    return lies[best], window, tiling


def tile_pages(sheet: Sheet, paper: AnyPaper, *, before: int) -> tuple[Page, ...]:
    """The full-size pages of a sheet, row by row.

    Args:
        sheet: the drawing.
        paper: the paper.
        before: how many pages come before them.
    Returns:
        tuple[Page, ...]: one page a tile.
    Raises:
        ExportError: more pages than a person will join.
    """
    lies, window, tiling = laid_over(sheet, paper)
    ratios = paper.ratios(lies)
    width, _ = true_size_in(lies, ratios)
    joins = _joins(tiling, sheet.unit)
    pages = before + tiling.count
    made = []
    for page, place in enumerate(tiling.places(), start=before + 1):
        tile = tiling.tile(*place)
        ink = (*sheet.parts(), *joins, *_neighbours(tiling, place))
        shown = [part for part in ink if part.box().touches(tile)]
        drawing = moved(shown, right_in=window.left - tile.left, up_in=window.bottom - tile.bottom)
        name = tile_name(*place)
        foot = _foot_block(sheet, width, page, pages, joined=tiling.count > 1, paper=paper)
        below = foot.at(MARGIN_IN + STRIP_IN, MARGIN_IN + foot.height_in)
        bars = _bars(window, width, name, sides=SIDES if lies[0] < lies[1] else SIDES[::-1])
        made.append(Page(*lies, name, window, drawing, (*bars, *below), ratios))
    return tuple(made)


def _window(sheet: Sheet, page_in: tuple[float, float], paper: AnyPaper | None) -> Box:
    width, height = page_in
    foot = _foot_block(sheet, width, 1, 1, joined=True, paper=paper).height_in
    return Box(
        MARGIN_IN + STRIP_IN, MARGIN_IN + foot + BARS_IN + GAP_IN, width - MARGIN_IN, height - MARGIN_IN
    )


def _bars(window: Box, page_width_in: float, name: str, *, sides: tuple[str, str]) -> tuple[Ink, ...]:
    """The bars of a page, which name the sides of the paper that lie across and up, and the page's name."""
    low, (across, up) = window.bottom - GAP_IN - BARS_IN, sides
    return (
        *check_bars((window.left, low), "x", side=across),
        *check_bars((MARGIN_IN, MARGIN_IN + 0.1), "y", side=up),
        *measured_boxes((window.left + 4.05, low + 0.07)),
        Text((page_width_in - MARGIN_IN, low + 0.47), name, BIG_IN, bold=True, anchor=Anchor.END),
    )


def _foot_block(
    sheet: Sheet, page_width_in: float, page: int, pages: int, *, joined: bool, paper: AnyPaper | None
) -> Block:
    """What stands below the drawing: what must be settled, what to do before use, legend, title block."""
    width = page_width_in - 2.0 * MARGIN_IN - STRIP_IN
    title = sheet.title_block.block(
        title=sheet.title, page=page, pages=pages, scale=sheet.scale, width_in=width
    )
    joins = ((Style.JOIN, Style.JOIN.meaning),) if joined else ()
    corrected = corrected_words(paper, width_in=width) if paper else ()
    stop = (stop_block(sheet.stop, width_in=width, height_in=0.1),) if sheet.stop else ()
    return stacked(
        (
            *stop,
            *corrected,
            paragraph([BEFORE_USE], width_in=width, height_in=0.09),
            legend_block((*sheet.meanings(), *joins), width_in=width, height_in=0.08),
            title,
        )
    )


def _joins(tiling: Tiling, unit: str) -> list[Ink]:
    """Dotted joins, bars that run over them, and marks at the corners."""
    length_in, words = _JOIN_BARS_IN[unit]
    xs, ys = tiling.corners_x(), tiling.corners_y()
    half = 0.5 * length_in
    words_at = (0.15, half + 0.35)
    parts: list[Ink] = []
    for x in xs[1:-1]:
        parts.append(Line(((x, ys[-1]), (x, ys[0])), Layer.CHECK, Style.JOIN))
        parts += CheckBar((x - half, tiling.area.bottom + 0.12), "x", length_in, 4, words, words_at).parts()
    for y in ys[1:-1]:
        parts.append(Line(((xs[0], y), (xs[-1], y)), Layer.CHECK, Style.JOIN))
        parts += CheckBar((tiling.area.left + 0.25, y - half), "y", length_in, 4, words, words_at).parts()
    for corner in tiling.corners():
        parts += _mark(*corner)
    return parts


def _mark(x: float, y: float) -> list[Ink]:
    """A tile mark: a cross in a diamond, so that nobody takes it for the centre of a hole."""
    arm, half = 0.2, 0.1
    diamond = ((x - half, y), (x, y - half), (x + half, y), (x, y + half), (x - half, y))
    lines = (((x - arm, y), (x + arm, y)), ((x, y - arm), (x, y + arm)), diamond)
    return [Line(points, Layer.CHECK) for points in lines]


def _neighbours(tiling: Tiling, place: tuple[int, int]) -> list[Ink]:
    """The names of the next tiles, beyond the joins to the right and below."""
    row, column = place
    tile = tiling.tile(row, column)
    beyond, along = 0.5 * OVERLAP_IN - 0.16, 0.5 * OVERLAP_IN + 0.3
    texts: list[Ink] = []
    if column + 1 < tiling.columns:
        at = (tile.right - beyond, tile.bottom + along)
        texts.append(_join_to(at, tile_name(row, column + 1), 90.0))
    if row + 1 < tiling.rows:
        at = (tile.left + along, tile.bottom + beyond)
        texts.append(_join_to(at, tile_name(row + 1, column), 0.0))
    return texts


def _join_to(at: Point, name: str, angle_deg: float) -> Text:
    return Text(at, f"JOIN TO {name}", 0.09, angle_deg=angle_deg)
