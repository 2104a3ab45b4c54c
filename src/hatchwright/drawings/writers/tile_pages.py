"""Tile pages: a part of the drawing at full size, with all that shows whether the paper may be used."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise
from typing import Literal

import numpy as np

from hatchwright.drawings.block import Block, legend_block, paragraph, stacked, stop_block
from hatchwright.drawings.boxes import Box, meeting, sides_of
from hatchwright.drawings.ink import (
    Anchor,
    Circle,
    Ink,
    Layer,
    Line,
    Outline,
    Point,
    Solid,
    Style,
    Text,
    moved,
)
from hatchwright.drawings.lettering import BIG_IN
from hatchwright.drawings.sheet import Sheet
from hatchwright.drawings.writers.check_bars import (
    BARS_IN,
    SIDES,
    PaperSide,
    check_bar,
    check_bars,
    measured_boxes,
)
from hatchwright.drawings.writers.paper import (
    GAP_IN,
    MARGIN_IN,
    STRIP_IN,
    AnyPaper,
    Page,
    before_use,
    corrected_words,
    true_size_in,
)
from hatchwright.drawings.writers.tiling import MOST_PAGES, MOST_ROWS, OVERLAP_IN, Tiling, tile_name, tiled
from hatchwright.errors import ExportError
from hatchwright.said import said
from hatchwright.units import MM_PER_IN, Unit
from hatchwright.words.tell import tell

_JOIN_BARS = {
    "in": tuple((inches, f"{inches:.3f} in", round(inches)) for inches in (4.0, 3.0, 2.0)),
    "mm": tuple((mm / MM_PER_IN, f"{mm} mm", mm // 25) for mm in (100, 75, 50)),
}
"""Bars that run over a join, the longest first: length [in], how it is lettered, graduations."""

_BETWEEN_BARS_IN = 0.3
_WORDS_IN = 1.4
"""Room for the words of a bar, which stand on both sides of the join where there is room [in]."""

_STEP_IN = 0.25
_CLEAR_IN = 0.04
_AROUND_IN = 0.15
_NEAR_IN = 1.0
"""The name of the next tile reaches no farther beyond its own."""

_CHORD_IN = 0.01  # a label may come that near to an arc


def laid_over(sheet: Sheet, paper: AnyPaper) -> tuple[tuple[float, float], Box, Tiling]:
    """Lay a sheet over as few pages as the paper allows, upright or lying.

    Returns:
        tuple: width and height of the paper as it lies, the page's window, and the division of the sheet [in].
    Raises:
        ExportError: more pages than a person will join.
    """
    width, height = paper.size_in
    drawn = sheet.box.grown(_AROUND_IN)
    lies = ((width, height), (height, width))
    plain = [_window(sheet, size, None) for size in lies]  # a page lies the same way, corrected or not
    counts = [tiled(drawn, (window.width_in, window.height_in)).count for window in plain]
    best = counts.index(min(counts))
    window = _window(sheet, true_size_in(lies[best], paper.ratios(lies[best])), paper)
    tiling = tiled(drawn, (window.width_in, window.height_in))
    if tiling.rows > MOST_ROWS or tiling.count > MOST_PAGES:
        remedy, where = said("error.too_many_pages.do"), f"{sheet.title} on {paper}"
        raise ExportError(said("error.too_many_pages", n=tiling.count), where=where, remedy=remedy)
    return lies[best], window, tiling


def tile_pages(sheet: Sheet, paper: AnyPaper, *, before: int) -> tuple[Page, ...]:
    """The full-size pages of a sheet, one a tile, row by row.

    Args:
        before: how many pages come before them.
    Raises:
        ExportError: more pages than a person will join.
    """
    lies, window, tiling = laid_over(sheet, paper)
    ratios = paper.ratios(lies)
    width, _ = true_size_in(lies, ratios)
    joins = _joins(tiling, sheet.unit)
    pages = before + tiling.count
    made = []
    drawn = (*sheet.parts(), *joins)
    sides = sides_of(part.box() for part in drawn)
    for page, place in enumerate(tiling.places(), start=before + 1):
        tile = tiling.tile(*place)
        near = [drawn[k] for k in meeting(sides, np.array(tile.grown(_NEAR_IN))).nonzero()[0]]
        ink = (*near, *_neighbors(tiling, place, near))
        shown = [part for part in ink if part.box().touches(tile)]
        drawing = moved(shown, right_in=window.left - tile.left, up_in=window.bottom - tile.bottom)
        name = tile_name(*place)
        foot = _foot_block(sheet, width, page, pages, joined=tiling.count > 1, paper=paper)
        below = foot.at(MARGIN_IN + STRIP_IN, MARGIN_IN + foot.height_in)
        bars = _bars(window, width, name, unit=sheet.unit, sides=SIDES if lies[0] < lies[1] else SIDES[::-1])
        made.append(Page(*lies, name, window, drawing, (*bars, *below), ratios))
    return tuple(made)


def _window(sheet: Sheet, page_in: tuple[float, float], paper: AnyPaper | None) -> Box:
    width, height = page_in
    foot = _foot_block(sheet, width, 1, 1, joined=True, paper=paper).height_in
    return Box(
        MARGIN_IN + STRIP_IN, MARGIN_IN + foot + BARS_IN + GAP_IN, width - MARGIN_IN, height - MARGIN_IN
    )


def _bars(
    window: Box, page_width_in: float, name: str, *, unit: Unit, sides: tuple[PaperSide, PaperSide]
) -> tuple[Ink, ...]:
    """The bars of a page, which name the sides of the paper that lie across and up, and the page's name."""
    low, (across, up) = window.bottom - GAP_IN - BARS_IN, sides
    return (
        *check_bars((window.left, low), "x", side=across, unit=unit),
        *check_bars((MARGIN_IN, MARGIN_IN + 0.1), "y", side=up, unit=unit),
        *measured_boxes((window.left + 4.05, low + 0.07)),
        Text((page_width_in - MARGIN_IN, low + 0.47), name, BIG_IN, bold=True, anchor=Anchor.END),
    )


