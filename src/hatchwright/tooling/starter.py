"""The hole that the cutter starts in and the holes that make the corners: where, how large, how deep.

Method: docs/theory/starter.md.
"""

from __future__ import annotations

from dataclasses import dataclass

from hatchwright.errors import GeometryError
from hatchwright.job.bay import KeepOut, LandmarkRow
from hatchwright.job.cutter import Cutter
from hatchwright.layout.gaps import gap_to_point
from hatchwright.layout.layout import Layout
from hatchwright.shapes.boolean import difference
from hatchwright.shapes.distance import distances
from hatchwright.shapes.offset import erode
from hatchwright.shapes.outlines import rounded_rectangle
from hatchwright.shapes.profile import Profile
from hatchwright.tooling.guide_template import corner_drills

BESIDE_IN = 0.25
"""What is to stay between a drilled hole and what lies behind, seen from outside [in]. Common practice, no source."""

THROUGH_IN = 0.125
"""How far a drill's point may come out behind the skin: the stop's setting [in]. Common practice, no source."""

BEFORE_IN = 0.125
"""What is to stay between the drill's point and what lies behind [in]. Common practice, no source."""

BACKING = "wood block held against the skin from behind; pilot 1/8 first"
"""How thin sheet is drilled. Common practice, no source."""

_SAME_IN = 1e-9


@dataclass(frozen=True, slots=True)
class DrilledHole:
    """A hole of the making, in the waste.

    Args:
        mark: "S" for the starter, "D1", "D2" ... for corner holes.
        diameter_in: its diameter [in].
        centre: (x, y) from the job's two datums [in].
        to_line_in: from its edge to the rough line, 0 where it touches it [in].
        over: what lies behind it, or nearer to it than `BESIDE_IN` seen from outside.
        from_rows: distance of its centre from each landmark row, by the row's name, to be taped as a check [in].
    """

    mark: str
    diameter_in: float
    centre: tuple[float, float]
    to_line_in: float
    over: tuple[KeepOut, ...]
    from_rows: tuple[tuple[str, float], ...]


def starter_hole(layout: Layout, centre: tuple[float, float]) -> DrilledHole:
    """The starter hole at a place.

    Args:
        layout: as derived, with a cutter.
        centre: where [in].
    Returns:
        DrilledHole: `to_line_in` is negative when it reaches beyond the rough line.
    Raises:
        GeometryError: the job has no cutter.
    """
    diameter_in = starter_diameter_in(_cutter(layout))
    assert layout.rough_cut is not None  # a cutter gives a rough cut
    found = distances(layout.rough_cut, [centre])
    to_middle = float(found.distance_in[0]) * (1.0 if found.inside[0] else -1.0)
    return _drilled(layout, "S", diameter_in, centre, to_middle - diameter_in / 2.0)


def starter_diameter_in(cutter: Cutter) -> float:
    """The starter hole that a cutter needs, as wide as its cut when none was measured [in]."""
    return cutter.starter.inch if cutter.starter else cutter.cut_width.inch


def corner_holes(layout: Layout) -> tuple[DrilledHole, ...]:
    """The holes that make the rounded corners of the rough cut.

    Args:
        layout: as derived.
    Returns:
        tuple: D1, D2 ... tangent to the rough line; empty without a cutter or without rounded corners.
    """
    drills = corner_drills(layout.rough_cut) if layout.rough_cut else ()
    return tuple(
        _drilled(layout, f"D{number}", drill.diameter_in, drill.centre, 0.0)
        for number, drill in enumerate(drills, start=1)
    )


