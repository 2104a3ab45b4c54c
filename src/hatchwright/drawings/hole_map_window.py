"""What a hole map shows of the bay, and the two datums that every hole of it is measured from.

A datum too far off to be shown stands beside the parts on a broken line, with its distance in figures.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from typing import Literal

import numpy as np
from msgspec import Struct

from hatchwright.drawings.bay_structure import drawn_bounds, origin_is_near
from hatchwright.drawings.boxes import Box, Floats
from hatchwright.drawings.ink import Anchor, Circle, Ink, Layer, Line, Point, Solid, Style, Text
from hatchwright.drawings.marks import HEAD_IN, arrow, arrowhead, cross, stepped
from hatchwright.drawings.page_frame import Bounds, PageFrame
from hatchwright.layout.layout import Layout
from hatchwright.shapes.profile import Loop
from hatchwright.units import figure

Extent = Literal["bay", "origin", "parts"]
"""How much is shown: all of the bay that is near, the parts with the origin, or the parts alone."""

LETTER_IN = 0.1
"""Height of a capital on a hole map, a little over 9 point [in]."""

_AROUND_IN = 0.45
_OFF_IN = 0.8
_AXES_IN = (0.55, 0.7, 0.45, 0.85, 1.0, 1.2, 1.4, 0.35)
_STEP_IN = 0.05
_ZIGZAG_IN = 0.07


class MapWindow(Struct, frozen=True):
    """The part of a bay that a map shows.

    Args:
        shown: x_from, y_from, x_to, y_to of it in the job's frame [in].
        parts: the box round all parts and holes in the job's frame [in].
        datum_in: where the line X 0 and the line Y 0 are drawn, 0 where they are where they belong [in].
    """

    page: PageFrame
    shown: Bounds
    parts: Bounds
    datum_in: tuple[float, float]

    @property
    def box(self) -> Box:
        """It on the page [in]."""
        return self.page.box(self.shown)

    @property
    def ring(self) -> Box:
        """The box round all parts and holes on the page [in]."""
        return self.page.box(self.parts)

    @property
    def origin(self) -> Point:
        """Where the two datums cross on the page [in]."""
        return self.page.point(*self.datum_in)

    def is_broken(self, axis: int) -> bool:
        """Whether the datum of an axis is not where it belongs."""
        return self.datum_in[axis] != 0.0


def map_window(layout: Layout, page: PageFrame, extent: Extent) -> MapWindow | None:
    """The window of one extent; None for one with an origin that is not near."""
    if extent == "origin" and not origin_is_near(layout):
        return None
    parts = _parts_bounds(layout)
    around = _AROUND_IN / page.scale.ratio
    low, high = [parts[0] - around, parts[1] - around], [parts[2] + around, parts[3] + around]
    if extent != "parts":
        wanted = drawn_bounds(layout) if extent == "bay" else (0.0, 0.0, 0.0, 0.0)
        edge = 0.0 if extent == "bay" else around
        low = [min(low[axis], wanted[axis] - edge) for axis in (0, 1)]
        high = [max(high[axis], wanted[axis + 2] + edge) for axis in (0, 1)]
    datum = [0.0, 0.0]
    for axis in (0, 1):
        if not low[axis] <= 0.0 <= high[axis]:
            off = _OFF_IN / page.scale.ratio
            is_below = parts[axis] > 0.0
            datum[axis] = parts[axis] - off if is_below else parts[axis + 2] + off
            low[axis], high[axis] = (
                min(low[axis], datum[axis] - 0.5 * around),
                max(high[axis], datum[axis] + 0.5 * around),
            )
    return MapWindow(page, (low[0], low[1], high[0], high[1]), parts, (datum[0], datum[1]))


def _parts_bounds(layout: Layout) -> Bounds:
    boxes = [edge.loop.bounds for part in layout.parts for edge in part.edges]
    boxes += [(*hole.place, *hole.place) for hole in layout.holes]
    x_from, y_from, x_to, y_to = zip(*boxes, strict=True)
    return min(x_from), min(y_from), max(x_to), max(y_to)


def datum_lines(window: MapWindow) -> Iterator[Line]:
    """The lines X 0 and Y 0 through all of the window."""
    (x, y), box = window.origin, window.box
    upright, level = ((x, box.bottom), (x, box.top)), ((box.left, y), (box.right, y))
    yield Line(upright, Layer.STRUCTURE, Style.CENTER, "datum", "frame")
    yield Line(level, Layer.STRUCTURE, Style.CENTER, "datum", "frame")


def origin_ink(window: MapWindow, edges: Iterable[Loop], holes: Iterable[Point]) -> Iterator[Ink]:
    """The origin with both axes and their direction words, which lie on no edge and no hole where that can be."""
    at = window.origin
    yield Circle(at, 0.16, Layer.DIMENSION, Style.FINISHED, css="origin", part="frame")
    yield from cross(at, 0.3, css="origin", part="frame")
    points = [np.array([*holes]).reshape(-1, 2), *(_along(loop) for loop in edges)]
    drawn = np.vstack(points)
    for words, angle_deg in window.page.axes_deg():
        arrows = [arrow(at, angle_deg, words, length_in, LETTER_IN) for length_in in _AXES_IN]
        yield from min(arrows, key=lambda ink: _hidden(ink, drawn))


def _along(loop: Loop) -> Floats:
    parts = loop.working_form()
    points = parts.at(*parts.steps(_STEP_IN))
    return np.column_stack([points.real, points.imag])


def _hidden(ink: Iterable[Ink], drawn: Floats) -> int:
    """How many points that are drawn the words of an arrow would hide."""
    boxes = (part.box().grown(0.12) for part in ink if isinstance(part, Text))
    hits = (((drawn >= box[:2]) & (drawn <= box[2:])).all(axis=1).sum() for box in boxes)
    return int(sum(hits))


def broken_distances(window: MapWindow, layout: Layout) -> Iterator[Ink]:
    """From each datum that is not where it belongs how far it is to the nearest edge of the parts."""
    for axis in (0, 1):
        if window.is_broken(axis):
            yield from _broken_distance(window, layout, axis)


def _broken_distance(window: MapWindow, layout: Layout, axis: int) -> Iterator[Ink]:
    """A broken line with its heads on the datum and on the nearest edge, beside the middle of the parts."""
    parts, datum = window.parts, window.datum_in[axis]
    nearest = parts[axis] if datum < parts[axis] else parts[axis + 2]
    beside = 0.5 * (parts[1 - axis] + parts[3 - axis])
    ends = [(datum, beside), (nearest, beside)]
    start, end = (window.page.point(*(at if axis == 0 else at[::-1])) for at in ends)
    length = math.dist(start, end)
    along = (end[0] - start[0]) / length, (end[1] - start[1]) / length
    across = -along[1], along[0]
    middle = 0.5 * length
    neck, nape = stepped(start, along, middle - _ZIGZAG_IN), stepped(start, along, middle + _ZIGZAG_IN)
    teeth = (
        stepped(stepped(start, along, middle - 0.4 * _ZIGZAG_IN), across, 1.3 * _ZIGZAG_IN),
        stepped(stepped(start, along, middle + 0.4 * _ZIGZAG_IN), across, -1.3 * _ZIGZAG_IN),
    )
    yield Line((start, neck, *teeth, nape, end), Layer.DIMENSION, css="broken", part="frame")
    yield arrowhead(start, (-along[0], -along[1]), HEAD_IN, "broken")
    yield arrowhead(end, along, HEAD_IN, "broken")
    yield _figure(figure(abs(nearest), layout.job.unit), start, end, is_level=abs(along[0]) > 0.5)


def _figure(words: str, start: Point, end: Point, *, is_level: bool) -> Text:
    """The figure above a level line, to the right of an upright one."""
    x, y = 0.5 * (start[0] + end[0]), 0.5 * (start[1] + end[1])
    if is_level:
        return Text((x, y + 0.14), words, LETTER_IN, anchor=Anchor.MIDDLE, css="broken", span=(start, end))
    return Text((x + 0.14, y - 0.5 * LETTER_IN), words, LETTER_IN, css="broken", span=(start, end))


def boxes_of(ink: Iterable[Ink]) -> list[Box]:
    """The boxes round words and arrowheads, and round lines that are short, which nothing else may lie on."""
    return [part.box() for part in ink if isinstance(part, Text | Solid | Circle) or part.css == "broken"]
