"""The damage under a flush patch, as measured: a mark at each point with its uncertainty round it, and its extent."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.drawings.ink import LEAST_IN, Circle, Ink, Layer, Line, Style
from hatchwright.drawings.marks import cross
from hatchwright.drawings.page_frame import PageFrame
from hatchwright.layout.layout import Layout

_MARK_IN = 0.12


def damage(layout: Layout, page: PageFrame) -> Iterator[Ink]:
    """Draw what the cut-out must take in; nothing on a job that is no patch."""
    patch = layout.job.patch
    if patch is None:
        return
    at = [page.point(*(length.inch for length in point.at)) for point in patch.extent]
    ends = at if patch.damage == "crack" else [*at, at[0]]
    yield Line(tuple(ends), Layer.STRUCTURE, Style.FINISHED, css="damage", part="patch")
    for place, point in zip(at, patch.extent, strict=True):
        yield from cross(place, _MARK_IN, css="damage", part="patch")
        if point.uncertainty.inch > LEAST_IN:
            across_in = 2.0 * page.length(point.uncertainty.inch)
            yield Circle(place, across_in, Layer.STRUCTURE, Style.DIMENSION, css="damage", part="patch")
