"""Shapes as a mechanic describes them, and the closed loop each one makes.

What reads a shape is built with its class: several sections of a job hold shapes, and each would build its own.
"""

from pathlib import Path
from typing import Annotated, Any, Literal, Protocol

import numpy as np
from pydantic import Field, PrivateAttr

from hatchwright.errors import GeometryError, HatchwrightError
from hatchwright.job.dxf_loop import read_loop
from hatchwright.job.entry import (
    AngleDeg,
    Coordinate,
    Entered,
    NotNegative,
    Point,
    Positive,
    matching,
    refusal,
)
from hatchwright.said import said
from hatchwright.shapes import outlines
from hatchwright.shapes.profile import Loop


class RoundedRectangle(Entered, defer_build=False):
    """A rectangle along the job's axes, the same radius at each corner."""

    shape: Literal["rounded rectangle"]
    width: Positive
    height: Positive
    radius: NotNegative
    center: Point | None = None

    def loop(self, center_in: tuple[float, float]) -> Loop:
        """The closed loop [in]."""
        return outlines.rounded_rectangle(
            width_in=self.width.inch, height_in=self.height.inch, radius_in=self.radius.inch, center=center_in
        )


class FiledEdges(Entered, defer_build=False):
    """A rectangle given by its four measured edges and the corner radius."""

    shape: Literal["edges"]
    x_from: Coordinate
    x_to: Coordinate
    y_from: Coordinate
    y_to: Coordinate
    radius: NotNegative

    def loop(self, center_in: tuple[float, float]) -> Loop:
        """The closed loop [in]; the edges carry their own place, so the center is not used."""
        x_from, x_to, y_from, y_to = (edge.inch for edge in (self.x_from, self.x_to, self.y_from, self.y_to))
        if x_to <= x_from or y_to <= y_from:
            raise GeometryError.saying("job.edges_crossed")
        return outlines.rounded_rectangle(
            width_in=x_to - x_from,
            height_in=y_to - y_from,
            radius_in=self.radius.inch,
            center=((x_from + x_to) / 2, (y_from + y_to) / 2),
        )


class Circle(Entered, defer_build=False):
    """A round shape."""

    shape: Literal["circle"]
    diameter: Positive
    center: Point | None = None

    def loop(self, center_in: tuple[float, float]) -> Loop:
        """The closed loop [in]."""
        return outlines.circle(diameter_in=self.diameter.inch, center=center_in)


class Obround(Entered, defer_build=False):
    """Two half rounds joined by straights."""

    shape: Literal["obround"]
    length: Positive
    width: Positive
    angle: AngleDeg = 0.0
    center: Point | None = None

    def loop(self, center_in: tuple[float, float]) -> Loop:
        """The closed loop [in]."""
        return outlines.obround(
            length_in=self.length.inch, width_in=self.width.inch, center=center_in, angle_deg=self.angle
        )


class DShape(Entered, defer_build=False):
    """A rectangle whose side at the greatest X is a half round."""

    shape: Literal["D"]
    width: Positive
    height: Positive
    radius: NotNegative
    center: Point | None = None

    def loop(self, center_in: tuple[float, float]) -> Loop:
        """The closed loop [in]."""
        return outlines.d_shape(
            width_in=self.width.inch, height_in=self.height.inch, radius_in=self.radius.inch, center=center_in
        )


class Polygon(Entered, defer_build=False):
    """Straight sides between corners, each corner with its own radius; corners carry their own place."""

    shape: Literal["polygon"]
    corners: tuple[Point, ...] = Field(min_length=3, max_length=200)
    radii: tuple[NotNegative, ...] = Field(min_length=1, max_length=200)

    def loop(self, center_in: tuple[float, float]) -> Loop:
        """The closed loop [in]; corners carry their own place, so the center is not used."""
        radii = self.radii if len(self.radii) > 1 else self.radii * len(self.corners)
        if len(radii) != len(self.corners):
            raise GeometryError.saying("job.radii", corners=len(self.corners), radii=len(radii))
        points = [(x.inch, y.inch) for x, y in self.corners]
        return outlines.polygon(points, [radius.inch for radius in radii])


class DxfLoop(Entered, defer_build=False):
    """A closed loop of lines and arcs from a DXF file; its own origin is laid at `place`."""

    shape: Literal["dxf"]
    file: Annotated[str, matching(r"[^/\\]+", said("job.dxf_folder"), said("job.dxf_folder.do"))]
    layer: str = Field(default="", max_length=255)
    place: Point | None = None
    _loop: Loop = PrivateAttr()

    def model_post_init(self, context: Any) -> None:
        """Read the loop once, when the job is read; `context["folder"]` is the folder of the job file."""
        folder = (context or {}).get("folder")
        if folder is None:
            raise refusal(said("job.dxf_alone"), said("job.dxf_alone.do"))
        try:
            self._loop = read_loop(Path(folder) / self.file, layer=self.layer)
        except HatchwrightError as error:
            raise refusal(error.what, error.remedy) from None

    def loop(self, center_in: tuple[float, float]) -> Loop:
        """The closed loop [in]; the DXF carries its own place, so the center is not used."""
        if self.place is None:
            return self._loop
        return self._loop.transformed(np.eye(2), np.array([self.place[0].inch, self.place[1].inch]))


_CENTERED = ("rounded rectangle", "circle", "obround", "D")

Outline = Annotated[
    RoundedRectangle | FiledEdges | Circle | Obround | DShape | Polygon | DxfLoop,
    Field(discriminator="shape"),
]


class Laid(Protocol):
    """Any outline, drawn or measured."""

    def loop(self, center_in: tuple[float, float]) -> Loop:
        """The closed loop about a center, where its places do not tell where it lies [in]."""


def own_center(outline: Laid) -> tuple[float, float] | None:
    """The center that an outline gives itself, or None [in]."""
    center = getattr(outline, "center", None)
    return (center[0].inch, center[1].inch) if center else None


def loop_about(outline: Laid, middle_in: tuple[float, float]) -> Loop:
    """The loop of an outline about its own center, or about this middle where it gives none [in]."""
    return outline.loop(own_center(outline) or middle_in)


def lacks_center(entered: object) -> bool:
    """Whether what was entered as an outline, sound or not, is of a shape laid about a center, and tells none."""
    return isinstance(entered, dict) and entered.get("shape") in _CENTERED and "center" not in entered
