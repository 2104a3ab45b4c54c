"""The sketch of a survey sheet: a bay with its four corners, and a box on each side and diagonal for what is read."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from msgspec import Struct

from hatchwright.drawings.boxes import Box
from hatchwright.drawings.ink import Anchor, Ink, Layer, Line, Point, Style, Text
from hatchwright.drawings.marks import arrowhead, cross
from hatchwright.drawings.sheet import Sheet
from hatchwright.drawings.title_block import TitleBlock
from hatchwright.said import said
from hatchwright.words.tell import tell

CORNERS = ("A", "B", "C", "D")
"""Corners of a bay, walked round from the origin: A to B along X, C to D back."""

SIDES = ("AB", "BC", "CD", "DA")
DIAGONALS = ("AC", "BD")

_AT: Mapping[str, Point] = {"A": (0.0, 0.0), "B": (2.5, 0.0), "C": (2.45, 2.15), "D": (0.04, 2.2)}
_FOOT: Point = (-0.8, -0.62)
_ARROW_IN = 0.75
_BOX_IN = (0.62, 0.27)
_WAY_BOX_IN = (0.8, 0.27)
_LETTER_IN = 0.13
_FIGURE_IN = 0.11
_OUT_IN = 0.13
_SHARE_ON_DIAGONAL = 0.72
"""Where the boxes of the two diagonals touch neither each other nor a side [-]."""


class SiteSketch(Struct, frozen=True):
    """What is drawn on the sketch.

    Args:
        readings: what a side or diagonal measured, by its two letters; where there is none, its box stays empty.
        ways: directions of X and Y such as OUTBD; "" leaves a box to write one into.
        axes: where X and Y point on the page [-].
    """

    readings: Mapping[str, str] = {}
    ways: tuple[str, str] = ("", "")
    axes: tuple[Point, Point] = ((1.0, 0.0), (0.0, 1.0))

    def sheet(self) -> Sheet:
        """The bay, not to scale and a little out of square, as bays are."""
        block = TitleBlock(job="", aircraft="", side="", view="", revision="", date="")
        entities = (*self._outline(), *self._boxes(), *self._arrows())
        return Sheet(title=tell(said("site_paper.sketch")), title_block=block, entities=entities)

    def _to(self, x: float, y: float) -> Point:
        (a, c), (b, d) = self.axes
        return a * x + b * y, c * x + d * y

    def _ends(self, name: str) -> tuple[Point, Point]:
        return self._to(*_AT[name[0]]), self._to(*_AT[name[1]])

    def _outline(self) -> Iterator[Ink]:
        """Sides and diagonals as far as their boxes, and the corners."""
        for name in (*SIDES, *DIAGONALS):
            start, end = self._ends(name)
            style = Style.CENTER if name in SIDES else Style.DIMENSION
            enter, leave = self._box_of(name).clipped(start, end)
            yield Line((start, _between(start, end, enter)), Layer.STRUCTURE, style)
            yield Line((_between(start, end, leave), end), Layer.STRUCTURE, style)
        middle = self._to(1.25, 1.1)
        for letter in CORNERS:
            x, y = self._to(*_AT[letter])
            yield from cross((x, y), 0.16)
            right, up = (1.0 if x > middle[0] else -1.0), (1.0 if y > middle[1] else -1.0)
            at = x + right * _OUT_IN, y + up * _OUT_IN - 0.5 * _LETTER_IN
            yield Text(at, letter, _LETTER_IN, bold=True, anchor=Anchor.MIDDLE)

    def _boxes(self) -> Iterator[Ink]:
        for name in (*SIDES, *DIAGONALS):
            box = self._box_of(name)
            yield from _drawn(box, self.readings.get(name, ""))
            yield Text((box.middle[0], box.top + 0.03), name, 0.1, anchor=Anchor.MIDDLE)

    def _box_of(self, name: str) -> Box:
        share = 0.5 if name in SIDES else _SHARE_ON_DIAGONAL
        return _round(_between(*self._ends(name), share), _BOX_IN)

    def _arrows(self) -> Iterator[Ink]:
        """X and Y outside corner A, each with the direction it points in, or a box for it."""
        foot = self._to(*_FOOT)
        for axis, way, (right, up) in zip("XY", self.ways, self.axes, strict=True):
            tip = foot[0] + _ARROW_IN * right, foot[1] + _ARROW_IN * up
            yield Line((foot, tip), Layer.DIMENSION, Style.FINISHED)
            yield arrowhead(tip, (right, up), 0.16)
            name = Text((0.0, 0.0), f"{axis} {way}".strip(), _LETTER_IN, bold=True, anchor=Anchor.MIDDLE)
            off = 0.1 + (0.5 * name.width_in if right else 0.5 * _LETTER_IN)
            middle = tip[0] + off * right, tip[1] + off * up
            yield Text((middle[0], middle[1] - 0.5 * _LETTER_IN), name.words, _LETTER_IN, True, Anchor.MIDDLE)
            if not way:
                off = 0.1 + (0.5 * (name.width_in + _WAY_BOX_IN[0]) if right else 0.5 * _WAY_BOX_IN[1] + 0.07)
                beyond = middle[0] + off * right, middle[1] + off * up
                yield from _drawn(_round(beyond, _WAY_BOX_IN), "")


def _round(middle: Point, size_in: tuple[float, float]) -> Box:
    half_x, half_y = 0.5 * size_in[0], 0.5 * size_in[1]
    return Box(middle[0] - half_x, middle[1] - half_y, middle[0] + half_x, middle[1] + half_y)


def _between(start: Point, end: Point, share: float) -> Point:
    return start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])


def _drawn(box: Box, words: str) -> Iterator[Ink]:
    yield Line(box.corners, Layer.TEXT)
    if words:
        at = box.middle[0], box.middle[1] - 0.5 * _FIGURE_IN
        yield Text(at, words, _FIGURE_IN, bold=True, anchor=Anchor.MIDDLE)
