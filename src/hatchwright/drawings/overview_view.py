"""The view of the overview drawing: what is seen from outside, at a scale, with its dimensions from the two datums.

Only seen edges are dimensioned: a doubler behind the skin has its sizes on the sheet of its own.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import chain, pairwise
from typing import Literal

from msgspec import Struct

from hatchwright.drawings.bay_structure import bands, existing_fasteners, origin_is_near, parts_bounds
from hatchwright.drawings.boxes import Box
from hatchwright.drawings.damage import damage
from hatchwright.drawings.hole_marks import hole_circles
from hatchwright.drawings.ink import (
    Anchor,
    Circle,
    Ink,
    Layer,
    Line,
    Outline,
    Point,
    Style,
    Text,
    box_of,
    moved,
    outlines,
)
from hatchwright.drawings.ink_field import InkField
from hatchwright.drawings.lettering import fitted
from hatchwright.drawings.marks import HEAD_IN, arrow, arrowhead, call_out, cross, stepped
from hatchwright.drawings.overview_corner import NAME, corner_detail, radius_words
from hatchwright.drawings.overview_dimensions import Dimensioning, Measured
from hatchwright.drawings.overview_numbers import number_labels, numbered_holes
from hatchwright.drawings.page_frame import Bounds, PageFrame
from hatchwright.drawings.scale import Scale
from hatchwright.drawings.short_holes import short_holes
from hatchwright.drawings.stray_marks import stray_marks
from hatchwright.finding import Finding
from hatchwright.job.drawing import Standard
from hatchwright.layout.layout import Layout
from hatchwright.layout.sizes import is_round
from hatchwright.said import inch, said
from hatchwright.shapes.corners import Corner
from hatchwright.shapes.profile import Loop
from hatchwright.words.tell import tell

_AROUND_IN = 0.25
"""What is shown of the bay round the new parts, on paper [in]."""

_NAME_IN, _LEAST_NAME_IN, _NAME_ROOM_IN = 0.0911, 0.07, 1.9
"""Height of the names of the structure, 9 point, the least of a long one, and room for it [in]."""

_STEP_IN = 0.2
_CROSS_IN = 0.1
_RING_IN = 0.2
_CENTER_IN = 0.3
_SECTION_IN = 0.2
_SAME_IN = 1e-6
_ONE_LINE_IN = 0.05


class Lettering(Struct, frozen=True):
    """Heights of capitals [in]: of figures and notes, of hole numbers, of tables."""

    text_in: float
    number_in: float
    table_in: float


class OverviewView(Struct, frozen=True):
    """What the view is drawn of, and how.

    Args:
        findings: judged on the layout; they name the holes whose numbers are lettered in any case.
    """

    layout: Layout
    findings: tuple[Finding, ...]
    standard: Standard
    lettering: Lettering

    def ink(self, scale: Scale) -> tuple[Ink, ...]:
        """Everything of the view at a scale, the origin of the job at that of the ink."""
        page = PageFrame(self.layout.frame, scale=scale)
        shown = self._shown(page)
        drawn = [*self._bay(page), *self._parts(page), *self._dimensions(page, shown)]
        drawn += self._origin(page, shown, drawn)
        drawn += self._section_mark(page, shown)
        drawn += self._detail_mark(page, drawn)
        drawn += self._names(page, shown, drawn)
        drawn += self._round_size(page, drawn)
        holes = {hole.number: hole for hole in numbered_holes(self.layout, self.findings, scale)}
        spots = [
            (number, page.point(*hole.place), self._clear_in(number, page)) for number, hole in holes.items()
        ]
        numbers = number_labels(spots, drawn, height_in=self.lettering.number_in)
        ink = (*drawn, *numbers)
        return *ink, *self._directions(page, shown)

    @property
    def _short(self) -> frozenset[int]:
        short = short_holes(self.findings, self.layout.job.unit)
        return frozenset(number for one in short for number in one.holes)

    def _clear_in(self, number: int, page: PageFrame) -> float:
        return 0.5 * (_RING_IN if number in self._short else _CROSS_IN)

    @property
    def _whole(self) -> Bounds:
        """The new parts, with the origin where that is near [in]."""
        x_from, y_from, x_to, y_to = parts_bounds(self.layout)
        if not origin_is_near(self.layout):
            return x_from, y_from, x_to, y_to
        return min(x_from, 0.0), min(y_from, 0.0), max(x_to, 0.0), max(y_to, 0.0)

    @property
    def size_in(self) -> tuple[float, float]:
        """What it shows at the least, at full size as it lies on the page [in]."""
        box = PageFrame(self.layout.frame).box(self._whole)
        return box.width_in, box.height_in

    def _shown(self, page: PageFrame) -> Box:
        """The part of the bay that is shown, on the page: the new parts, and the datums where they are near."""
        return page.box(self._whole).grown(_AROUND_IN)

    def _bay(self, page: PageFrame) -> Iterator[Ink]:
        """Rows, flanges, keep-outs and existing fasteners, without their names."""
        off = _AROUND_IN / page.scale.ratio
        x_from, y_from, x_to, y_to = self._whole
        bounds: Bounds = (x_from - off, y_from - off, x_to + off, y_to + off)
        yield from chain.from_iterable(band.ink() for band in bands(self.layout, page, bounds))
        yield from existing_fasteners(self.layout, page, bounds)

    def _names(self, page: PageFrame, shown: Box, drawn: Sequence[Ink]) -> Iterator[Ink]:
        """Names of what the bay has: of upright lines above the drawing, of level ones on them where that is free."""
        field = InkField(drawn)
        off = _AROUND_IN / page.scale.ratio
        x_from, y_from, x_to, y_to = self._whole
        for band in bands(self.layout, page, (x_from - off, y_from - off, x_to + off, y_to + off)):
            words, height = fitted(
                band.name, height_in=_NAME_IN, width_in=_NAME_ROOM_IN, least_height_in=_LEAST_NAME_IN
            )
            is_upright = band.box.height_in > band.box.width_in
            tried = (_above if is_upright else _beside)(band.box, shown, words, height)
            name = min(enumerate(tried), key=lambda one: (_hidden(field, one[1]), one[0]))[1]
            field.take(*name)
            yield from name

    def _parts(self, page: PageFrame) -> Iterator[Ink]:
        """Edges and holes; what is behind the skin hidden, a cover as a part that is taken off."""
        layout, doubler = self.layout, self.layout.job.doubler
        behind = Style.HIDDEN if doubler and doubler.face == "inside" else Style.FINISHED
        yield Outline(page.loop(layout.wanted), Layer.OPENING, Style.FINISHED, "opening-edge")
        drawn = {
            "doubler": (Layer.DOUBLER, behind),
            "cover": (Layer.COVER, Style.PHANTOM),
            "plug": (Layer.PLUG, Style.PHANTOM),
        }
        for part in layout.parts:
            if part.name in drawn:
                layer, style = drawn[part.name]
                seen = [edge.loop for edge in part.edges if not self._runs_into_opening(edge.loop, page)]
                yield from outlines(map(page.loop, seen), layer, style, part.name)
        yield from damage(layout, page)
        yield from hole_circles(layout, page, self._short, cross_in=_CROSS_IN, ring_in=_RING_IN)
        yield from stray_marks(layout, page, letter_in=self.lettering.number_in)
        yield from cross(page.point(*layout.center_in), _CENTER_IN)

    def _runs_into_opening(self, loop: Loop, page: PageFrame) -> bool:
        """Whether an edge lies so near to that of the opening that the two would be one line."""
        apart_in = (abs(a - b) for a, b in zip(loop.bounds, self.layout.wanted.bounds, strict=True))
        return page.length(max(apart_in)) < _ONE_LINE_IN

    def _seen_edges(self) -> Iterator[tuple[Loop, Corner | None]]:
        """The edges that are dimensioned: of the opening as drawn, and of a doubler that lies outside."""
        yield self.layout.wanted, self.layout.wanted_corner
        doubler = self.layout.job.doubler
        for part in self.layout.parts:
            if part.name == "doubler" and doubler and doubler.face == "outside":
                outer = part.edges[0]
                yield outer.loop, outer.corner

    def _dimensions(self, page: PageFrame, shown: Box) -> Iterator[Ink]:
        layout = self.layout
        clear = tuple(
            Box(*at, *at).grown(0.5 * _CROSS_IN + 0.02)
            for at in (page.point(*hole.place) for hole in layout.holes)
        )
        ways: tuple[tuple[int, Literal["x", "y"], float], ...] = (
            (0, "x", shown.bottom),
            (1, "y", shown.left),
        )
        for axis, along, edge in ways:
            style = Dimensioning(along, edge, self.standard, self.lettering.text_in, clear)
            measured = dict.fromkeys(
                chain.from_iterable(
                    self._measured(page, loop, corner, axis, edge) for loop, corner in self._seen_edges()
                )
            )
            yield from style.baseline(measured) if origin_is_near(layout) else style.ordinates(measured)

    def _measured(
        self, page: PageFrame, loop: Loop, corner: Corner | None, axis: int, edge: float
    ) -> Iterator[Measured]:
        """The two edges of an outline along one axis of the page, or the center of a circle.

        One that lies evenly about its datum is measured across, which tells both.
        """
        box = page.loop(loop).bounds
        low, high, foot = box[axis], box[axis + 2], box[1 - axis]
        middle, ratio = 0.5 * (low + high), page.scale.ratio
        if is_round(loop.bounds, corner):
            if abs(middle) > _SAME_IN:
                foot = 0.5 * (foot + box[3 - axis]) - 0.5 * _CENTER_IN
                yield Measured(middle, foot, self._figure(middle / ratio), 0.0, edge)
        elif abs(middle) < _SAME_IN:
            yield Measured(high, foot, self._figure((high - low) / ratio), low, foot)
        else:
            for at in (low, high):
                if abs(at) > _SAME_IN:
                    yield Measured(at, foot, self._figure(at / ratio), 0.0, edge)

    def _figure(self, length_in: float) -> str:
        return tell(said("size.drawn", size=inch(abs(length_in))), self.layout.job.unit)

    def _round_size(self, page: PageFrame, drawn: Sequence[Ink]) -> Iterator[Ink]:
        """The diameter of a round opening, on a leader that points at its center."""
        loop, corner = self.layout.wanted, self.layout.wanted_corner
        if not is_round(loop.bounds, corner):
            return
        across_in = loop.bounds[2] - loop.bounds[0]
        words = tell(said("size.round", across=inch(across_in)), self.layout.job.unit)
        yield from self._led(page.point(*self.layout.center_in), page.length(0.5 * across_in), words, drawn)

    def _led(self, at: Point, clear_in: float, words: str, drawn: Sequence[Ink]) -> tuple[Ink, ...]:
        """A leader to a circle with its words, where they hide least."""
        field = InkField(drawn)
        tried: list[tuple[int, int, tuple[Ink, ...]]] = []
        for reach in (0.4, 0.6, 0.9, 1.3, 1.8):
            for angle in (45.0, 135.0, 225.0, 315.0, 30.0, 150.0, 60.0, 120.0):
                along = math.cos(math.radians(angle)), math.sin(math.radians(angle))
                knee = at[0] + (clear_in + reach) * along[0], at[1] + (clear_in + reach) * along[1]
                ink = call_out(
                    at, knee, (words,), clear_in=clear_in, height_in=self.lettering.text_in, css="size"
                )
                text = next(part.box().grown(0.04) for part in ink if isinstance(part, Text))
                start = at[0] + (clear_in + 0.06) * along[0], at[1] + (clear_in + 0.06) * along[1]
                hidden = field.under(text) + 3 * field.along(start, knee)
                tried.append((hidden, len(tried), ink))
        return min(tried)[2]

    def _origin(self, page: PageFrame, shown: Box, drawn: Sequence[Ink]) -> Iterator[Ink]:
        """The two datums where they are near, with the axes named at the origin."""
        if not origin_is_near(self.layout):
            return
        for ends in (((0.0, shown.bottom), (0.0, shown.top)), ((shown.left, 0.0), (shown.right, 0.0))):
            yield Line(ends, Layer.STRUCTURE, Style.CENTER, "datum")
        yield Circle((0.0, 0.0), 0.12, Layer.DIMENSION, Style.FINISHED, css="origin")
        field = InkField(drawn)
        for words, angle in page.axes_deg():
            along = math.cos(math.radians(angle)), math.sin(math.radians(angle))
            shaft = arrow((0.0, 0.0), angle, "", 0.55)
            field.take(*shaft)
            yield from shaft
            height = self.lettering.number_in
            tried = [
                Text((x, y - 0.5 * height), words, height, bold=True, anchor=anchor, css="axis")
                for reach in (0.62, 0.75, 0.45, 0.9)
                for aside in (0.0, 0.12, -0.12, 0.2, -0.2)
                for x, y in ((reach * along[0] + aside * along[1], reach * along[1] + aside * along[0]),)
                for anchor in (Anchor.START, Anchor.END)
            ]
            name = min(enumerate(tried), key=lambda one: (_hidden(field, (one[1],)), one[0]))[1]
            field.take(name)
            yield name

    def _detail_mark(self, page: PageFrame, drawn: Sequence[Ink]) -> Iterator[Ink]:
        """The circle round the corner that the detail shows, with its letter; the radius itself where none shows it."""
        layout = self.layout
        corner, detail = layout.wanted_corner, corner_detail(layout, self.standard)
        if corner is None or is_round(layout.wanted.bounds, corner):
            return
        at = page.point(*corner.place)
        if detail is None or detail.scale.ratio <= page.scale.ratio:
            yield from self._led(at, 0.0, radius_words(layout), drawn)
            return
        across_in = page.length(2.4 * detail.half_in)
        yield Circle(at, across_in, Layer.DIMENSION, Style.PHANTOM, css="detail")
        yield from self._led(at, 0.5 * across_in, NAME, drawn)

    def _section_mark(self, page: PageFrame, shown: Box) -> Iterator[Ink]:
        """The ends of the cutting plane through the middle of the opening, its arrows in the direction of sight."""
        x, y = page.point(*self.layout.center_in)
        (across, up), letter_in = page.frame.x_on_page, self.lettering.text_in
        sight = -up, across
        for turn in (-1.0, 1.0):
            along = turn * across, turn * up
            start = self._on_rim(shown, (x, y), along)
            end = stepped(start, along, _SECTION_IN)
            yield Line((start, end), Layer.DIMENSION, Style.FINISHED, "section")
            tip = stepped(end, sight, 0.26)
            yield Line(
                (end, stepped(end, sight, 0.26 - HEAD_IN)), Layer.DIMENSION, Style.DIMENSION, "section"
            )
            yield arrowhead(tip, sight, HEAD_IN, "section")
            letter = stepped(tip, sight, 0.05 + (0.5 * letter_in if sight[1] == 0.0 else 0.0))
            foot = letter[1] - (letter_in if sight[1] < 0.0 else 0.5 * letter_in if sight[1] == 0.0 else 0.0)
            yield Text((letter[0], foot), "A", letter_in, bold=True, anchor=Anchor.MIDDLE, css="section")

    @staticmethod
    def _on_rim(shown: Box, at: Point, along: Point) -> Point:
        """Where a ray from a place leaves the part of the bay that is shown."""
        if along[0]:
            return (shown.right if along[0] > 0.0 else shown.left), at[1]
        return at[0], (shown.top if along[1] > 0.0 else shown.bottom)

    def _directions(self, page: PageFrame, shown: Box) -> Iterator[Ink]:
        """Both direction arrows in the corner between the dimensions below and at the left, which none reaches."""
        ink = tuple(page.arrows((0.0, 0.0), length_in=0.3, height_in=self.lettering.text_in))
        box = box_of(ink)
        yield from moved(ink, right_in=shown.left - 0.15 - box.right, up_in=shown.bottom - 0.15 - box.top)


def _above(box: Box, shown: Box, words: str, height: float) -> list[tuple[Ink, ...]]:
    """Places of the name of an upright line above what is shown, each with a tick to the line."""
    x = box.middle[0]
    found: list[tuple[Ink, ...]] = []
    for row in range(4):
        for off in (0.0, 0.25, -0.25, 0.5, -0.5, 0.8, -0.8, 1.1, -1.1, 1.4, -1.4):
            foot = shown.top + 0.1 + 1.9 * row * height
            tick = Line(((x, shown.top), (x + off, foot - 0.04)), Layer.DIMENSION, css="name")
            found.append((Text((x + off, foot), words, height, anchor=Anchor.MIDDLE), tick))
    return found


def _beside(box: Box, shown: Box, words: str, height: float) -> list[tuple[Ink, ...]]:
    """Places of the name of a level line: on it from the right end of what is shown, else above that with a tick round
    its corner, else to the right."""
    y = box.middle[1]
    ups = (y + 0.04, y - height - 0.04, y - 0.5 * height)
    steps = range(int(box.width_in / _STEP_IN))
    found = [
        Text((shown.right - 0.06 - _STEP_IN * step, up), words, height, anchor=Anchor.END)
        for step in steps
        for up in ups
    ]
    found = [text for text in found if text.box().left > shown.left]
    along_rim: list[tuple[Ink, ...]] = []
    for row in range(7):
        foot, x = shown.top + 0.1 + 1.9 * row * height, shown.right + 0.06 * (row + 1)
        rim = Line(((shown.right, y), (x, y), (x, foot - 0.04)), Layer.DIMENSION, css="name")
        along_rim.append((Text((x + 0.04, foot), words, height, anchor=Anchor.END), rim))
    beside = (
        Text((shown.right + 0.08, y - 0.5 * height + 1.9 * row * height), words, height)
        for row in (0, 1, -1, 2, -2)
    )
    return [*((text,) for text in found), *along_rim, *((text,) for text in beside)]


def _hidden(field: InkField, name: Sequence[Ink]) -> int:
    """How much of a drawing a name would hide."""
    under = sum(field.under(part.box().grown(0.02)) for part in name if isinstance(part, Text))
    runs = (run for part in name if isinstance(part, Line) for run in pairwise(part.points))
    return under + sum(field.along(_off(start, end), end) for start, end in runs)


def _off(start: Point, end: Point) -> Point:
    """A little along a line, clear of what it begins at."""
    return start[0] + 0.3 * (end[0] - start[0]), start[1] + 0.3 * (end[1] - start[1])
