"""The view of the overview drawing: what is seen from outside, at a scale, with its dimensions from the two datums.

Only seen edges are dimensioned: a doubler behind the skin has its sizes on the sheet of its own.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import chain
from typing import Literal

from msgspec import Struct

from hatchwright.drawings.bay_structure import origin_is_near, parts_bounds, structure
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
    outlines,
)
from hatchwright.drawings.marks import HEAD_IN, arrow, arrowhead, call_out, cross, stepped
from hatchwright.drawings.overview_corner import NAME, corner_detail, radius_words
from hatchwright.drawings.overview_dimensions import Dimensioning, Measured
from hatchwright.drawings.overview_numbers import number_labels, numbered_holes
from hatchwright.drawings.page_frame import Bounds, PageFrame
from hatchwright.drawings.scale import Scale
from hatchwright.drawings.short_holes import short_holes
from hatchwright.finding import Finding
from hatchwright.job.drawing import Standard
from hatchwright.layout.layout import Layout
from hatchwright.layout.sizes import is_round
from hatchwright.said import inch, said
from hatchwright.shapes.corners import Corner
from hatchwright.shapes.profile import Loop
from hatchwright.words.tell import tell

_AROUND_IN = 0.3
"""What is shown of the bay round the new parts, on paper [in]."""

_CROSS_IN = 0.1
_RING_IN = 0.2
_CENTER_IN = 0.3
_SAME_IN = 1e-6


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
        drawn += self._origin(page, shown)
        drawn += self._section_mark(page, shown)
        drawn += self._detail_mark(page, drawn)
        drawn += self._round_size(page, drawn)
        holes = {hole.number: hole for hole in numbered_holes(self.layout, self.findings)}
        spots = [
            (number, page.point(*hole.place), self._clear_in(number, page)) for number, hole in holes.items()
        ]
        numbers = number_labels(spots, drawn, height_in=self.lettering.number_in)
        ink = (*drawn, *numbers)
        around = box_of(ink)
        return *ink, *self._directions(page, around)

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

    def _shown(self, page: PageFrame) -> Box:
        """The part of the bay that is shown, on the page: the new parts, and the datums where they are near."""
        return page.box(self._whole).grown(_AROUND_IN)

    def _bay(self, page: PageFrame) -> Iterator[Ink]:
        off = _AROUND_IN / page.scale.ratio
        x_from, y_from, x_to, y_to = self._whole
        bounds: Bounds = (x_from - off, y_from - off, x_to + off, y_to + off)
        yield from structure(self.layout, page, bounds)

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
                yield from outlines((page.loop(edge.loop) for edge in part.edges), layer, style, part.name)
        yield from damage(layout, page)
        yield from hole_circles(layout, page, self._short, cross_in=_CROSS_IN, ring_in=_RING_IN)
        yield from cross(page.point(*layout.center_in), _CENTER_IN)

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
        boxes = [part.box() for part in drawn if not isinstance(part, Outline)]
        tried: list[tuple[int, int, tuple[Ink, ...]]] = []
        for reach in (0.4, 0.6, 0.9, 1.3, 1.8):
            for angle in (45.0, 135.0, 225.0, 315.0, 30.0, 150.0, 60.0, 120.0):
                along = math.cos(math.radians(angle)), math.sin(math.radians(angle))
                knee = at[0] + (clear_in + reach) * along[0], at[1] + (clear_in + reach) * along[1]
                ink = call_out(
                    at, knee, (words,), clear_in=clear_in, height_in=self.lettering.text_in, css="size"
                )
                text = next(part.box().grown(0.04) for part in ink if isinstance(part, Text))
                tried.append((sum(text.touches(box) for box in boxes), len(tried), ink))
        return min(tried)[2]

    def _origin(self, page: PageFrame, shown: Box) -> Iterator[Ink]:
        """The two datums where they are near, with the axes named at the origin."""
        if not origin_is_near(self.layout):
            return
        for ends in (((0.0, shown.bottom), (0.0, shown.top)), ((shown.left, 0.0), (shown.right, 0.0))):
            yield Line(ends, Layer.STRUCTURE, Style.CENTER, "datum")
        yield Circle((0.0, 0.0), 0.12, Layer.DIMENSION, Style.FINISHED, css="origin")
        for words, angle in page.axes_deg():
            yield from arrow((0.0, 0.0), angle, words, 0.55, 0.8 * self.lettering.text_in)

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
            end = self._on_rim(shown, (x, y), along)
            start = stepped(end, along, -0.22)
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

    def _directions(self, page: PageFrame, around: Box) -> Iterator[Ink]:
        """Both direction arrows, above the drawing at its left."""
        height = self.lettering.text_in
        yield from page.arrows((around.left + 0.7, around.top + 0.25), length_in=0.45, height_in=height)
