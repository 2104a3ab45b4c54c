"""What the ring of one rivet keeps off: flanges, what lies behind in reach of a tool, and what is riveted there.

A hole is taken to lie anywhere on its row, and what slopes or moves to lie anywhere in the room that it takes: nothing
is told clear that is not.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from msgspec import Struct

from hatchwright.job.bay import KeepOut
from hatchwright.judged import FLOAT_NOISE, bound
from hatchwright.layout.behind_skin import (
    BEFORE_IN,
    BESIDE_IN,
    THROUGH_IN,
    depth_in,
    kept_beside_in,
    kept_from,
    lies_on_skin,
    skin_in,
)
from hatchwright.layout.gaps import Bounds
from hatchwright.layout.layout import Layout
from hatchwright.recipe.stops import STOPPED
from hatchwright.rules.heads_and_edges import HEAD_RATIO
from hatchwright.search.proposal.limits import RowLimits
from hatchwright.search.proposal.place import Obstacles
from hatchwright.tables.rivet_part import LARGEST_RIVET_IN


class _Kept(Struct, frozen=True):
    bounds_in: Bounds
    kept_in: float
    name: str


def obstacles_of(layout: Layout, limits: RowLimits, gauge_in: float) -> Obstacles:
    """Everything that a ring keeps off, from the opening's center.

    Args:
        limits: of its rivets.
        gauge_in: of the doubler [in].
    """
    found = (*_flanges(layout, limits), *_keep_outs(layout, limits, gauge_in), *_riveted(layout, limits))
    x, y = layout.center_in
    boxes = np.array([one.bounds_in for one in found], dtype=float).reshape(-1, 4) - (x, y, x, y)
    return Obstacles(boxes, np.array([one.kept_in for one in found]), tuple(one.name for one in found))


def _flanges(layout: Layout, limits: RowLimits) -> Iterator[_Kept]:
    """The ring's edge keeps the published clearance, a row's heads keep off the flange's edge."""
    clear_in = layout.limit("clearance_to_adjacent_structure").value
    heads_in = HEAD_RATIO.value * limits.diameter_in / 2.0 - _row_inside_in(limits)
    for flange in layout.job.bay.flanges:
        yield _Kept(flange.bounds_in, max(clear_in, heads_in), flange.name)


def _keep_outs(layout: Layout, limits: RowLimits, gauge_in: float) -> Iterator[_Kept]:
    least = bound(layout.limit("clearance_to_adjacent_structure"))
    for keep_out in layout.job.bay.keep_outs:
        if lies_on_skin(keep_out, layout):
            yield _Kept(keep_out.bounds_in, float(kept_from(keep_out, least).limit), keep_out.name)
        elif _is_in_reach(layout, keep_out, limits, gauge_in):
            beside_in = kept_beside_in(keep_out, max(limits.diameter_in, BESIDE_IN))
            yield _Kept(keep_out.bounds_in, beside_in, keep_out.name)


def _is_in_reach(layout: Layout, keep_out: KeepOut, limits: RowLimits, gauge_in: float) -> bool:
    """Whether a drill, the bar or the tool that cuts comes too near to what lies behind the skin."""
    bay, cutter = layout.job.bay, layout.job.cutter
    kept_in = float(kept_from(keep_out, STOPPED.bound(BEFORE_IN)).limit)
    sheets_in = skin_in(layout) + gauge_in
    reaches = [sheets_in + THROUGH_IN]
    reaches += [tool.inch for tool in (bay.tool, cutter.behind if cutter else None) if tool]
    depths = [depth_in(keep_out, layout)] * len(reaches)
    if bay.bar:
        tied_in = keep_out.tied_back.inch if keep_out.tied_back else 0.0
        reaches.append(sheets_in + layout.limit("upset_allowance").value * limits.diameter_in + bay.bar.inch)
        depths.append(max(depths[0], tied_in))
    return any(depth - reach < kept_in - FLOAT_NOISE for depth, reach in zip(depths, reaches, strict=True))


def _riveted(layout: Layout, limits: RowLimits) -> Iterator[_Kept]:
    """Rows of landmarks and single fasteners, without those within the opening as it is, which come out with it."""
    bay, opening = layout.job.bay, layout.wanted.bounds
    for row in bay.rows:
        kept = _beside_fastener_in(layout, limits, row.diameter.inch if row.diameter else None)
        yield _Kept(row.bounds_in, kept, row.name)
    for number, there in enumerate(bay.fasteners, start=1):
        x, y = (at.inch for at in there.at)
        if opening[0] < x < opening[2] and opening[1] < y < opening[3]:
            continue
        kept = _beside_fastener_in(layout, limits, there.diameter.inch)
        yield _Kept((x, y, x, y), kept, str(number))


def _beside_fastener_in(layout: Layout, limits: RowLimits, diameter_in: float | None) -> float:
    """What the ring's edge keeps from the middle of a fastener that is there: its head lies clear of the edge, and a
    new hole keeps its distance from it [in]."""
    largest_in = max(limits.diameter_in, LARGEST_RIVET_IN if diameter_in is None else diameter_in)
    apart_in = layout.limit("new_to_existing_spacing").value * largest_in
    return max(HEAD_RATIO.value * (diameter_in or 0.0) / 2.0, apart_in - _row_inside_in(limits))


def _row_inside_in(limits: RowLimits) -> float:
    """How far the outermost row lies inside the ring's edge at least [in]."""
    return limits.edge_in + limits.kept_in
