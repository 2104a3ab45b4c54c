"""Sizes of the template flat on the bench, before it is bent, and what a blank or a machine spares round it."""

from __future__ import annotations

from msgspec import Struct

from hatchwright.judged import FLOAT_NOISE
from hatchwright.layout.flat_pattern import template_stretch
from hatchwright.making.making import Making
from hatchwright.said import Said, missing, room, said

CLAMP_IN = 0.75
"""Room that a clamp takes at an edge of the blank [in]. Common practice, no source."""


def template_outline(making: Making) -> tuple[float, float]:
    """Size of the template's plate along X and Y, flat: the window or the plug with its border [in]."""
    width_in, height_in = flat_size(making)
    border = 2.0 * making.template.border.inch
    return width_in + border, height_in + border


def flat_size(making: Making) -> tuple[float, float]:
    """Size of the window or the plug along X and Y as made, before it is bent onto a curved skin [in]."""
    x_min, y_min, x_max, y_max = making.chain.machinable.bounds
    size_in = [x_max - x_min, y_max - y_min]
    if stretch := template_stretch(making.layout):
        size_in[stretch.axis] *= stretch.ratio
    return size_in[0], size_in[1]


def flat_cut(making: Making) -> tuple[float, float]:
    """Size along X and Y of the cut that a template gives on flat scrap, flat itself: larger than on the skin
    by what a flexed template is stretched by [in]."""
    cut, edge = making.chain.predicted.bounds, making.chain.machinable.bounds
    flat = flat_size(making)
    return (cut[2] - cut[0] + flat[0] - (edge[2] - edge[0]), cut[3] - cut[1] + flat[1] - (edge[3] - edge[1]))


class Room(Struct, frozen=True):
    """What is left beside a template in the better of the two ways to lay it, in the tighter direction,
    negative when it does not fit, and in the other [in]."""

    tight_in: float
    ample_in: float

    @property
    def holds(self) -> bool:
        """Whether the template fits at all."""
        return self.tight_in >= -FLOAT_NOISE

    @property
    def words(self) -> Said:
        """What is left, and whether clamps fit too, at two opposite sides."""
        if not self.holds:
            return said("room.too_large", by=missing(-self.tight_in))
        id = "room.spare" if self.ample_in >= 2.0 * CLAMP_IN - FLOAT_NOISE else "room.no_clamps"
        return said(id, tight=room(self.tight_in), ample=room(self.ample_in))


def room_for(outline_in: tuple[float, float], given_in: tuple[float, float]) -> Room:
    """Lay a template on a blank or in a machine, long side along long side: never the worse way for a rectangle.

    >>> found = room_for((11.375, 6.375), (11.8, 7.1))
    >>> round(found.tight_in, 4), round(found.ample_in, 4)
    (0.425, 0.725)
    """
    spare = [given - needed for needed, given in zip(sorted(outline_in), sorted(given_in), strict=True)]
    return Room(min(spare), max(spare))
