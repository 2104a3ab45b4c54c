"""The sketch of a survey sheet: a bay with its four corners, and a box on each side and diagonal for what is read."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from hatchwright.drawings.boxes import Box
from hatchwright.drawings.ink import Anchor, Ink, Layer, Line, Point, Style, Text
from hatchwright.drawings.marks import arrowhead, cross
from hatchwright.drawings.sheet import Sheet
from hatchwright.drawings.title_block import TitleBlock
from hatchwright.said import said
from hatchwright.words.tell import tell

CORNERS = ("A", "B", "C", "D")
"""Corners of a bay, walked round from the origin: A to B along X, D to C likewise."""

SIDES = ("AB", "BC", "CD", "DA")
DIAGONALS = ("AC", "BD")

_AT: Mapping[str, Point] = {"A": (0.0, 0.0), "B": (2.5, 0.0), "C": (2.45, 2.15), "D": (0.04, 2.2)}
_BOX_IN = (0.62, 0.27)
_ARROW_BOX_IN = (0.8, 0.27)
_LETTER_IN = 0.13
_FIGURE_IN = 0.11
_OUT_IN = 0.13


def site_sketch(readings: Mapping[str, str], ways: tuple[str, str], origin: str) -> Sheet:
    """Draw the bay of a survey sheet, not to scale and a little out of square, as bays are.

    Args:
        readings: what a side or diagonal measured, by its two letters; where there is none, its box stays empty.
        ways: directions of X and Y such as OUTBD; "" leaves a box to write one into.
        origin: what meets at corner A; "" where it isn't known.
    """
    entities = (*_outline(), *_boxes(readings), *_arrows(ways))
    if origin:
        entities = (*entities, Text((0.3, -0.28), origin, 0.085))
    block = TitleBlock(job="", aircraft="", side="", view="", revision="", date="")
    return Sheet(title=tell(said("site_paper.sketch")), title_block=block, entities=entities)


def _outline() -> Iterator[Ink]:
    """Sides and diagonals as far as their boxes, and the corners."""
    for name in (*SIDES, *DIAGONALS):
        start, end = _AT[name[0]], _AT[name[1]]
        style = Style.CENTER if name in SIDES else Style.DIMENSION
        enter, leave = _box_of(name).clipped(start, end)
        yield Line((start, _between(start, end, enter)), Layer.STRUCTURE, style)
        yield Line((_between(start, end, leave), end), Layer.STRUCTURE, style)
    for letter, (x, y) in _AT.items():
        yield from cross((x, y), 0.16)
        right, up = (1.0 if x > 1.0 else -1.0), (1.0 if y > 1.0 else -1.0)
        at = x + right * _OUT_IN, y + up * _OUT_IN - 0.5 * _LETTER_IN
        yield Text(at, letter, _LETTER_IN, bold=True, anchor=Anchor.MIDDLE)


def _boxes(readings: Mapping[str, str]) -> Iterator[Ink]:
    for name in (*SIDES, *DIAGONALS):
        box = _box_of(name)
        yield from _box(box, readings.get(name, ""))
        yield Text((box.middle[0], box.top + 0.03), name, 0.1, anchor=Anchor.MIDDLE)


def _box_of(name: str) -> Box:
    """That of a side in its middle; those of the diagonals where the two don't cross."""
    return _round(_between(_AT[name[0]], _AT[name[1]], 0.5 if name in SIDES else 0.72), _BOX_IN)


def _round(middle: Point, size_in: tuple[float, float]) -> Box:
    half_x, half_y = 0.5 * size_in[0], 0.5 * size_in[1]
    return Box(middle[0] - half_x, middle[1] - half_y, middle[0] + half_x, middle[1] + half_y)


def _between(start: Point, end: Point, share: float) -> Point:
    return start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])


def _box(box: Box, words: str) -> Iterator[Ink]:
    yield Line(box.corners, Layer.TEXT)
    if words:
        at = box.middle[0], box.middle[1] - 0.5 * _FIGURE_IN
        yield Text(at, words, _FIGURE_IN, bold=True, anchor=Anchor.MIDDLE)


def _arrows(ways: tuple[str, str]) -> Iterator[Ink]:
    """X and Y from below A, each with the direction it points in, or a box for it."""
    foot = -0.8, -0.62
    for axis, way, along in zip("XY", ways, ((1.0, 0.0), (0.0, 1.0)), strict=True):
        tip = foot[0] + 0.75 * along[0], foot[1] + 0.75 * along[1]
        yield Line((foot, tip), Layer.DIMENSION, Style.FINISHED)
        yield arrowhead(tip, along, 0.16)
        named = (tip[0] + 0.1, tip[1] - 0.06) if along[0] else (tip[0], tip[1] + 0.05)
        if way:
            yield Text(named, f"{axis} {way}", 0.1, bold=True, anchor=_anchor(along))
            continue
        yield Text(named, axis, _LETTER_IN, bold=True, anchor=_anchor(along))
        middle = (named[0] + 0.62, tip[1]) if along[0] else (tip[0] + 0.16, named[1] + 0.36)
        yield from _box(_round(middle, _ARROW_BOX_IN), "")


def _anchor(along: Point) -> Anchor:
    return Anchor.START if along[0] else Anchor.MIDDLE
