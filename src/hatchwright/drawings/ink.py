"""Ink: the five plain things that every mark on a sheet comes down to, all that a writer has to know.

Coordinates are page axes in inches, x to the right and y up; the caller has turned the job's frame into them.
`css` is a class that a web page may style, "" for none; `part` is the place in the job file that the ink stands for,
such as ``bay.rows.1``, "" for none.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from enum import StrEnum
from typing import ClassVar, TypeAlias

import numpy as np
from msgspec import Struct
from msgspec.structs import force_setattr, replace

from hatchwright.drawings.boxes import Box, Floats, sides_of
from hatchwright.drawings.lettering import SMALL_IN, literal, text_width_in
from hatchwright.errors import GeometryError
from hatchwright.said import said
from hatchwright.shapes.profile import Loop
from hatchwright.words.tell import tell


class Layer(StrEnum):
    """Layers by operation; a machine follows the ones that are cut and no others."""

    OPENING = "OPENING"
    ROUGH_CUT = "ROUGH_CUT"
    DOUBLER = "DOUBLER"
    COVER = "COVER"
    PLUG = "PLUG"
    TEMPLATE = "TEMPLATE"
    DRILL_PILOT = "DRILL_PILOT"
    DRILL_FINAL = "DRILL_FINAL"
    ENGRAVE = "ENGRAVE"
    STRUCTURE = "STRUCTURE"
    KEEP_OUT = "KEEP_OUT"
    DIMENSION = "DIMENSION"
    TEXT = "TEXT"
    CHECK = "CHECK"

    @property
    def is_cut(self) -> bool:
        """Whether a machine may cut or drill here: closed edges and circles only, never lettering."""
        return self in _CUT


_CUT = {
    Layer(name)
    for name in ["OPENING", "ROUGH_CUT", "DOUBLER", "COVER", "PLUG", "TEMPLATE", "DRILL_PILOT", "DRILL_FINAL"]
}


class Style(StrEnum):
    """Line styles by what they stand for; each can be told from the others without color.

    Thick and thin lines and the runs of dashes are from memory, unverified (ASME Y14.2).
    """

    FINISHED = "finished"
    DIMENSION = "dimension"
    HIDDEN = "hidden"
    CENTER = "center"
    PHANTOM = "phantom"
    KEEP_OUT = "keep-out"
    JOIN = "join"

    @property
    def width_in(self) -> float:
        """Width of the line: 0.6 mm for a finished edge, 0.3 mm for all others [in]."""
        return (0.6 if self is Style.FINISHED else 0.3) / 25.4

    @property
    def dashes_in(self) -> tuple[float, ...]:
        """Lengths of dash and gap in turn, empty for a solid line [in]."""
        return _DASHES_IN[self]

    @property
    def meaning(self) -> str:
        """What the line stands for, as the legend says it."""
        return tell(said(f"style.{self.value.replace('-', '_')}"))


_DASHES_IN: dict[Style, tuple[float, ...]] = {
    Style.FINISHED: (),
    Style.DIMENSION: (),
    Style.HIDDEN: (0.12, 0.04),
    Style.CENTER: (0.40, 0.04, 0.08, 0.04),
    Style.PHANTOM: (0.40, 0.04, 0.08, 0.04, 0.08, 0.04),
    Style.KEEP_OUT: (),
    Style.JOIN: (0.02, 0.06),
}


Point: TypeAlias = tuple[float, float]

LEAST_IN = 1e-6
"""Ink shorter than this is no ink: it would be a zero-length entity in a machine file [in]."""


class Anchor(StrEnum):
    """Which part of a line of text stands at its point."""

    START = "start"
    MIDDLE = "middle"
    END = "end"


BEFORE_POINT = {Anchor.START: 0.0, Anchor.MIDDLE: 0.5, Anchor.END: 1.0}
"""Share of the width of a text that lies before its point [-]."""


class Outline(Struct, frozen=True):
    """A closed edge of lines and true arcs, on the page [in]."""

    loop: Loop
    layer: Layer
    style: Style = Style.FINISHED
    css: str = ""
    part: str = ""

    def box(self) -> Box:
        """The box round it, arcs included [in]."""
        return Box(*self.loop.bounds)


class Line(Struct, frozen=True):
    """An open line through two or more points (x, y) [in]; never on a layer that is cut.

    Raises:
        GeometryError: fewer than two points, or a layer that is cut.
    """

    points: tuple[Point, ...]
    layer: Layer
    style: Style = Style.DIMENSION
    css: str = ""
    part: str = ""

    def __post_init__(self) -> None:
        if len(self.points) < 2:
            raise GeometryError.saying("error.line_points")
        if self.layer.is_cut:
            what, remedy = said("error.open_cut", layer=self.layer.value), said("error.open_cut.do")
            raise GeometryError(what, remedy=remedy, place=self.points[0])

    def box(self) -> Box:
        """The box round it [in]."""
        return _box_of_points(self.points)


class Circle(Struct, frozen=True):
    """A circle, most often a hole of that number.

    Raises:
        GeometryError: the diameter is not more than 0.
    """

    center: Point
    diameter_in: float
    layer: Layer
    style: Style = Style.FINISHED
    hole: int | None = None
    css: str = ""
    part: str = ""

    def __post_init__(self) -> None:
        if not self.diameter_in > LEAST_IN:
            raise GeometryError(said("error.circle_diameter"), place=self.center)

    def box(self) -> Box:
        """The box round it [in]."""
        return Box(*self.center, *self.center).grown(0.5 * self.diameter_in)


class Solid(Struct, frozen=True):
    """A filled shape, such as an arrowhead, by its corners (x, y) [in]; never on a layer that is cut."""

    points: tuple[Point, ...]
    layer: Layer = Layer.DIMENSION
    css: str = ""
    part: str = ""
    style: ClassVar[Style] = Style.DIMENSION

    def box(self) -> Box:
        """The box round it [in]."""
        return _box_of_points(self.points)


class Text(Struct, frozen=True):
    """One line of lettering, always on the layer TEXT.

    Args:
        at: point on the foot line that the anchor names, (x, y) [in].
        words: any text; control characters are replaced, nothing in it has a meaning.
        height_in: height of a capital [in].
        angle_deg: turned left about the point [deg].
        note_id: name by which a web page finds this note again, or "".
        span: what it measures or names, from one point (x, y) to another, None where that is nothing [in]; a web
            page letters it there in letters of its own size.
        whole: what it says where its words were cut to fit, "" where they are whole.
    """

    at: Point
    words: str
    height_in: float = SMALL_IN
    bold: bool = False
    anchor: Anchor = Anchor.START
    angle_deg: float = 0.0
    note_id: str = ""
    css: str = ""
    part: str = ""
    span: tuple[Point, Point] | None = None
    whole: str = ""
    layer: ClassVar[Layer] = Layer.TEXT
    style: ClassVar[Style] = Style.DIMENSION

    def __post_init__(self) -> None:
        force_setattr(self, "words", literal(self.words))
        force_setattr(self, "whole", literal(self.whole))

    @property
    def width_in(self) -> float:
        """How wide the line gets [in]."""
        return text_width_in(self.words, height_in=self.height_in, bold=self.bold)

    def box(self) -> Box:
        """The box round it, descenders included [in]."""
        width_in = self.width_in
        start = -BEFORE_POINT[self.anchor] * width_in
        low, high = -0.35 * self.height_in, 1.05 * self.height_in
        if not self.angle_deg:
            x, y = self.at
            return Box(x + start, y + low, x + start + width_in, y + high)
        cos, sin = math.cos(math.radians(self.angle_deg)), math.sin(math.radians(self.angle_deg))
        corners = (
            (self.at[0] + along * cos - up * sin, self.at[1] + along * sin + up * cos)
            for along in (start, start + width_in)
            for up in (low, high)
        )
        return _box_of_points(tuple(corners))


Ink: TypeAlias = Outline | Line | Circle | Solid | Text


def outlines(
    loops: Iterable[Loop], layer: Layer, style: Style = Style.FINISHED, css: str = "", part: str = ""
) -> Iterator[Outline]:
    """Closed edges of one kind."""
    return (Outline(loop, layer, style, css, part) for loop in loops)


def box_of(parts: Iterable[Ink]) -> Box:
    """The smallest upright box that holds some ink [in].

    Raises:
        GeometryError: there is no ink, or a coordinate is not a number.
    """
    return box_round(sides_of(part.box() for part in parts))


def box_round(sides: Floats) -> Box:
    """The box round several boxes, from their sides of shape (n, 4) [in]; errors as for `box_of`."""
    if not sides.size:
        raise GeometryError.saying("error.nothing_drawn")
    if not np.isfinite(sides).all():
        raise GeometryError(said("error.coordinate"))
    return Box(*sides[:, :2].min(axis=0).tolist(), *sides[:, 2:].max(axis=0).tolist())


def moved(
    parts: Iterable[Ink], *, right_in: float, up_in: float, scale_ratio: float = 1.0
) -> tuple[Ink, ...]:
    """Ink scaled about the origin, then moved, in the same order."""

    def to(point: Point) -> Point:
        return point[0] * scale_ratio + right_in, point[1] * scale_ratio + up_in

    def placed(part: Ink) -> Ink:
        match part:
            case Line(points=points) | Solid(points=points):
                return replace(part, points=tuple(map(to, points)))
            case Text(at=at, height_in=height_in, span=span):
                ends = span and (to(span[0]), to(span[1]))
                return replace(part, at=to(at), height_in=height_in * scale_ratio, span=ends)
            case Circle(center=center, diameter_in=diameter_in):
                return replace(part, center=to(center), diameter_in=diameter_in * scale_ratio)
            case Outline(loop=loop):
                rows = loop.rows * (scale_ratio, scale_ratio, 1.0) + (right_in, up_in, 0.0)
                return replace(part, loop=Loop(rows))

    return tuple(map(placed, parts))


def _box_of_points(points: tuple[Point, ...]) -> Box:
    x, y = zip(*points, strict=True)
    if not math.isfinite(sum(x) + sum(y)):  # the least and the greatest would hide one that is no number
        raise GeometryError(said("error.coordinate"), place=points[0])
    return Box(min(x), min(y), max(x), max(y))
