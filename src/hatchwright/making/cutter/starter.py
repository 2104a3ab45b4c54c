"""The hole that the cutter starts in and the holes that make the corners: where, how large, how deep.

Method: docs/theory/starter.md.
"""

from __future__ import annotations

import math

import numpy as np
from msgspec import Struct
from msgspec.structs import replace

from hatchwright.job.bay import KeepOut
from hatchwright.job.cutter import Cutter
from hatchwright.layout.behind_skin import BESIDE_IN, kept_beside_in
from hatchwright.layout.gaps import gap_to_point
from hatchwright.layout.layout import Layout
from hatchwright.making.making import Cutting, once
from hatchwright.making.template.guide_template import GuideChain, corner_drills
from hatchwright.shapes.boolean import difference
from hatchwright.shapes.corners import Corner
from hatchwright.shapes.distance import distances
from hatchwright.shapes.offset import erode, grow
from hatchwright.shapes.outlines import rounded_rectangle
from hatchwright.shapes.profile import Profile
from hatchwright.shapes.stations import places_at

_SAME_IN = 1e-9
_TOUCHES_IN = 1e-6
_STEP_IN = 0.005


class DrilledHole(Struct, frozen=True):
    """A hole of the making, in the waste.

    Args:
        mark: "S" for the starter, "D1", "D2" ... for corner holes.
        center: (x, y) from the job's two datums [in].
        to_line_in: from its edge to the rough line, 0 where it touches it [in].
        over: what lies behind it, or nearer to it than `BESIDE_IN` seen from outside.
        guide_clear_in: from the guide of a cutter that starts there to the plug, negative where it would stand on it;
            None in a window and for corner holes [in].
    """

    mark: str
    diameter_in: float
    center: tuple[float, float]
    to_line_in: float
    over: tuple[KeepOut, ...]
    guide_clear_in: float | None = None


def starter_hole(cutting: Cutting, center: tuple[float, float]) -> DrilledHole:
    """The starter hole at a place; its `to_line_in` is negative when it reaches beyond the rough line."""
    diameter_in, chain = starter_diameter_in(cutting.cutter), cutting.chain
    to_line_in = _inside_in(cutting.rough, center) - diameter_in / 2.0
    shown_in = 0.0 if abs(to_line_in) < _SAME_IN else to_line_in
    hole = _drilled(cutting.layout, "S", diameter_in, center, shown_in)
    if chain is None or chain.guide.kind == "female":
        return hole
    clear_in = -_inside_in(chain.machinable, center) - chain.guide.guide_in / 2.0
    return replace(hole, guide_clear_in=0.0 if abs(clear_in) < _SAME_IN else clear_in)


def starter_diameter_in(cutter: Cutter) -> float:
    """The starter hole that a cutter needs, as wide as its cut when none was measured [in]."""
    return cutter.starter.inch if cutter.starter else cutter.cut_width.inch


@once
def chosen_starter(cutting: Cutting) -> DrilledHole | None:
    """The starter hole where the job asks for it, else at the best place; None where no place is clear."""
    at = cutting.cutter.starter_at
    return starter_hole(cutting, (at[0].inch, at[1].inch)) if at else best_starter(cutting)


def clear_starter(cutting: Cutting) -> DrilledHole | None:
    """The chosen starter hole when it is one to be drilled; None when the place asked for is not clear."""
    hole = chosen_starter(cutting)
    if hole is None or hole.over or (hole.guide_clear_in or 0.0) < -_SAME_IN:
        return None
    is_narrow = hole.diameter_in <= cutting.cutter.cut_width.inch + _SAME_IN
    is_in_cut = hole.guide_clear_in is not None and is_narrow
    least_in = 0.0 if is_in_cut else cutting.layout.limit("starter_from_cut_min").value
    return hole if hole.to_line_in >= least_in - _SAME_IN else None


@once
def corner_holes(cutting: Cutting) -> tuple[DrilledHole, ...]:
    """The holes that make the rounded corners that the cutter does not make by itself: D1, D2 ... tangent to
    the rough line, clear of each other, of the starter and of a plug."""
    rough, chain = cutting.rough, cutting.chain
    made = chain.predicted if chain else _opened(rough, cutting.cutter.cut_width.inch / 2.0)
    needed = [drill for drill in corner_drills(rough) if _holds(rough, drill) and not _holds(made, drill)]
    if chain and chain.guide.kind == "male":
        needed = [drill for drill in needed if -_inside_in(chain.machinable, drill.center) >= drill.radius_in]
    starter = chosen_starter(cutting) if needed else None
    taken = [(drill.center, drill.radius_in) for drill in needed]
    taken += [(starter.center, starter.diameter_in / 2.0)] if starter else []
    clear = [
        drill
        for at, drill in enumerate(needed)
        if all(
            math.dist(drill.center, center) >= drill.radius_in + radius_in
            for other, (center, radius_in) in enumerate(taken)
            if other != at
        )
    ]
    return tuple(
        _drilled(cutting.layout, f"D{number}", 2.0 * drill.radius_in, drill.center, 0.0)
        for number, drill in enumerate(clear, start=1)
    )


