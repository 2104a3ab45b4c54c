"""The strip of a true-size page: which drawing it is, what must be settled and done before use, and check bars."""

from __future__ import annotations

from hatchwright.drawings.block import Block, paragraph, stacked, stop_block
from hatchwright.drawings.ink import Anchor, Ink, Layer, Line, Style, Text, box_of, moved
from hatchwright.drawings.lettering import text_width_in
from hatchwright.drawings.marks import arrow
from hatchwright.drawings.sheet import Sheet
from hatchwright.drawings.writers.check_bars import (
    BARS_IN,
    MEASURED_IN,
    PaperSide,
    check_bars,
    measured_boxes,
)
from hatchwright.drawings.writers.paper import AnyPaper, before_use, corrected_words
from hatchwright.said import said
from hatchwright.units import Unit
from hatchwright.words.tell import tell

_ROSE_IN = (1.0, 0.54)
_NAME_IN = 0.72
_PAD_IN = 0.05
_LINE_IN, _LETTER_IN, _SMALL_IN = 0.145, 0.09, 0.075
_TITLE_IN, _SIDE_IN = 0.3, 0.2
_SIGN_IN = 0.22
_NOT_DATA_IN = 0.07
_TAPED: dict[Unit, dict[str, str]] = {
    "in": {"most": "1/64", "unit": "in"},
    "mm": {"most": "0.4", "unit": "mm"},
}
"""How true a bar over a join must be once it is taped."""

_BLANKS = (("name", 0.33), ("certificate", 0.3), ("date", 0.19), ("initials", 0.18))


def title_strip(
    sheet: Sheet,
    *,
    length_in: float,
    side: PaperSide,
    name: str,
    page: int,
    pages: int,
    neighbors: str,
    paper: AnyPaper,
    is_turned: bool,
) -> Block:
    """The strip of one page, which is as high for every page of a sheet.

    Args:
        side: of the paper along which it lies.
        name: of the tile.
        neighbors: what is joined to it, in words, "" where the drawing takes one tile.
        is_turned: whether the strip is turned a quarter left on the page, which its direction arrows must not be.
    """
    right_in = _ROSE_IN[0] + _NAME_IN
    room_in = length_in - right_in - _PAD_IN
    head = Block(
        (
            *_titles(sheet, room_in),
            *_name(name, page, pages, length_in),
            *_rose(sheet, length_in, is_turned=is_turned),
        ),
        length_in,
        _head_height_in(),
    )
    words = [tell(before_use(sheet.unit))]
    if neighbors:
        words.append(f"{neighbors} {tell(said('print.joining', **_TAPED[sheet.unit]))}")
    bars = check_bars((_PAD_IN, -BARS_IN), "x", side=side, unit=sheet.unit)
    boxes = measured_boxes((length_in - MEASURED_IN[0] - 0.02, -BARS_IN))
    stop = (stop_block(sheet.stop, width_in=length_in, height_in=_LETTER_IN),) if sheet.stop else ()
    parts = (
        Block((Line(((0.0, 0.0), (length_in, 0.0)), Layer.TEXT, Style.FINISHED),), length_in, 0.0),
        head,
        *stop,
        *corrected_words(paper, width_in=length_in, unit=sheet.unit),
        paragraph(words, width_in=length_in, height_in=_SMALL_IN),
        _blanks(length_in),
        Block((*bars, *boxes), length_in, BARS_IN),
    )
    return stacked(parts, gap_in=0.03)


def _head_height_in() -> float:
    return _TITLE_IN + 2.0 * _LINE_IN


def _titles(sheet: Sheet, room_in: float) -> list[Ink]:
    """The side in big letters and the title; below them job, aircraft, and state, each line made to fit."""
    block = sheet.title_block
    scale = tell(said("sheet.full_size", unit=sheet.unit.upper()))
    side = _fitted(block.side, _SIDE_IN, 0.3 * room_in, (_PAD_IN, -0.04 - _SIDE_IN), bold=True)
    start = _PAD_IN + side[-1].width_in + 0.15 if side else _PAD_IN
    lines: list[Ink] = [*side]
    lines += _fitted(sheet.title, 0.13, room_in - start, (start, -0.04 - _SIDE_IN), bold=True)
    state = ", ".join(
        one
        for one in (block.view, tell(said("print.revision", revision=block.revision)), block.date, scale)
        if one.strip()
    )
    for row, words in enumerate((f"{block.job}  {block.aircraft}", state), start=1):
        lines += _fitted(words, _LETTER_IN, room_in - _PAD_IN, (_PAD_IN, -_TITLE_IN - row * _LINE_IN + 0.03))
    return lines


def _fitted(
    words: str, height_in: float, room_in: float, at: tuple[float, float], *, bold: bool = False
) -> list[Text]:
    """A line as large as there is room for, however long; nothing where there are no words."""
    if not words.strip():
        return []
    width_in = text_width_in(words, height_in=height_in, bold=bold)
    return [Text(at, words, min(height_in, height_in * room_in / width_in), bold=bold)]


def _name(name: str, page: int, pages: int, length_in: float) -> list[Ink]:
    """At the right the name of the tile over the number of the page."""
    right, count = length_in - _PAD_IN, tell(said("block.page_of", page=page, pages=pages))
    return [
        Text((right, -0.04 - _SIDE_IN), name, _SIDE_IN, bold=True, anchor=Anchor.END),
        Text((right, -0.5), count, 0.11, bold=True, anchor=Anchor.END),
    ]


def _rose(sheet: Sheet, length_in: float, *, is_turned: bool) -> tuple[Ink, ...]:
    """The direction arrows beside the name of the tile, made to fit."""
    turn_deg = -90.0 if is_turned else 0.0
    rose = tuple(
        part
        for words, angle_deg in sheet.title_block.directions
        for part in arrow((0.0, 0.0), angle_deg + turn_deg, words, 0.24, 0.09)
    )
    if not rose:
        return ()
    box = box_of(rose)
    scale = min(1.0, _ROSE_IN[0] / box.width_in, _ROSE_IN[1] / box.height_in)
    x, y = box.middle
    right, up = length_in - _NAME_IN - 0.5 * _ROSE_IN[0] - scale * x, -0.05 - 0.5 * _ROSE_IN[1] - scale * y
    return moved(rose, right_in=right, up_in=up, scale_ratio=scale)


def _blanks(length_in: float) -> Block:
    """That it is no approved data, and a line to sign on."""
    not_data = Text((0.0, -_SIGN_IN + 0.05), tell(said("paper.not_data")), _NOT_DATA_IN, bold=True)
    parts: list[Ink] = [not_data]
    left = not_data.width_in
    room_in = length_in - left - 0.05
    for name, share in _BLANKS:
        words = Text((left + 2.0 * _PAD_IN, -_SIGN_IN + 0.05), tell(said(f"block.{name}")), _NOT_DATA_IN)
        end = left + share * room_in
        parts += (
            words,
            Line(((words.box().right + 0.04, -_SIGN_IN + 0.03), (end, -_SIGN_IN + 0.03)), Layer.TEXT),
        )
        left = end
    return Block(tuple(parts), length_in, _SIGN_IN)
