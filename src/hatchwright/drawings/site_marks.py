"""Marks on the drawing of a survey: names, numbers in rings, strokes on a flange, figures in a break of their line."""

from __future__ import annotations

import math
from collections.abc import Iterator

from hatchwright.drawings.boxes import Box
from hatchwright.drawings.ink import Anchor, Circle, Ink, Layer, Line, Point, Style, Text
from hatchwright.drawings.lettering import fitted

NAME_IN = 0.095
"""Height of the names of rows, edges and things behind the skin [in]."""

LABEL_ROOM_IN = 1.15
"""Room beside and above a bay for those names [in]."""

_NUMBER_IN = 0.2
_STROKE_IN, _STROKE_APART_IN = 0.1, 0.3


def fitted_name(name: str) -> tuple[str, float]:
    """The name of a row, edge or thing as far as there is room for it, and its height [in]."""
    return fitted(name, height_in=NAME_IN, width_in=LABEL_ROOM_IN - 0.15, least_height_in=0.07)


def strokes(start: Point, end: Point, aside: Point) -> Iterator[Ink]:
    """Short slanting strokes along a line, to the one side of it."""
    run = end[0] - start[0], end[1] - start[1]
    length = math.hypot(*run)
    for k in range(int(length / _STROKE_APART_IN)):
        share = (k + 0.5) * _STROKE_APART_IN / length
        foot = start[0] + share * run[0], start[1] + share * run[1]
        x, y = (_STROKE_IN * (aside[axis] + 0.7 * run[axis] / length) for axis in (0, 1))
        yield Line((foot, (foot[0] + x, foot[1] + y)), Layer.STRUCTURE)


def broken(start: Point, end: Point, figure: Text, style: Style) -> Iterator[Ink]:
    """A line with a figure in a break of it."""
    box = figure.box().grown(0.03)
    enter, leave = box.clipped(start, end)
    ends = [
        (start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1]))
        for share in (enter, leave)
    ]
    yield Line((start, ends[0]), Layer.DIMENSION, style)
    yield Line((ends[1], end), Layer.DIMENSION, style)
    yield figure


def numbered(at: Point, number: str) -> Iterator[Ink]:
    """A number in a ring."""
    yield Circle(at, _NUMBER_IN, Layer.DIMENSION, Style.DIMENSION)
    yield Text((at[0], at[1] - 0.5 * NAME_IN), number, NAME_IN, bold=True, anchor=Anchor.MIDDLE)


def beside(box: Box) -> Point:
    """Where the number of a thing stands: in it away from its ends, where it is wide enough, else beside it."""
    x, y = box.middle
    off = 0.5 * _NUMBER_IN + 0.05
    if box.height_in > box.width_in:
        return (x if box.width_in > _NUMBER_IN else box.left - off), box.bottom + 0.25 * box.height_in
    return box.left + 0.25 * box.width_in, (y if box.height_in > _NUMBER_IN else box.top + off)
