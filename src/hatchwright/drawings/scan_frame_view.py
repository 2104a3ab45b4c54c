"""The printed frame for measuring by a flat scanner, at true size, and the page that says how it is used."""

from __future__ import annotations

import math
from collections.abc import Iterator

from hatchwright.drawings.block import paragraph
from hatchwright.drawings.ink import Anchor, Ink, Layer, Line, Point, Solid, Style, Text, moved
from hatchwright.drawings.scale import FULL
from hatchwright.drawings.scaled_sheet import ScaledSheet
from hatchwright.drawings.title_block import TitleBlock
from hatchwright.inspection.scan.frame import DOT_IN, MARKER_IN, ROWS_IN, ScanFrame, number_id
from hatchwright.inspection.scan.marks import CELLS, mark_cells
from hatchwright.said import Said, inch, said
from hatchwright.words.tell import tell

_DOT_CORNERS = 72
"""A dot is drawn as a polygon: its middle is the circle's, and its edge is off by 1e-4 of its radius."""

_OVERLAP_IN = 0.002
"""By how much a row of cells runs into the next, so that no white line parts them in print."""

_BAR_WIDE_IN = 0.1
_BAR_OUT_IN = ROWS_IN[1] + 0.5 * DOT_IN + 0.16
"""From the window to the near edge of a bar [in]."""

_LETTER_IN, _BIG_IN = 0.085, 0.14
_STEPS = ("print", "check", "cut", "bars", "deburr", "lay", "black_behind", "set", "turn", "then")


def scan_frame_sheet(frame: ScanFrame, *, card: int, paper_in: tuple[float, float]) -> ScaledSheet:
    """Draw a frame, and on a second page how it is used.

    Args:
        card: number of the card, which its mark tells.
        paper_in: width and height of the paper, upright [in].
    """
    width, height = paper_in
    drawn = tuple(_frame(frame, card))
    lies = tuple(moved(drawn, right_in=0.5 * width, up_in=0.5 * height))
    block = TitleBlock("", "", "", "", "", "")
    title = tell(said("scan_frame.title", window=frame.name))
    return ScaledSheet(title, block, paper_in, (lies, tuple(_how(frame, card, paper_in))), FULL)


def _frame(frame: ScanFrame, card: int) -> Iterator[Ink]:
    for x, y in frame.dots.tolist():
        yield _dot((x, y))
    for identity, at in (*frame.markers, (number_id(card), frame.number_at)):
        yield from _mark(identity, at)
    yield from _window(frame)
    yield from _bars(frame)
    x, y = frame.number_at
    yield Text(
        (x + MARKER_IN, y - 0.5 * _BIG_IN), tell(said("scan_frame.card", card=card)), _BIG_IN, bold=True
    )
    upright = Text(
        (x - MARKER_IN, y - 0.5 * _BIG_IN), tell(said("scan_frame.top")), _BIG_IN, True, Anchor.END
    )
    yield upright


def _dot(at: Point) -> Solid:
    turns = (2.0 * math.pi * number / _DOT_CORNERS for number in range(_DOT_CORNERS))
    return Solid(
        tuple((at[0] + 0.5 * DOT_IN * math.cos(t), at[1] + 0.5 * DOT_IN * math.sin(t)) for t in turns)
    )


def _mark(identity: int, at: Point) -> Iterator[Solid]:
    """Each run of black cells of a row as one bar, running a little into the row below."""
    cell = MARKER_IN / CELLS
    left, top = at[0] - 0.5 * MARKER_IN, at[1] + 0.5 * MARKER_IN
    black = mark_cells(identity)
    for row in range(CELLS):
        column = 0
        while column < CELLS:
            if not black[row, column]:
                column += 1
                continue
            end = column
            while end < CELLS and black[row, end]:
                end += 1
            goes_on = row + 1 < CELLS and bool(black[row + 1, column:end].all())
            low = top - cell * (row + 1) - (_OVERLAP_IN if goes_on else 0.0)
            yield _box(left + cell * column, low, left + cell * end, top - cell * row)
            column = end


def _box(left: float, low: float, right: float, high: float) -> Solid:
    return Solid(((left, low), (right, low), (right, high), (left, high)))


def _window(frame: ScanFrame) -> Iterator[Ink]:
    a, b = frame.half_in
    yield Line(((-a, -b), (a, -b), (a, b), (-a, b), (-a, -b)), Layer.DIMENSION, Style.HIDDEN)
    words = (said("scan_frame.cut_out"), said("scan_frame.black"))
    yield from moved(
        paragraph(tuple(map(tell, words)), width_in=2.0 * a - 0.6, height_in=0.11).parts,
        right_in=-a + 0.3,
        up_in=0.2,
    )


def _bars(frame: ScanFrame) -> Iterator[Ink]:
    (a, b), (x_in, y_in) = frame.half_in, frame.bars_in
    low, right = -b - _BAR_OUT_IN, a + _BAR_OUT_IN
    yield _box(-0.5 * x_in, low - _BAR_WIDE_IN, 0.5 * x_in, low)
    yield _box(right, -0.5 * y_in, right + _BAR_WIDE_IN, 0.5 * y_in)
    x_words, y_words = (tell(said(f"scan_frame.bar_{axis}")) for axis in "xy")
    yield Text((0.0, low - _BAR_WIDE_IN - 0.16), x_words, _LETTER_IN, anchor=Anchor.MIDDLE)
    yield Text((right + _BAR_WIDE_IN + 0.16, 0.0), y_words, _LETTER_IN, anchor=Anchor.MIDDLE, angle_deg=90.0)


def _how(frame: ScanFrame, card: int, paper_in: tuple[float, float]) -> Iterator[Ink]:
    margin = 0.8
    width = paper_in[0] - 2.0 * margin
    x_in, y_in = (inch(one) for one in frame.bars_in)
    head = tell(said("scan_frame.how", window=frame.name, card=card))
    steps: tuple[Said, ...] = tuple(said(f"scan_frame.{step}", x=x_in, y=y_in) for step in _STEPS)
    numbered = [f"{number}. {tell(step)}" for number, step in enumerate(steps, start=1)]
    top = paper_in[1] - margin
    heading = paragraph([head], width_in=width, height_in=0.16, bold=True)
    yield from heading.at(margin, top)
    top -= heading.height_in + 0.2
    for line in numbered:
        block = paragraph([line], width_in=width, height_in=0.12)
        yield from block.at(margin, top)
        top -= block.height_in + 0.1
    limits = paragraph([tell(said("scan_frame.limits"))], width_in=width, height_in=0.12, bold=True)
    yield from limits.at(margin, top - 0.1)
