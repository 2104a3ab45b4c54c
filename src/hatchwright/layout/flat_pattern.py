"""What is made flat for a curved skin: the doubler that is rolled afterwards, the template that is bent onto it."""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt
from msgspec import Struct

from hatchwright.errors import GeometryError
from hatchwright.layout.curved import curved_skin
from hatchwright.layout.layout import Hole, Layout
from hatchwright.shapes.pieces import Floats, points_of
from hatchwright.shapes.profile import Loop

_PART_RAD = math.radians(22.5)


class Stretch(Struct, frozen=True):
    """From places along the skin's outer face to those in a flat sheet; the center line of the opening stays.

    Args:
        along: the curved axis, "x" or "y".
        ratio: of the stretch along it, more than 1 lengthens [-].
        about_in: coordinate on that axis that stays [in].
    """

    along: str
    ratio: float
    about_in: float

    @property
    def axis(self) -> int:
        """0 when X is curved, 1 when Y is."""
        return 0 if self.along == "x" else 1

    def place(self, x_in: float, y_in: float) -> tuple[float, float]:
        """A place on the skin, in the flat sheet [in]."""
        ((x, y),) = self.points([(x_in, y_in)]).tolist()
        return x, y

    def points(self, points: npt.ArrayLike) -> Floats:
        """Places on the skin, in the flat sheet, each of shape (n, 2) [in]."""
        flat = np.array(points, dtype=np.float64)
        flat[:, self.axis] = self.about_in + self.ratio * (flat[:, self.axis] - self.about_in)
        return flat

    def loop(self, loop: Loop) -> Loop:
        """An edge on the skin, in the flat sheet; its arcs run through the stretched ends and middles of short parts.

        Returns:
            Loop: off the true ellipse by less than a five-hundredth of what the arc's radius is stretched by.
        """
        rows = _in_short_arcs(loop)
        starts, ends = rows[:, :2], np.roll(rows[:, :2], -1, axis=0)
        chords = ends - starts
        middles = 0.5 * (starts + ends) + 0.5 * rows[:, 2:] * np.column_stack([chords[:, 1], -chords[:, 0]])
        a, m, b = (self.points(points) for points in (starts, middles, ends))
        to_start, to_end = a - m, b - m
        cross = to_start[:, 0] * to_end[:, 1] - to_start[:, 1] * to_end[:, 0]
        angle = np.arctan2(np.abs(cross), (to_start * to_end).sum(axis=1))
        bulges = np.where(rows[:, 2] == 0.0, 0.0, np.copysign(1.0, rows[:, 2]) / np.tan(0.5 * angle))
        return Loop(np.column_stack([a, bulges]))


def template_stretch(layout: Layout) -> Stretch | None:
    """How the template of a job is stretched for the skin that it is bent onto.

    Returns:
        Stretch: None where the template stays flat, and on a skin that has no flat pattern, which T701 stops.
    Method: docs/theory/curved.md, eq. 4.
    """
    curvature, template = layout.job.skin.curvature, layout.job.template
    if curvature is None or template is None or not template.flexed:
        return None
    try:
        skin = curved_skin(curvature, thickness_in=layout.job.skin.thickness.inch, unit=layout.job.unit)
    except GeometryError:
        return None
    ratio = skin.flexed_pattern_ratio(template_in=template.thickness.inch)
    return Stretch(skin.along, ratio, layout.center_in[skin.axis])


class FlatPattern(Struct, frozen=True):
    """A sheet before it is rolled.

    Args:
        stretch: of the job's places to those on it.
        roll_in: radius of its outer and of its inner face after rolling [in].
        edges: of the flat sheet, in the order of the part's own [in].
        holes: of the job with their places on the flat sheet [in].
    """

    stretch: Stretch
    roll_in: tuple[float, float]
    edges: tuple[Loop, ...]
    holes: tuple[tuple[Hole, tuple[float, float]], ...]


def flat_doubler(layout: Layout) -> FlatPattern | None:
    """The flat pattern of a job's doubler.

    Returns:
        FlatPattern: None on a flat skin or without a doubler.
    Raises:
        GeometryError: the skin is curved both ways, or its rise is no rise of an arc.
    Method: docs/theory/curved.md, eq. 8.
    """
    curvature, doubler, part = layout.job.skin.curvature, layout.job.doubler, layout.part("doubler")
    if curvature is None or doubler is None or part is None:
        return None
    skin = curved_skin(curvature, thickness_in=layout.job.skin.thickness.inch, unit=layout.job.unit)
    sheet_in = doubler.thickness.inch
    ratio = skin.flat_place_ratio(sheet_in=sheet_in, face=doubler.face)
    stretch = Stretch(skin.along, ratio, layout.center_in[skin.axis])
    return FlatPattern(
        stretch=stretch,
        roll_in=skin.roll_radii_in(sheet_in=sheet_in, face=doubler.face),
        edges=tuple(stretch.loop(edge.loop) for edge in part.edges),
        holes=tuple(
            (hole, stretch.place(hole.x_in, hole.y_in)) for hole in layout.holes if "doubler" in hole.stack
        ),
    )


def _in_short_arcs(loop: Loop) -> Floats:
    """Rows of the same edge with every arc in parts of at most a sixteenth of a turn, shape (n, 3)."""
    parts = loop.working_form()
    which, share = parts.divided(np.ceil(np.abs(parts.sweep_rad) / _PART_RAD - 1e-9))
    count = np.bincount(which)[which]
    return np.column_stack([points_of(parts.at(which, share)), np.tan(np.arctan(parts.bulge[which]) / count)])
