"""Tile pages: parts of a drawing at full size, each with a narrow strip that shows whether the paper may be used."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import lru_cache
from itertools import product
from typing import Literal

import numpy as np
import numpy.typing as npt
from msgspec import Struct
from msgspec.structs import replace

from hatchwright.drawings.block import Block
from hatchwright.drawings.boxes import Box, Floats, meeting, sides_of
from hatchwright.drawings.ink import Ink, Line, Point, Solid, Text, moved
from hatchwright.drawings.sheet import Sheet
from hatchwright.drawings.traces import Traces, traced
from hatchwright.drawings.writers.check_bars import BARS_IN, SIDES, PaperSide, check_bars
from hatchwright.drawings.writers.join_marks import join_ink
from hatchwright.drawings.writers.paper import GAP_IN, MARGIN_IN, AnyPaper, Page, true_size_in
from hatchwright.drawings.writers.tiling import (
    MOST_PAGES,
    MOST_ROWS,
    OVERLAP_IN,
    Tile,
    Tiling,
    is_whole,
    tile_name,
    tiled,
    windows_along,
)
from hatchwright.drawings.writers.title_strip import title_strip
from hatchwright.errors import ExportError
from hatchwright.said import Listed, Said, said
from hatchwright.units import Unit
from hatchwright.words.tell import tell

AROUND_IN = 0.015
"""Clear paper round a drawing [in]."""

_HOLE_IN = 0.16
"""A mark, with what belongs to it, reaches so far from its middle [in]."""

_MORE_TRIED = 2
"""Ways that take so many windows more are tried too: more of theirs may hold no ink [-]."""

StripSide = Literal["below", "right"]


class Way(Struct, frozen=True):
    """How a page lies.

    Args:
        lies_in: width and height of the paper as it lies [in].
        strip: the side on which the strip stands; at the right it is read from there.
        strip_in: height of the strip [in].
        ratios: by how much ink is drawn larger, across and up [-].
    """

    lies_in: tuple[float, float]
    strip: StripSide
    strip_in: float
    ratios: tuple[float, float]

    @property
    def size_in(self) -> tuple[float, float]:
        """Width and height in the inches that come out of the printer [in]."""
        return true_size_in(self.lies_in, self.ratios)

    @property
    def sides(self) -> tuple[PaperSide, PaperSide]:
        """The sides of the paper that lie across and up."""
        return SIDES if self.lies_in[0] < self.lies_in[1] else (SIDES[1], SIDES[0])

    @property
    def is_long(self) -> bool:
        """Whether the strip lies along the long side; then the bars along the short one take the corner, since the
        window is shorter than they are."""
        return (self.strip == "below") == (self.lies_in[0] > self.lies_in[1])

    @property
    def length_in(self) -> float:
        """Length of the strip [in]."""
        width, height = self.size_in
        side = width if self.strip == "below" else height
        return side - 2.0 * MARGIN_IN - (BARS_IN + GAP_IN if self.is_long else 0.0)

    @property
    def window(self) -> Box:
        """The part of the page that shows the drawing: all but the strip, and the bars along the other side [in]."""
        width, height = self.size_in
        strip, bars = self.strip_in + GAP_IN, BARS_IN + GAP_IN
        if self.strip == "below":
            return Box(MARGIN_IN + bars, MARGIN_IN + strip, width - MARGIN_IN, height - MARGIN_IN)
        return Box(MARGIN_IN, MARGIN_IN + bars, width - MARGIN_IN - strip, height - MARGIN_IN)

    def ink(self, strip: Block, unit: Unit) -> tuple[Ink, ...]:
        """The strip, and the bars along the other side."""
        width, _ = self.size_in
        across, up = self.sides
        low, begin = MARGIN_IN, MARGIN_IN + (BARS_IN + GAP_IN if self.is_long else 0.0)
        if self.strip == "below":
            foot = low if self.is_long else self.window.bottom + GAP_IN
            bars = check_bars((low, foot), "y", side=up, unit=unit)
            return (*strip.at(begin, low + self.strip_in), *bars)
        bars = check_bars((low, low), "x", side=across, unit=unit)
        return (*bars, *_turned(strip.parts, (width - MARGIN_IN - self.strip_in, begin)))


class Laid(Struct, frozen=True):
    """A sheet laid over pages.

    Args:
        joins: marks, bars and dotted lines of the joins, on the sheet.
        traces: of all that is drawn, joins included.
    """

    way: Way
    tiling: Tiling
    joins: tuple[Ink, ...]
    traces: Traces

    @property
    def window(self) -> Box:
        """The part of each page that shows the drawing [in]."""
        return self.way.window

    def to_page(self, place: Tile) -> Point:
        """From the sheet to the page of a tile: so far to the right and up [in]."""
        tile = self.tiling.tile(*place)
        return self.window.left - tile.left, self.window.bottom - tile.bottom

    def on_page(self, place: Tile) -> Traces:
        """What is drawn, on the page of a tile."""
        return self.traces.moved(*self.to_page(place))


@lru_cache(maxsize=2)  # a sheet is counted, written and read back in turn
def laid_over(sheet: Sheet, paper: AnyPaper) -> Laid:
    """Lay a sheet over as few pages as the paper allows: upright or lying, the strip below or at the right.

    Raises:
        ExportError: more pages than a person will join.
    """
    drawn = sheet.box.grown(AROUND_IN)
    ink = traced(sheet.parts())
    lettering = sides_of(part.box() for part in sheet.parts() if isinstance(part, Text))
    spans = lettering[:, 2:] - lettering[:, :2]
    long_words = lettering[(spans > OVERLAP_IN).any(axis=1)]
    pieces = _short(ink.pieces)
    ways = list(_ways(sheet, paper, joined=False))
    if min(_least(drawn, way) for way in ways) > 1:
        ways = list(_ways(sheet, paper, joined=True))
    fewest = min(_least(drawn, way) for way in ways)
    if fewest > 4 * MOST_PAGES:  # so many that leaving out those without ink is no help
        _refuse(sheet, paper, fewest)
    best: tuple[tuple[int, float, int], Way, Tiling] | None = None
    for order, way in enumerate(ways):
        if _least(drawn, way) > fewest + _MORE_TRIED:
            continue
        window_in = way.window.width_in, way.window.height_in
        tiling = tiled(drawn, pieces, window_in, whole=long_words, marks=ink.boxes)
        shortest_in = min((join.high_in - join.low_in for join in tiling.joins()), default=0.0)
        key = tiling.count, -round(shortest_in, 3), order  # a join along the long side is laid more truly
        if best is None or key < best[0]:
            best = key, way, tiling
    assert best is not None  # the way that takes fewest windows was tried
    _, way, tiling = best
    if tiling.rows > MOST_ROWS or tiling.count > MOST_PAGES:
        _refuse(sheet, paper, tiling.count)
    joins = join_ink(tuple(tiling.joins()), ink, sheet.unit, tiling.window_in)
    return Laid(way, tiling, joins, ink.beside(traced(joins)))


def _refuse(sheet: Sheet, paper: AnyPaper, count: int) -> None:
    remedy, where = said("error.too_many_pages.do"), f"{sheet.title} on {paper}"
    raise ExportError(said("error.too_many_pages", n=count), where=where, remedy=remedy)


def _least(drawn: Box, way: Way) -> int:
    """How many windows cover a drawing, those without ink counted too."""
    window = way.window
    columns = windows_along(drawn.width_in, window.width_in)
    return columns * windows_along(drawn.height_in, window.height_in)


def _ways(sheet: Sheet, paper: AnyPaper, *, joined: bool) -> Iterator[Way]:
    """How a page may lie, the one first that is read with least turning."""
    upright = paper.size_in
    strips: tuple[StripSide, StripSide] = ("below", "right")
    for strip, lies in product(strips, (upright, upright[::-1])):
        way = Way(lies, strip, 0.0, paper.ratios(lies))
        neighbors = _widest_neighbors() if joined else ""
        yield replace(way, strip_in=_strip(sheet, paper, way, (0, 0), (1, 1), neighbors).height_in)


def _strip(
    sheet: Sheet, paper: AnyPaper, way: Way, place: Tile, page: tuple[int, int], neighbors: str
) -> Block:
    """The strip of one tile; its page by number and of how many."""
    return title_strip(
        sheet,
        length_in=way.length_in,
        side=way.sides[0 if way.strip == "below" else 1],
        name=tile_name(*place),
        page=page[0],
        pages=page[1],
        neighbors=neighbors,
        paper=paper,
        is_turned=way.strip == "right",
    )


def tile_pages(sheet: Sheet, paper: AnyPaper, *, before: int) -> tuple[Page, ...]:
    """The full-size pages of a sheet, one a tile, row by row.

    Args:
        before: how many pages come before them.
    Raises:
        ExportError: more pages than a person will join.
    """
    laid = laid_over(sheet, paper)
    tiling, way = laid.tiling, laid.way
    pages = before + tiling.count
    ink = (*_whole(sheet.parts(), tiling), *laid.joins)
    sides = sides_of(part.box() for part in ink)
    made = []
    for page, place in enumerate(tiling.kept, start=before + 1):
        right_in, up_in = laid.to_page(place)
        shown = [ink[k] for k in np.flatnonzero(_shown(sides, ink, tiling, place))]
        strip = _strip(sheet, paper, way, place, (page, pages), _neighbors(tiling, place))
        drawing = moved(shown, right_in=right_in, up_in=up_in)
        parts = way.ink(strip, sheet.unit)
        made.append(Page(*way.lies_in, tile_name(*place), laid.window, drawing, parts, way.ratios))
    return tuple(made)


def _shown(sides: Floats, ink: tuple[Ink, ...], tiling: Tiling, place: Tile) -> npt.NDArray[np.bool_]:
    """Which ink a tile shows: what is lettered or small only where it lies in it whole, all else as far as it goes."""
    is_small = ((sides[:, 2:] - sides[:, :2]) <= OVERLAP_IN).all(axis=1)
    is_lettering = np.fromiter((isinstance(part, Text) for part in ink), np.bool_, len(ink))
    middle, half = 0.5 * (sides[:, :2] + sides[:, 2:]), 0.5 * (sides[:, 2:] - sides[:, :2])
    half = np.where(
        (is_small & ~is_lettering)[:, None], np.maximum(half, _HOLE_IN), half
    )  # a hole with its cross
    left, bottom, right, top = tiling.reach(*place)
    is_inside = ((middle - half >= (left, bottom)) & (middle + half <= (right, top))).all(axis=1)
    shown: npt.NDArray[np.bool_] = np.where(
        is_small | is_lettering, is_inside, meeting(sides, np.array(tiling.tile(*place)))
    )
    return shown


def _whole(parts: tuple[Ink, ...], tiling: Tiling) -> Iterator[Ink]:
    """The ink, its lettering moved into one tile where a join would cut it."""
    cut = [k for k, part in enumerate(parts) if isinstance(part, Text)]
    boxes = sides_of(parts[k].box() for k in cut)
    moves = {cut[k]: boxes[k] for k in np.flatnonzero(~is_whole(tiling, boxes)).tolist()} if cut else {}
    for k, part in enumerate(parts):
        if k not in moves:
            yield part
            continue
        box = Box(*moves[k].tolist())
        x, y = box.middle
        tile = min((tiling.tile(*place) for place in tiling.kept), key=lambda tile: _off(tile, x, y))
        right = max(tile.left - box.left, 0.0) + min(tile.right - box.right, 0.0)
        up = max(tile.bottom - box.bottom, 0.0) + min(tile.top - box.top, 0.0)
        yield from moved((part,), right_in=right, up_in=up)


def _off(tile: Box, x: float, y: float) -> float:
    middle_x, middle_y = tile.middle
    return abs(x - middle_x) + abs(y - middle_y)


def _neighbors(tiling: Tiling, place: Tile) -> str:
    """What is joined to a tile, such as JOIN TO A2 AT THE RIGHT; "" where it is the only one."""
    row, column = place
    around = (
        ("left", (row, column - 1)),
        ("right", (row, column + 1)),
        ("above", (row - 1, column)),
        ("below", (row + 1, column)),
    )
    told = [_neighbor(way, *other) for way, other in around if other in tiling.kept]
    return tell(said("print.joins", joins=Listed(tuple(told), ","))) if told else ""


def _neighbor(way: str, row: int, column: int) -> Said:
    return said(f"print.join.{way}", name=tile_name(row, column))


def _widest_neighbors() -> str:
    told = tuple(_neighbor(way, 25, 98) for way in ("left", "right", "above", "below"))
    return tell(said("print.joins", joins=Listed(told, ",")))


def _short(pieces: Floats) -> Floats:
    """Boxes no longer than the overlap: of a longer one its middle."""
    middle, half = 0.5 * (pieces[:, :2] + pieces[:, 2:]), 0.5 * (pieces[:, 2:] - pieces[:, :2])
    half = np.minimum(half, 0.49 * OVERLAP_IN)
    return np.hstack([middle - half, middle + half])


def _turned(parts: Iterable[Ink], corner: Point) -> tuple[Ink, ...]:
    """The ink of a block turned a quarter left, its upper left corner at a place of the page [in]."""

    def to(point: Point) -> Point:
        return corner[0] - point[1], corner[1] + point[0]

    turned: list[Ink] = []
    for part in parts:
        if isinstance(part, Text):
            turned.append(replace(part, at=to(part.at), angle_deg=part.angle_deg + 90.0))
        elif isinstance(part, Line):
            turned.append(replace(part, points=tuple(map(to, part.points))))
        elif isinstance(part, Solid):
            a, b, c = map(to, part.points)
            turned.append(replace(part, points=(a, b, c)))
    return tuple(turned)