def _foot_block(
    sheet: Sheet, page_width_in: float, page: int, pages: int, *, joined: bool, paper: AnyPaper | None
) -> Block:
    """What stands below the drawing: what must be settled, what to do before use, legend, title block."""
    width = page_width_in - 2.0 * MARGIN_IN - STRIP_IN
    joins = ((Style.JOIN, Style.JOIN.meaning),) if joined else ()
    corrected = corrected_words(paper, width_in=width, unit=sheet.unit) if paper else ()
    stop = (stop_block(sheet.stop, width_in=width, height_in=0.1),) if sheet.stop else ()
    return stacked(
        (
            *stop,
            *corrected,
            paragraph([tell(before_use(sheet.unit))], width_in=width, height_in=0.09),
            legend_block((*sheet.meanings(), *joins), width_in=width, height_in=0.08),
            sheet.named(page=page, pages=pages, width_in=width),
        )
    )


def _joins(tiling: Tiling, unit: str) -> list[Ink]:
    """Dotted joins, bars that run over them, and marks at the corners."""
    xs, ys, area = tiling.corners_x(), tiling.corners_y(), tiling.area
    across_in, down_in = tiling.pitch_in
    parts: list[Ink] = []
    for x in xs[1:-1]:
        parts.append(Line(((x, ys[-1]), (x, ys[0])), Layer.CHECK, Style.JOIN))
        parts += _join_bar((x, area.bottom + 0.12), "x", unit, room_in=across_in if len(xs) > 3 else None)
    for y in ys[1:-1]:
        parts.append(Line(((xs[0], y), (xs[-1], y)), Layer.CHECK, Style.JOIN))
        parts += _join_bar((area.left + 0.25, y), "y", unit, room_in=down_in if len(ys) > 3 else None)
    for corner in tiling.corners():
        parts += _mark(*corner)
    return parts


