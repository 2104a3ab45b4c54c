"""Where a job lies in the small picture of its kind: the plan from outside, and below it a section through the middle.

The section is cut along X. Its sheets are as thick as can be seen, not as they are; all else is as laid out.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cached_property

import numpy as np
import numpy.typing as npt
from msgspec import Struct

from hatchwright.drawings.picture import Floats
from hatchwright.layout.base_screws import base_screw_holes
from hatchwright.layout.layout import Hole, Layout, PartName
from hatchwright.shapes.profile import Loop

WIDTH, HEIGHT = 600, 560
"""Size of the picture [units]."""

SHEET = 15.0
"""Thickness of every sheet in the section [units]."""

_SECTION = 165.0
_PLAN = 380.0
_BESIDE = 64.0
"""Heights of section and plan, and the room for letters on either side of the plan [units]."""

_CHORD_IN = 0.005

Spot = tuple[float, float]


class Bar(Struct, frozen=True):
    """One sheet where the section cuts it, by its two ends and its foot [units]."""

    name: PartName
    left: float
    right: float
    foot: float


class KindView(Struct, frozen=True, dict=True):
    """A layout as it lies in the picture, y up."""

    layout: Layout

    @cached_property
    def base(self) -> Loop | None:
        """Outline of the base of what is mounted, None without a mount [in]."""
        mount = self.layout.job.mount
        if mount is None:
            return None
        half = np.array([length.inch / 2.0 for length in mount.base])
        corners = np.array(self.layout.center_in) + half * [[-1, -1], [1, -1], [1, 1], [-1, 1]]
        return Loop(np.column_stack([corners, np.zeros(4)]))

    @cached_property
    def _bounds(self) -> Floats:
        loops = [edge.loop for part in self.layout.parts for edge in part.edges]
        bounds = np.array([loop.bounds for loop in (*loops, *([self.base] if self.base else []))])
        return np.array([*bounds[:, :2].min(axis=0), *bounds[:, 2:].max(axis=0)])

    @cached_property
    def scale(self) -> float:
        """Units of the picture to an inch."""
        across, up = self._bounds[2:] - self._bounds[:2]
        return float(min((WIDTH - 2 * _BESIDE) / across, (_PLAN - 20.0) / up))

    def at(self, points_in: npt.ArrayLike) -> Floats:
        """Places of the plan, shape (..., 2) [units]."""
        middle = (self._bounds[:2] + self._bounds[2:]) / 2.0
        return np.array([WIDTH / 2.0, _SECTION + _PLAN / 2.0]) + self.scale * (np.asarray(points_in) - middle)

    def spot(self, x_in: float, y_in: float) -> Spot:
        """One place of the plan [units]."""
        x, y = self.at([x_in, y_in]).tolist()
        return x, y

    def ring(self, loop: Loop) -> Floats:
        """A closed edge in the plan, shape (n, 2) [units]."""
        return self.at(loop.points(_CHORD_IN))

    @property
    def skin_foot(self) -> float:
        """The inner face of the skin in the section [units]."""
        mount = self.layout.job.mount
        return 48.0 if mount and mount.kind == "antenna" else 72.0

    @cached_property
    def is_lapped(self) -> bool:
        """Whether a cover lies on the skin, not in it."""
        cover = self.layout.job.cover
        return cover is not None and cover.fit == "lapped"

    @cached_property
    def bars(self) -> tuple[Bar, ...]:
        """The sheets where the section cuts them."""
        return tuple(self._cut())

    @property
    def low(self) -> float:
        """The innermost face of the sheets in the section [units]."""
        return min(bar.foot for bar in self.bars)

    @property
    def cut_holes(self) -> tuple[Hole, ...]:
        """The outermost holes of each row along X, which stand for those that a section would meet."""
        rows = [*self.layout.rows().values(), base_screw_holes(self.layout)]
        ends = ((min(row, key=_along), max(row, key=_along)) for row in rows if row)
        return tuple(hole for pair in ends for hole in pair)

    def _cut(self) -> Iterator[Bar]:
        layout, foot = self.layout, self.skin_foot
        ends = [float(self.at([x, 0.0])[0]) for x in self._bounds[::2]]
        hole = [float(self.at([x, 0.0])[0]) for x in layout.wanted.bounds[::2]]
        yield Bar("skin", ends[0] - 26.0, hole[0], foot)
        yield Bar("skin", hole[1], ends[1] + 26.0, foot)
        doubler = layout.job.doubler
        feet: dict[PartName, float] = {
            "doubler": foot + (SHEET if doubler and doubler.face == "outside" else -SHEET),
            "cover": foot + (SHEET if self.is_lapped else 0.0),
            "plug": foot,
        }
        for part in layout.parts:
            if part.name in feet:
                edges = sorted(x for edge in part.edges for x in edge.loop.bounds[::2])
                crossed = self.at([[x, 0.0] for x in edges])[:, 0].tolist()
                for left, right in zip(crossed[::2], crossed[1::2], strict=True):
                    yield Bar(part.name, left, right, feet[part.name])


def _along(hole: Hole) -> float:
    return hole.x_in
