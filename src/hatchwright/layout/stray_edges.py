"""Holes that belong to no row, by the edges of the sheets that they go through, and what is left of them."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

import numpy as np

from hatchwright.layout.layout import Edge, Layout, Part
from hatchwright.layout.stray import Stray, StrayIn
from hatchwright.shapes.distance import distances
from hatchwright.shapes.profile import Profile


class ToEdge(NamedTuple):
    """A stray hole to one edge of one sheet.

    Args:
        distance_in: of its center, negative off the metal [in].
        uncertainty_in: of that [in].
    """

    part: Part
    edge: Edge
    distance_in: float
    uncertainty_in: float


def to_edges(layout: Layout, stray: Stray) -> Iterator[ToEdge]:
    """Each edge of each sheet that it goes through."""
    for part in layout.parts:
        for edge in part.edges if part.name in stray.parts else ():
            found = distances(Profile((edge.loop,)), np.array([stray.place]))
            on_metal = bool(found.inside[0]) == edge.metal_inside
            distance_in = float(found.distance_in[0])
            u_in = max(stray.uncertainty_in, float(edge.u_at(found.foot)[0]))
            yield ToEdge(part, edge, distance_in if on_metal else -distance_in, u_in)


def parts_left(layout: Layout, stray: Stray) -> tuple[StrayIn, ...]:
    """The sheets that still hold a part of it; what went with the cutout, or lies off a sheet, weakens nothing."""
    gone = {
        one.part.name
        for one in to_edges(layout, stray)
        if one.distance_in <= -stray.hole_in / 2.0 - one.uncertainty_in
    }
    return tuple(name for name in stray.parts if name not in gone)


def open_in(layout: Layout, part: StrayIn) -> tuple[Stray, ...]:
    """Those that are open in a sheet."""
    return tuple(stray for stray in layout.strays if stray.is_open and part in parts_left(layout, stray))