def best_starter(cutting: Cutting) -> DrilledHole | None:
    """The starter hole nearest to where it is wanted, else to the center, that is clear of the line and of
    all behind; None when no place of the waste is.

    Beside a plug, where nothing is clear of the line, a hole no wider than the cut may lie on the cutter's
    path."""
    cutter, chain = cutting.cutter, cutting.chain
    radius_in = starter_diameter_in(cutter) / 2.0
    at = cutter.starter_at
    wish = (at[0].inch, at[1].inch) if at else cutting.layout.center_in
    if (clear := starter_near(cutting, wish)) is not None:
        return clear
    if chain and chain.guide.kind == "male" and 2.0 * radius_in <= chain.guide.cut_in + _SAME_IN:
        return _on_path(cutting, chain, wish, radius_in)
    return None


def starter_near(cutting: Cutting, place: tuple[float, float]) -> DrilledHole | None:
    """The starter hole nearest to a place that is clear of the line and of all behind; None where none is."""
    room = _room(cutting, starter_diameter_in(cutting.cutter) / 2.0)
    if room.is_empty:
        return None
    found = distances(room, [place])
    x, y = place if found.inside[0] else found.foot[0]
    return starter_hole(cutting, (float(x), float(y)))


def largest_starter_in(cutting: Cutting) -> float:
    """The widest starter hole that finds a clear place in the waste, to .001 in; 0 when none does [in]."""
    low, high = 0.0, starter_diameter_in(cutting.cutter)
    while high - low > 1e-3:
        middle = (low + high) / 2.0
        low, high = (low, middle) if _room(cutting, middle / 2.0).is_empty else (middle, high)
    return low


def _on_path(
    cutting: Cutting, chain: GuideChain, wish: tuple[float, float], radius_in: float
) -> DrilledHole | None:
    """The place of the cutter's path nearest to a wish, clear of all that lies behind."""
    loops = chain.reached.loops
    along_in = (np.arange(math.ceil(loop.length_in / _STEP_IN)) * _STEP_IN for loop in loops)
    places = np.vstack([places_at(*one).points for one in zip(loops, along_in, strict=True)])
    near = places[np.argsort(np.hypot(*(places - wish).T), kind="stable")]
    for x, y in (*distances(chain.reached, [wish]).foot, *near):
        if not _behind(cutting.layout, (float(x), float(y)), radius_in):
            return starter_hole(cutting, (float(x), float(y)))
    return None


def _inside_in(profile: Profile, place: tuple[float, float]) -> float:
    """How far a place lies inside a region, negative outside [in]."""
    return float(distances(profile, [place]).inward_in[0])


def _holds(region: Profile, drill: Corner) -> bool:
    """Whether a hole lies in a region, which its edge may touch."""
    return not region.is_empty and _inside_in(region, drill.center) >= drill.radius_in - _TOUCHES_IN


def _opened(rough: Profile, radius_in: float) -> Profile:
    """What a cutter takes that is led along a line by hand."""
    path = erode(rough, radius_in)
    return path if path.is_empty else grow(path, radius_in)


def _room(cutting: Cutting, radius_in: float) -> Profile:
    """Where the middle of a starter hole may lie, the guide clear of a plug."""
    layout, chain = cutting.layout, cutting.chain
    room = erode(cutting.rough, radius_in + layout.limit("starter_from_cut_min").value)
    if chain and chain.guide.kind == "male" and not room.is_empty:
        room = difference(room, chain.reached)
    for keep_out in layout.job.bay.keep_outs:
        if not room.is_empty:
            room = _without(room, keep_out, radius_in + kept_beside_in(keep_out, BESIDE_IN))
    return room


def _without(room: Profile, keep_out: KeepOut, beside_in: float) -> Profile:
    """The room less a keep-out grown on all sides, where it has sides."""
    x_min, y_min, x_max, y_max = room.bounds
    x_from, y_from, x_to, y_to = keep_out.bounds_in
    left, right = max(x_from - beside_in, x_min - 1.0), min(x_to + beside_in, x_max + 1.0)
    low, high = max(y_from - beside_in, y_min - 1.0), min(y_to + beside_in, y_max + 1.0)
    width_in, height_in, middle = right - left, high - low, ((left + right) / 2.0, (low + high) / 2.0)
    if min(width_in, height_in) <= _SAME_IN:
        return room
    taken = rounded_rectangle(width_in=width_in, height_in=height_in, radius_in=0.0, center=middle)
    return difference(room, Profile((taken,)))


def _drilled(
    layout: Layout, mark: str, diameter_in: float, center: tuple[float, float], to_line_in: float
) -> DrilledHole:
    return DrilledHole(mark, diameter_in, center, to_line_in, _behind(layout, center, diameter_in / 2.0))


def _behind(layout: Layout, place: tuple[float, float], radius_in: float) -> tuple[KeepOut, ...]:
    """What lies behind a hole, or too near beside it."""
    return tuple(
        one
        for one in layout.job.bay.keep_outs
        if gap_to_point(one, place) < radius_in + kept_beside_in(one, BESIDE_IN) - _SAME_IN
    )
