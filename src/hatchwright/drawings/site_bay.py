"""The bay as a survey found it: rows and edges as they run, corners, what lies behind, and the tapes to the center."""

from __future__ import annotations

import math
from collections.abc import Iterator

from msgspec import Struct

from hatchwright.drawings.boxes import Box
from hatchwright.drawings.ink import Anchor, Circle, Ink, Layer, Line, Point, Style, Text
from hatchwright.drawings.keep_out import hatched
from hatchwright.drawings.label_places import spread
from hatchwright.drawings.marks import arrowhead, cross
from hatchwright.drawings.page_frame import Bounds, PageFrame, rectangle
from hatchwright.drawings.scale import Scale
from hatchwright.drawings.site_marks import (
    LABEL_ROOM_IN,
    NAME_IN,
    beside,
    broken,
    fitted_name,
    numbered,
    strokes,
)
from hatchwright.job.frame import Frame
from hatchwright.job.site import CORNERS
from hatchwright.layout.site.center import Center, Tape
from hatchwright.layout.site.landmarks import Landmark
from hatchwright.metrology.routes import Place
from hatchwright.said import Value, inch, missing, said
from hatchwright.units import Unit
from hatchwright.words.tell import tell

_FIGURE_IN = 0.105
_AROUND_RATIO = 0.06
_CROSS_IN = 0.26