def best_starter(layout: Layout) -> DrilledHole | None:
    """The starter hole nearest to where it is wanted, else to the centre, that is clear of the line and of all behind.

    Args:
        layout: as derived, with a cutter.
    Returns:
        DrilledHole | None: None when no place of the waste is clear.
    Raises:
        GeometryError: the job has no cutter.
    """
    cutter = _cutter(layout)
    room = _room(layout, starter_diameter_in(cutter) / 2.0)
    if room.is_empty:
        return None
    at = cutter.starter_at
    wish = (at[0].inch, at[1].inch) if at else layout.centre_in
    found = distances(room, [wish])
    if found.inside[0]:
        return starter_hole(layout, wish)
    x, y = found.foot[0]
    return starter_hole(layout, (float(x), float(y)))


def _cutter(layout: Layout) -> Cutter:
    if layout.job.cutter is None or layout.rough_cut is None:
        raise GeometryError(
            "a starter hole needs a cutter", where="cutter", remedy="Add the section [cutter]"
        )
    return layout.job.cutter


def _room(layout: Layout, radius_in: float) -> Profile:
    """Where the middle of a starter hole may lie."""
    assert layout.rough_cut is not None
    room = erode(layout.rough_cut, radius_in + layout.limit("starter_from_cut_min").value)
    for keep_out in layout.job.bay.keep_outs:
        if not room.is_empty:
            room = _without(room, keep_out, radius_in + BESIDE_IN)
    return room


def _without(room: Profile, keep_out: KeepOut, beside_in: float) -> Profile:
    """The room less a keep-out grown on all sides, where it has sides."""
    x_min, y_min, x_max, y_max = room.bounds
    x_from, y_from, x_to, y_to = keep_out.bounds_in
    left, right = max(x_from - beside_in, x_min - 1.0), min(x_to + beside_in, x_max + 1.0)
    low, high = max(y_from - beside_in, y_min - 1.0), min(y_to + beside_in, y_max + 1.0)
    if right - left <= _SAME_IN or high - low <= _SAME_IN:
        return room
    taken = rounded_rectangle(
        width_in=right - left,
        height_in=high - low,
        radius_in=0.0,
        centre=((left + right) / 2.0, (low + high) / 2.0),
    )
    return difference(room, Profile((taken,)))


def _drilled(
    layout: Layout, mark: str, diameter_in: float, centre: tuple[float, float], to_line_in: float
) -> DrilledHole:
    bay = layout.job.bay
    reach_in = diameter_in / 2.0 + BESIDE_IN
    return DrilledHole(
        mark=mark,
        diameter_in=diameter_in,
        centre=centre,
        to_line_in=to_line_in,
        over=tuple(one for one in bay.keep_outs if gap_to_point(one, centre) < reach_in - _SAME_IN),
        from_rows=tuple((row.name, _off_row(row, centre)) for row in bay.rows),
    )


def _off_row(row: LandmarkRow, centre: tuple[float, float]) -> float:
    if row.x is not None:
        return abs(centre[0] - row.x.inch)
    assert row.y is not None  # a row runs along one axis
    return abs(centre[1] - row.y.inch)


def drill_stop_in(layout: Layout) -> float:
    """How far the drill's point may go, from the outer face of the skin: the setting of the stop [in]."""
    skin = layout.job.skin
    return max(skin.thickness.inch, skin.measured.inch if skin.measured else 0.0) + THROUGH_IN


def shallowest(layout: Layout) -> KeepOut | None:
    """What lies nearest behind the skin within the rough cut, None when nothing is known to.

    Args:
        layout: as derived.
    Returns:
        KeepOut | None: that of the least depth; one without a depth lies against the skin.
    """
    if layout.rough_cut is None:
        return None
    x_min, y_min, x_max, y_max = layout.rough_cut.bounds
    behind = [
        one
        for one in layout.job.bay.keep_outs
        if one.bounds_in[0] <= x_max
        and one.bounds_in[2] >= x_min
        and one.bounds_in[1] <= y_max
        and one.bounds_in[3] >= y_min
    ]
    return min(behind, key=depth_in, default=None)


def depth_in(keep_out: KeepOut) -> float:
    """How far something lies behind the skin, 0 when it lies against it [in]."""
    return keep_out.depth.inch if keep_out.depth else 0.0
