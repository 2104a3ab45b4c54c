"""One piece as its sheet draws it, seen from outside: edges, holes, sizes from its datum, radii, axes."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from typing import Literal

import numpy as np
from msgspec import Struct

from hatchwright.drawings.boxes import Box
from hatchwright.drawings.hole_map_holes import map_numbers
from hatchwright.drawings.hole_map_names import NamedEdge, along_edge, edge_names
from hatchwright.drawings.ink import Circle, Ink, Layer, Line, Outline, Point, Style, Text
from hatchwright.drawings.lettering import text_width_in
from hatchwright.drawings.marks import arrow, cross
from hatchwright.drawings.overview_dimensions import Dimensioning, Measured
from hatchwright.drawings.page_frame import PageFrame
from hatchwright.drawings.part_sheet_holes import LETTER_IN, HoleGroup
from hatchwright.drawings.part_sheet_outline import Figures, Points, Round, Rounded, figures_of
from hatchwright.drawings.part_sheet_pieces import Piece, Place
from hatchwright.job.drawing import Standard
from hatchwright.said import inch, said
from hatchwright.shapes.profile import Arc, Loop
from hatchwright.units import Unit, figure
from hatchwright.words.tell import tell

_CROSS_IN = 0.12
_LEAST_IN = 0.05
_AXIS_IN, _OFF_IN = 0.5, 0.2
_POINT = "P"


class PieceView(Struct, frozen=True):
    """A piece with what its drawing needs.

    Args:
        groups: of its holes.
        numbered: holes that bear their number at less than full size.
    """

    piece: Piece
    groups: tuple[HoleGroup, ...]
    numbered: frozenset[int]
    standard: Standard
    unit: Unit

    def ink(self, page: PageFrame) -> tuple[Ink, ...]:
        """The drawing at the scale of a page, at the place that the job gives it [in]."""
        edges = [
            Outline(page.loop(loop), self.piece.layer) for loop in (self.piece.outer, *self.piece.windows)
        ]
        at = {hole.number: page.point(*place) for hole, place in self.piece.holes}
        loops, box = [edge.loop for edge in edges], edges[0].box()
        sizes, axes = tuple(self._sizes(page, box, at)), tuple(self._axes(page, box))
        words = self._words(page)
        taken = [part.box() for part in (*sizes, *axes)]
        points = tuple(self._points(page, at, loops, taken))
        taken += (part.box() for part in points)
        numbers = map_numbers(at, words, ringed=(), keep_off=taken, edges=loops, lines=())
        taken += (part.box() for part in numbers.ink)
        taken += (Box(*place, *place).grown(0.5 * _CROSS_IN) for place in at.values())
        around = Box(box.left - 0.05, box.bottom - 0.3, box.right + 1.3, box.top + 0.5)
        radii = tuple(self._led(page, around, taken, loops))
        marks = tuple(hole_marks(self.groups, page))
        return (*edges, *marks, *self._center_lines(page, box), *sizes, *axes, *points, *numbers.ink, *radii)

    def _words(self, page: PageFrame) -> dict[int, str]:
        """The numbers that are lettered, all of them at full size."""
        is_shown = page.scale.is_full
        holes = (hole.number for hole, _ in self.piece.holes)
        return {number: str(number) for number in holes if is_shown or number in self.numbered}

    def _sizes(self, page: PageFrame, box: Box, at: dict[int, Point]) -> Iterator[Ink]:
        """Dimensions of all straight edges from the datum, below the drawing and to its left."""
        clear = tuple(Box(*place, *place).grown(0.6 * _CROSS_IN) for place in at.values())
        for axis in (0, 1):
            along: Literal["x", "y"] = "x" if page.x_is_level == (axis == 0) else "y"
            edge = box.bottom if along == "x" else box.left
            measured = [
                self._measured(page, axis, value, foot, is_reference=is_reference)
                for value, foot, is_reference in self._values(axis, edge, page)
            ]
            yield from Dimensioning(along, edge, self.standard, LETTER_IN, clear).baseline(measured)

    def _values(self, axis: int, edge: float, page: PageFrame) -> Iterator[tuple[float, float, bool]]:
        """Coordinates of edges across an axis [in], where their extension lines begin, and whether the figure is for
        reference: told elsewhere already."""
        for loop in (self.piece.outer, *self.piece.windows):
            figures, bounds = figures_of(loop), loop.bounds
            is_outer = loop is self.piece.outer
            own = page.box(bounds)
            foot = (
                edge
                if is_outer
                else own.bottom
                if edge == page.box(self.piece.outer.bounds).bottom
                else own.left
            )
            match figures:
                case Round(center=center) if not is_outer:
                    yield center[axis], foot, False
                case Rounded():
                    low, high = (figures.x, figures.y)[axis]
                    yield from ((value, foot, False) for value in ((high,) if is_outer else (low, high)))
                case Points() if is_outer:
                    yield bounds[axis + 2], foot, True

    def _measured(
        self, page: PageFrame, axis: int, value: float, foot: float, *, is_reference: bool
    ) -> Measured:
        datum = self.piece.datum
        start, end = (_on_page(page, axis, one) for one in (datum[axis], value))
        told = figure(abs(value - datum[axis]), self.unit)
        words = tell(said("part_sheet.reference", figure=told)) if is_reference else told
        outer = page.box(self.piece.outer.bounds)
        datum_foot = outer.bottom if (axis == 0) == page.x_is_level else outer.left
        return Measured(end, foot, words, start, datum_foot)

    def _led(self, page: PageFrame, around: Box, taken: list[Box], loops: list[Loop]) -> Iterator[Ink]:
        """Radii and diameters at the ends of leaders; one that has no room stands below, its edge named."""
        below = around.bottom
        for place, edge in enumerate(self._radii(page)):
            ink = tuple(edge_names((edge,), around, taken, loops))
            yield from ink
            if not ink:
                id = "part_sheet.of_window" if place else "part_sheet.of_edge"
                below -= 2.0 * LETTER_IN
                at = around.left, below
                yield Text(at, tell(said(id, words=edge.words)), LETTER_IN, css="name")

    def _radii(self, page: PageFrame) -> Iterator[NamedEdge]:
        """The radius of the corners of each rectangle, the diameter of each circle, with where a leader may end."""
        for loop in (self.piece.outer, *self.piece.windows):
            figures = figures_of(loop)
            if isinstance(figures, Round):
                across = said("size.round", across=inch(figures.diameter_in))
                yield NamedEdge(along_edge(page.loop(loop)), tell(across, self.unit))
            elif isinstance(figures, Rounded) and figures.radius_in > 0.0:
                radius = said("corner.radius", n=figures.arcs, radius=inch(figures.radius_in))
                words = tell(radius, self.unit)
                yield NamedEdge(_arc_middles(page.loop(loop)), words)
            elif isinstance(figures, Rounded):
                yield NamedEdge(_corners(page.loop(loop)), tell(said("part_sheet.square")))

    def _points(
        self, page: PageFrame, at: dict[int, Point], loops: list[Loop], taken: list[Box]
    ) -> Iterator[Ink]:
        """The names of the points of edges that a table tells, with a mark on each."""
        named = dict(points_of(self.piece))
        places = {number: page.point(*turn) for number, turn in enumerate(named.values(), start=1)}
        words = dict(enumerate(named, start=1))
        for place in places.values():
            yield Circle(place, _LEAST_IN, Layer.DIMENSION, Style.DIMENSION, css="point")
        hidden = [*taken, *(Box(*place, *place).grown(0.5 * _CROSS_IN) for place in at.values())]
        yield from map_numbers(places, words, ringed=(), keep_off=hidden, edges=loops, lines=()).ink

    def _axes(self, page: PageFrame, box: Box) -> Iterator[Ink]:
        """X and Y with their direction words from the datum, above the drawing and to its right."""
        x, y = page.point(*self.piece.datum)
        for words, angle in page.axes_deg():
            is_level = round(angle) % 180 == 0
            half = 0.5 * text_width_in(words, height_in=LETTER_IN, bold=True)
            start = (x, box.top + _OFF_IN) if is_level else (box.right + _OFF_IN + half, y)
            yield from arrow(start, angle, words, _AXIS_IN, LETTER_IN)
            ends = ((x, box.top + 0.06), (x, start[1] + 0.08)) if is_level else (
                (box.right + 0.06, y), (start[0] + 0.08, y)
            )  # fmt: skip
            yield Line(ends, Layer.DIMENSION, css="dimension")

    def _center_lines(self, page: PageFrame, box: Box) -> Iterator[Line]:
        """Through the middle of a round piece, which is measured from there, and of one that is rolled afterwards."""
        if not self.piece.is_round and self.piece.flat is None:
            return
        x, y = page.point(*(self.piece.datum if self.piece.is_round else middle_of(self.piece)))
        yield Line(((x, box.bottom - 0.15), (x, box.top + 0.1)), Layer.DIMENSION, Style.CENTER, "center-line")
        yield Line(((box.left - 0.15, y), (box.right + 0.1, y)), Layer.DIMENSION, Style.CENTER, "center-line")


def hole_marks(groups: Collection[HoleGroup], page: PageFrame) -> Iterator[Ink]:
    """The holes of a piece: a pilot hole where it is drilled at the bench, else a cross for reference alone."""
    for group in groups:
        for hole, place in group.holes:
            at = page.point(*place)
            if group.at_bench and group.pilot_in:
                size = max(page.length(group.pilot_in), _LEAST_IN)
                yield Circle(at, size, Layer.DRILL_PILOT, Style.FINISHED, hole.number, "hole")
            elif group.pilot_in:
                size = max(page.length(group.pilot_in), _LEAST_IN)
                yield Circle(at, size, Layer.DIMENSION, Style.DIMENSION, hole.number, "hole")
            yield from cross(at, _CROSS_IN)


def middle_of(piece: Piece) -> Place:
    """The center of a flat piece, which stays where it was when it was laid flat [in]."""
    x_min, y_min, x_max, y_max = piece.outer.bounds
    return (x_min + x_max) / 2.0, (y_min + y_max) / 2.0


def points_of(piece: Piece) -> Iterator[tuple[str, Place]]:
    """The points of the edges that a table tells, by name [in]."""
    number = 0
    for loop in (piece.outer, *piece.windows):
        figures: Figures = figures_of(loop)
        for turn in figures.turns if isinstance(figures, Points) else ():
            number += 1
            yield f"{_POINT}{number}", turn.at


def _on_page(page: PageFrame, axis: int, value: float) -> float:
    """A coordinate along an axis, where it lies along the page [in]."""
    x, y = page.point(*((value, 0.0) if axis == 0 else (0.0, value)))
    return x if page.x_is_level == (axis == 0) else y


def _arc_middles(loop: Loop) -> np.ndarray[tuple[int, int], np.dtype[np.float64]]:
    """The middles of its arcs, shape (n, 2) [in]."""
    middles = []
    for piece in loop.pieces():
        if isinstance(piece, Arc):
            arm = complex(*piece.start) - complex(*piece.center)
            at = complex(*piece.center) + arm * np.exp(0.5j * piece.sweep_rad)
            middles.append((at.real, at.imag))
    return np.array(middles)


def _corners(loop: Loop) -> np.ndarray[tuple[int, int], np.dtype[np.float64]]:
    return np.array([piece.start for piece in loop.pieces()])