def _join_bar(
    middle: Point, along: Literal["x", "y"], unit: str, *, room_in: float | None
) -> tuple[Ink, ...]:
    """The longest bar that ends before the one of the next join, so far off; any where there is no other join."""
    bars = _JOIN_BARS[unit]
    fitting = [bar for bar in bars if room_in is None or bar[0] + _BETWEEN_BARS_IN <= room_in]
    length_in, words, spaces = fitting[0] if fitting else bars[-1]
    half = 0.5 * length_in
    words_at = (0.15, min(half + 0.35, length_in - _WORDS_IN)) if half > _WORDS_IN else (0.15,)
    start = (middle[0] - half, middle[1]) if along == "x" else (middle[0], middle[1] - half)
    told = tell(said("bar.over_the_join", length=words))
    return check_bar(start, along, length_in, spaces, told, words_at)


def _mark(x: float, y: float) -> list[Ink]:
    """A tile mark: a cross in a diamond, so that nobody takes it for the center of a hole."""
    arm, half = 0.2, 0.1
    diamond = ((x - half, y), (x, y - half), (x + half, y), (x, y + half), (x - half, y))
    lines = (((x - arm, y), (x + arm, y)), ((x, y - arm), (x, y + arm)), diamond)
    return [Line(points, Layer.CHECK) for points in lines]


def _neighbors(tiling: Tiling, place: tuple[int, int], drawn: Sequence[Ink]) -> list[Ink]:
    """The names of the next tiles, beyond the joins to the right and below, where nothing is drawn."""
    row, column = place
    tile = tiling.tile(row, column)
    beyond, along = 0.5 * OVERLAP_IN - 0.16, 0.5 * OVERLAP_IN + 0.3
    texts: list[Ink] = []
    if column + 1 < tiling.columns:
        places = [(tile.right - beyond, y) for y in _steps(tile.bottom + along, tile.top - 1.0)]
        texts.append(_join_to(tile_name(row, column + 1), places, 90.0, drawn))
    if row + 1 < tiling.rows:
        places = [(x, tile.bottom + beyond) for x in _steps(tile.left + along, tile.right - 1.0)]
        texts.append(_join_to(tile_name(row + 1, column), places, 0.0, drawn))
    return texts


def _steps(start: float, end: float) -> list[float]:
    steps: list[float] = np.arange(start, end, _STEP_IN).tolist()
    return steps


def _join_to(name: str, places: Sequence[Point], angle_deg: float, drawn: Sequence[Ink]) -> Text:
    """At the first of the places where no ink crosses it, else at the first of all."""
    words = tell(said("print.join_to", name=name))
    texts = [Text(at, words, 0.09, angle_deg=angle_deg) for at in places]
    return next((text for text in texts if is_free(text.box().grown(_CLEAR_IN), drawn)), texts[0])


def is_free(box: Box, ink: Iterable[Ink]) -> bool:
    """Whether no ink comes into a box; lettering counts by the box round it, all else by its lines and arcs."""
    return not any(part.box().touches(box) and _comes_into(box, part) for part in ink)


def _comes_into(box: Box, part: Ink) -> bool:
    points: Sequence[Point]
    match part:
        case Text():
            return True
        case Circle(center=(x, y), diameter_in=diameter_in):
            off_x, off_y = max(box.left - x, 0.0, x - box.right), max(box.bottom - y, 0.0, y - box.top)
            return bool(off_x**2 + off_y**2 <= (0.5 * diameter_in) ** 2)
        case Outline(loop=loop):
            points = [(float(x), float(y)) for x, y in loop.points(_CHORD_IN)]
            points = [*points, points[0]]
        case Line(points=drawn):
            points = drawn
        case Solid(points=corners):
            points = (*corners, corners[0])
    clips = (box.clipped(start, end) for start, end in pairwise(points))
    return any(enter <= leave for enter, leave in clips)
