"""Where the holes of a row lie, and where the screws of a cover."""

from __future__ import annotations

import math

import numpy as np

from hatchwright.errors import GeometryError, JobError
from hatchwright.job.fasteners import Screws
from hatchwright.job.frame import Frame
from hatchwright.job.rivet_rows import LineRow, OffsetRow, PointRow, PolarRow, Row
from hatchwright.layout.all_round import Points, all_round, on_circle, refuse_many
from hatchwright.layout.outlines import Outlines, single
from hatchwright.said import inch, said
from hatchwright.shapes.offset import erode
from hatchwright.shapes.pieces import pair_of
from hatchwright.shapes.profile import Line, Loop, profile_of
from hatchwright.shapes.stations import nearest_station, stations
from hatchwright.units import Length


def row_points(row: Row, outlines: Outlines, *, where: str, frame: Frame) -> Points:
    """Hole centers of one row of rivets, in order [in].

    Args:
        where: field to name in an error.
        frame: by which a direction of the aircraft, and clockwise, are read.
    Raises:
        GeometryError: the row cannot be laid there.
        JobError: its pitch or count asks for more than `MOST_HOLES`; none is laid then.
    """
    match row:
        case PointRow():
            return [(x.inch, y.inch) for x, y in row.points]
        case LineRow():
            return _line(row, where=where)
        case OffsetRow():
            return all_round(row, outlines, where=where, frame=frame)
        case PolarRow():
            return on_circle(row, outlines.center_in, where=where, frame=frame)


def refuse_into_each_other(
    row: Row | Screws, points: Points, nominal_in: float | None, *, where: str, name: str
) -> None:
    """Refuse a row whose holes would run into each other: its pitch is no pitch, and nothing of it can be judged.

    Points that were typed one by one are not refused: there the rules tell which lie too close.

    Args:
        points: its hole centers in order [in].
        nominal_in: diameter of its fasteners, None where no table lists them [in].
        where: field to name in an error.
    """
    if isinstance(row, PointRow) or (isinstance(row, Screws) and row.pitch is None):
        return
    bored = [size.inch for size in (row.final, row.pilot) if size is not None]
    hole_in = max([*bored, nominal_in or 0.0])
    pitch = None if isinstance(row, PolarRow) else row.pitch
    field, given = _spacing(row)
    if pitch is not None:
        apart_in = pitch.inch
    else:
        ahead = points[1:] + (points[:1] if len(points) > 2 else [])
        apart_in = min(map(math.dist, points, ahead), default=math.inf)
    if apart_in <= hole_in:
        raise JobError.about(
            f"{where}.{field}",
            "error.into_each_other",
            given,
            row=name,
            apart=inch(apart_in),
            hole=inch(hole_in),
        )


def _spacing(row: OffsetRow | LineRow | PolarRow | Screws) -> tuple[str, str]:
    """The field that spaces a row, and what was typed there."""
    held = {name: getattr(row, name, None) for name in ("pitch", "count", "per_side", "step")}
    field, value = next((name, value) for name, value in held.items() if value)
    if isinstance(value, tuple):
        return field, ", ".join(map(str, value))
    return field, value.text if isinstance(value, Length) else f"{value:g}"


def _line(row: LineRow, *, where: str) -> Points:
    start, end = (complex(x.inch, y.inch) for x, y in (row.start, row.end))
    run_in = abs(end - start)
    refuse_many(row, run_in, where=where)
    if row.pitch is not None:
        bays = max(1, math.ceil(run_in / row.pitch.inch - 1e-9))
    else:
        assert row.count is not None  # LineRow takes a pitch or a count
        bays = row.count - 1
    return [pair_of(start + (end - start) * k / max(bays, 1)) for k in range(bays + 1)]


def screw_points(screws: Screws, cover: Loop, opening: Loop, *, where: str) -> Points:
    """Centers of the screws of a cover, in order round it [in].

    Args:
        cover: outline of the cover [in].
        opening: the opening; its straights are where clip nuts can sit [in].
        where: field to name in an error.
    Raises:
        GeometryError: the screws cannot be laid there.
        JobError: their pitch or count asks for more than `MOST_HOLES`; none is laid then.
    """
    path = single(erode(profile_of(cover), screws.inset.inch), where=f"{where}.inset")
    refuse_many(screws, opening.length_in if screws.straights_only else path.length_in, where=where)
    if screws.straights_only:
        return _on_straights(screws, path, opening, where=where)
    _x_min, y_min, x_max, y_max = path.bounds
    start = nearest_station(path, (x_max, (y_min + y_max) / 2.0))
    if screws.pitch is not None:
        pitch_in = screws.pitch.inch
    else:
        assert screws.count is not None  # Screws take a pitch or a count
        pitch_in = path.length_in / screws.count * (1 + 1e-12)
    found = stations(path, pitch_in=pitch_in, forced=(start,), shift_ratio=0.5)
    return [tuple(point) for point in found.points.tolist()]


def _on_straights(screws: Screws, path: Loop, opening: Loop, *, where: str) -> Points:
    """Put clip-nut screws opposite the straight sides of the opening, clear of the corner arcs."""
    assert screws.pitch is not None  # Screws on straights are spaced by pitch
    clear = screws.from_tangent.inch if screws.from_tangent else 0.0
    points: Points = []
    for side in opening.pieces():
        if not isinstance(side, Line):
            continue
        start, end = np.array(side.start), np.array(side.end)
        along = (end - start) / np.hypot(*(end - start))
        usable = float(np.hypot(*(end - start))) - 2 * clear
        if usable <= 0:
            continue
        bays = max(1, math.ceil(usable / screws.pitch.inch - 1e-9))
        for k in range(bays + 1):
            foot = start + along * (clear + usable * k / bays)
            points.append(_opposite(path, foot, np.array([along[1], -along[0]])))
    if not points:
        raise GeometryError.saying("error.clip_side", where=where)
    return points


def _opposite(path: Loop, foot: np.ndarray, outward: np.ndarray) -> tuple[float, float]:
    """The point of the screw line straight out from a point of the opening's edge."""
    nearest: tuple[float, tuple[float, float]] | None = None
    for piece in path.pieces():
        if not isinstance(piece, Line):
            continue
        start, end = np.array(piece.start), np.array(piece.end)
        matrix = np.column_stack([outward, start - end])
        if abs(np.linalg.det(matrix)) < 1e-12:
            continue
        reach, share = np.linalg.solve(matrix, start - foot)
        if 0.0 <= share <= 1.0 and (nearest is None or abs(reach) < abs(nearest[0])):
            x, y = foot + reach * outward
            nearest = (float(reach), (float(x), float(y)))
    if nearest is None:
        raise GeometryError(said("error.screw_line"), where="cover.screws.inset")
    return nearest[1]