class SiteBay(Struct, frozen=True):
    """One reading of a survey, drawn true, as it is seen from outside.

    Args:
        frame: of the reading; the other reading of a sketch has an axis turned.
        room_in: to be filled, across and up [in].
        has_tapes: whether the tapes to the center are drawn.
    """

    center: Center
    frame: Frame
    unit: Unit
    room_in: tuple[float, float]
    has_tapes: bool = True

    def ink(self) -> Iterator[Ink]:
        """All of it, from the corner of the origin."""
        yield from self._hazards()
        yield from self._edges()
        yield from self._rows()
        yield from self._corners()
        yield from self._names()
        yield from self._borescope()
        if self.center.best is not None:
            yield from self._center(self.center.best.place)
        yield from self._arrows()

    @property
    def bounds(self) -> Bounds:
        """What is shown: all landmarks, corners and things behind, and a little around [in]."""
        xs, ys = [0.0], [0.0]
        for line in self.center.lines:
            for reading in line.readings:
                ends = (reading.first, *([reading.second] if reading.second else []))
                (xs if line.axis == 0 else ys).extend(end.value for end in ends)
        for x, y in self.center.corners or ():
            xs.append(x.value)
            ys.append(y.value)
        if self.center.best:
            xs.append(self.center.best.at_in[0])
            ys.append(self.center.best.at_in[1])
        for one in self.center.site.hazards:
            x_from, y_from, x_to, y_to = one.bounds_in
            xs += [x for x in (x_from, x_to) if math.isfinite(x)]
            ys += [y for y in (y_from, y_to) if math.isfinite(y)]
        around = _AROUND_RATIO * max(max(xs) - min(xs), max(ys) - min(ys), 1.0)
        return min(xs) - around, min(ys) - around, max(xs) + around, max(ys) + around

    @property
    def page(self) -> PageFrame:
        """Where it lies on paper, as large as the room allows beside its names."""
        x_from, y_from, x_to, y_to = self.bounds
        sizes = (x_to - x_from, y_to - y_from)
        across, up = sizes if self.frame.x_on_page[0] else sizes[::-1]
        room = [max(1.0, side - LABEL_ROOM_IN) for side in self.room_in]
        return PageFrame(self.frame, scale=Scale(min(room[0] / across, room[1] / up), ""))

    @property
    def box(self) -> Box:
        """What is shown, on the page, its names left out [in]."""
        return self.page.box(self.bounds)

    def _along(self, line: Landmark) -> tuple[Point, Point]:
        """A landmark from end to end of what is shown, on the page."""
        low, high = self.bounds[1 - line.axis], self.bounds[3 - line.axis]
        ends = [(line.at(along).value, along) for along in (low, high)]
        start, end = (self.page.point(*(end if line.axis == 0 else end[::-1])) for end in ends)
        return start, end

    def _rows(self) -> Iterator[Ink]:
        for line in self.center.lines:
            if not line.bound:
                yield Line(self._along(line), Layer.STRUCTURE, Style.CENTER, "row", line.readings[0].field)

    def _edges(self) -> Iterator[Ink]:
        """The edge as it runs, and short strokes on the side on which the flange lies."""
        for line in self.center.lines:
            if not line.bound:
                continue
            start, end = self._along(line)
            yield Line((start, end), Layer.STRUCTURE, Style.PHANTOM, "flange", line.readings[0].field)
            way = -1.0 if line.bound.endswith("to") else 1.0
            off = self.page.point(*((way, 0.0) if line.axis == 0 else (0.0, way)))
            yield from strokes(start, end, (off[0] / math.hypot(*off), off[1] / math.hypot(*off)))

    def _corners(self) -> Iterator[Ink]:
        """The quadrilateral that its lengths give, adjusted to fit all of them."""
        corners = self.center.corners
        if corners is None:
            return
        at = [self.page.point(x.value, y.value) for x, y in corners]
        for start, end in zip(at, (*at[1:], at[0]), strict=True):
            yield Line((start, end), Layer.STRUCTURE, Style.FINISHED)
        middle = sum(x for x, _ in at) / 4.0, sum(y for _, y in at) / 4.0
        for letter, (x, y) in zip(CORNERS, at, strict=True):
            right, up = math.copysign(0.13, middle[0] - x), math.copysign(0.13, middle[1] - y)
            yield Text((x + right, y + up - 0.06), letter, 0.13, bold=True, anchor=Anchor.MIDDLE)

    def _names(self) -> Iterator[Ink]:
        """Of upright lines above them, turned; of level ones to the right."""
        box, found = self.box, [(line, *self._along(line)) for line in self.center.lines]
        upright = [one for one in found if abs(one[1][0] - one[2][0]) < abs(one[1][1] - one[2][1])]
        level = [one for one in found if one not in upright]
        tops = [max(one[1], one[2], key=lambda end: end[1]) for one in upright]
        for (line, *_), top, x in zip(
            upright, tops, spread([at for at, _ in tops], 1.5 * NAME_IN), strict=True
        ):
            at = x + 0.5 * NAME_IN, box.top + 0.14
            yield Line((top, (x, box.top + 0.1)), Layer.DIMENSION)
            name, size_in = fitted_name(line.name)
            yield Text(at, name, size_in, angle_deg=90.0, part=line.readings[0].field, whole=line.name)
        rights = [max(one[1], one[2], key=lambda end: end[0]) for one in level]
        for (line, *_), right, y in zip(
            level, rights, spread([at for _, at in rights], 1.6 * NAME_IN), strict=True
        ):
            yield Line((right, (box.right + 0.1, y)), Layer.DIMENSION)
            at = box.right + 0.14, y - 0.5 * NAME_IN
            name, size_in = fitted_name(line.name)
            yield Text(at, name, size_in, part=line.readings[0].field, whole=line.name)

    def _hazards(self) -> Iterator[Ink]:
        """Hatched, each with its number in a ring; without a size along one way it is a line."""
        shown = self.bounds
        for number, one in enumerate(self.center.site.hazards, start=1):
            low = [max(a, b) for a, b in zip(one.bounds_in[:2], shown[:2], strict=True)]
            high = [min(a, b) for a, b in zip(one.bounds_in[2:], shown[2:], strict=True)]
            if low[0] > high[0] or low[1] > high[1]:
                continue
            box, part = self.page.box((low[0], low[1], high[0], high[1])), f"site.hazards.{number - 1}"
            if box.width_in and box.height_in:
                yield from hatched(rectangle(box), spacing_in=0.14, css="keep-out", part=part)
            else:
                ends = (box.left, box.bottom), (box.right, box.top)
                yield Line(ends, Layer.KEEP_OUT, Style.CENTER, "keep-out", part)
            yield from numbered(beside(box), str(number))

    def _borescope(self) -> Iterator[Ink]:
        hole = self.center.site.borescope
        if hole:
            at = self.page.point(hole.center[0].inch, hole.center[1].inch)
            size_in = max(self.page.length(hole.diameter.inch), 0.05)
            yield Circle(at, size_in, Layer.STRUCTURE, Style.FINISHED, part="site.borescope")

    def _center(self, place: Place) -> Iterator[Ink]:
        at = self.page.point(place[0].value, place[1].value)
        yield from cross(at, _CROSS_IN)
        yield Circle(at, 0.5 * _CROSS_IN, Layer.DIMENSION, Style.DIMENSION)
        if not self.has_tapes:
            return
        for tape in self.center.tapes:
            yield from self._tape(tape, place, at)

    def _tape(self, tape: Tape, place: Place, at: Point) -> Iterator[Ink]:
        """From the center square to a landmark, or straight to a corner, its length beside it."""
        foot = self._foot(tape, place)
        run = foot[0] - at[0], foot[1] - at[1]
        length = math.hypot(*run)
        if length < _CROSS_IN:
            return
        way = run[0] / length, run[1] / length
        near = at[0] + 0.5 * _CROSS_IN * way[0], at[1] + 0.5 * _CROSS_IN * way[1]
        share = 0.55 if tape.axis is not None else 0.62
        middle = at[0] + share * run[0], at[1] + share * run[1] - 0.5 * _FIGURE_IN
        words = tell(said("site_view.tape", length=inch(tape.expected.value)), self.unit)
        figure = Text(middle, words, _FIGURE_IN, bold=True, anchor=Anchor.MIDDLE)
        style = Style.DIMENSION if tape.axis is not None else Style.HIDDEN
        yield from broken(near, foot, figure, style)
        yield arrowhead(foot, way, 0.13)

    def _foot(self, tape: Tape, place: Place) -> Point:
        x, y = place[0].value, place[1].value
        if tape.axis is None:
            assert self.center.corners is not None  # else no tape is from a corner
            corner = self.center.corners[CORNERS.index(tape.landmark)]
            return self.page.point(corner[0].value, corner[1].value)
        own, along = (x, y) if tape.axis == 0 else (y, x)
        at = [
            line.at(along).value
            for line in self.center.lines
            if line.name == tape.landmark and line.axis == tape.axis
        ]
        to = min(at, key=lambda one: abs(abs(one - own) - tape.expected.value))  # of both edges of a flange
        return self.page.point(*((to, y) if tape.axis == 0 else (x, to)))

    def _arrows(self) -> Iterator[Ink]:
        """Where the aircraft's directions point, below the lower left corner."""
        at = self.box.left + 0.55, self.box.bottom - 0.95
        yield from self.page.arrows(at, length_in=0.5, height_in=0.11)


def place_said(place: Place) -> tuple[Value, Value]:
    """X and Y of a place, each with its u, which is rounded up."""
    x, y = (said("site_view.with_u", value=inch(one.value), u=missing(one.u)) for one in place)
    return x, y
