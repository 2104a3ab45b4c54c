"""Rows that run all round, along an edge or on a circle: where the first hole lies, and which way they are numbered."""

from __future__ import annotations

import math

import numpy as np

from hatchwright.errors import Fault, GeometryError, JobError
from hatchwright.job.fasteners import Screws
from hatchwright.job.frame import OPPOSITE, Direction, Frame
from hatchwright.job.rivet_rows import LineRow, OffsetRow, PolarRow, Turn
from hatchwright.layout.outlines import Outlines, single
from hatchwright.number import MOST_HOLES
from hatchwright.said import said
from hatchwright.shapes.offset import erode, grow
from hatchwright.shapes.profile import Loop, profile_of
from hatchwright.shapes.stations import (
    Stations,
    bays_between,
    corner_middles,
    station_toward,
    stations,
    tangent_points,
)

Points = list[tuple[float, float]]

_SAME_IN = 1e-9
"""Holes as near as this to where a row is to begin are equally near [in]."""


def refuse_many(row: LineRow | OffsetRow | PolarRow | Screws, run_in: float, *, where: str) -> None:
    """Refuse a row before a hole of it is laid when its run takes more than any opening has."""
    pitch = None if isinstance(row, PolarRow) else row.pitch
    count = row.holes if isinstance(row, PolarRow) else row.count
    sides = row.per_side if isinstance(row, OffsetRow) else ()
    if pitch is not None and run_in / pitch.inch > MOST_HOLES:
        field, given, remedy = "pitch", pitch.text, said("error.many_pitch")
    elif count is not None and count > MOST_HOLES:
        field = "count" if row.count else "step"
        given, remedy = str(count), said("error.many_count", most=MOST_HOLES)
    elif sum(sides) > MOST_HOLES:
        field, given, remedy = "per_side", str(sum(sides)), said("error.many_count", most=MOST_HOLES)
    else:
        return
    what = said("error.many_holes", most=MOST_HOLES)
    raise JobError((Fault(f"{where}.{field}", what, given, remedy),))


def on_circle(row: PolarRow, center_in: tuple[float, float], *, where: str, frame: Frame) -> Points:
    """Hole centers of a polar row, in order [in].

    Args:
        center_in: where it gives no center of its own [in].
        where: field to name in an error.
    """
    refuse_many(row, 0.0, where=where)
    x_in, y_in = (row.center[0].inch, row.center[1].inch) if row.center else center_in
    begin, step = _angle_rad(row.start_at, frame), math.radians(row.step_deg) * _sense(row.direction, frame)
    turned = (begin + step * k for k in range(row.holes))
    return [(x_in + row.radius_in * math.cos(at), y_in + row.radius_in * math.sin(at)) for at in turned]


def all_round(row: OffsetRow, outlines: Outlines, *, where: str, frame: Frame) -> Points:
    """Hole centers of a row along an edge, in order [in].

    The first is the one nearest to where a ray from the opening's center meets the row, where the row says in which
    direction; with holes forced nowhere else it lies right there.

    Args:
        where: field to name in an error.
    """
    edges = {
        "opening": (outlines.wanted, grow),
        "doubler outer": (outlines.doubler_outer, erode),
        "doubler inner": (outlines.doubler_inner, grow),
        "plug": (outlines.plug, erode),
    }
    edge, move = edges[row.edge]
    if edge is None:
        raise GeometryError.saying("error.no_edge", where=where, edge=row.edge)
    path = single(move(profile_of(edge), row.distance.inch), where=f"{where}.distance")
    refuse_many(row, path.length_in, where=where)
    begin = None
    if row.start_at is not None:
        begin = station_toward(path, outlines.center_in, _angle_rad(row.start_at, frame))
    found = _stations(row, path, outlines.center_in, begin, where=where)
    points, along = found.points, found.along_in
    if _sense(row.direction, frame) < 0:
        points, along = np.roll(points[::-1], 1, axis=0), np.roll(along[::-1], 1)
    if begin is not None:
        off = np.abs(along - begin)
        off = np.minimum(off, path.length_in - off)
        points = np.roll(points, -int(np.flatnonzero(off <= off.min() + _SAME_IN)[0]), axis=0)
    return [tuple(point) for point in points.tolist()]


def _stations(
    row: OffsetRow, path: Loop, center_in: tuple[float, float], begin: float | None, *, where: str
) -> Stations:
    """The places of its holes, counterclockwise in the job's axes."""
    shift = 0.5 if row.stagger else 0.0
    if row.per_side:
        return _by_side(row, path, station_toward(path, center_in, 0.0), shift, where=where)
    forced = {"free": (), "middles": corner_middles(path), "tangents": tangent_points(path)}[row.corners]
    if not forced and begin is not None:
        forced = (begin,)
    if row.pitch is not None:
        return stations(path, pitch_in=row.pitch.inch, forced=forced, shift_ratio=shift)
    assert row.count is not None  # an offset row takes a pitch, a count or spaces on each side
    return bays_between(path, forced or (0.0,), (row.count,), shift_ratio=shift)


def _by_side(row: OffsetRow, path: Loop, ahead: float, shift: float, *, where: str) -> Stations:
    """So many spaces on each side from corner middle to corner middle, first the side toward X, then on toward Y."""
    ends = np.unique(np.round(np.mod(corner_middles(path), path.length_in), 12))
    if len(ends) != len(row.per_side):
        given = ", ".join(map(str, row.per_side))
        raise JobError.about(f"{where}.per_side", "error.per_side", given, n=len(ends))
    behind = np.mod(ahead - ends + _SAME_IN, path.length_in)
    first = int(behind.argmin())
    turns = path.length_in * (np.arange(len(ends)) < first)
    return bays_between(path, np.roll(ends + turns, -first), row.per_side, shift_ratio=shift)


def _angle_rad(start_at: float | Direction | None, frame: Frame) -> float:
    """The angle of a place on a row that runs all round, from X toward Y [rad]."""
    ways: dict[str, float] = {
        frame.x: 0.0,
        frame.y: 90.0,
        OPPOSITE[frame.x]: 180.0,
        OPPOSITE[frame.y]: 270.0,
    }
    return math.radians(ways[start_at] if isinstance(start_at, str) else start_at or 0.0)


def _sense(direction: Turn | None, frame: Frame) -> int:
    """1 where a row runs from X toward Y, -1 where it runs the other way; by itself it runs from X toward Y."""
    if direction is None:
        return 1
    is_clockwise = direction == "clockwise"
    return 1 if is_clockwise == frame.is_mirrored else -1
