"""Runs of points out of a DXF drawing, curves flattened.

Source: the DXF reference; splines and ellipses are evaluated by ezdxf.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import islice
from pathlib import Path
from typing import Any

import numpy as np

from hatchwright.errors import EntryError
from hatchwright.inspection.trace.closed_loops import MOST_POINTS
from hatchwright.job.dxf_loop import STRAIGHT_TO_THE_PAGE, facing_sign, not_flat, open_drawing, told_in_words
from hatchwright.number import SIZE_IN
from hatchwright.said import inch, said
from hatchwright.shapes.pieces import Complexes, Floats, following, pieces_between
from hatchwright.units import Unit

MOST_OF_CURVE = 20_000
"""Chords of one curve; a drawing that is spoilt may have any number [-]."""

_CURVES = ("ARC", "CIRCLE", "ELLIPSE", "SPLINE")
_POLYLINES = ("LWPOLYLINE", "POLYLINE")
_PASSED_OVER = ("TEXT", "MTEXT", "DIMENSION", "POINT", "LEADER", "MULTILEADER", "IMAGE", "HATCH")
_LONGEST_TOLD = 80
_FLAT_BULGE = 1e-9


def dxf_runs(path: Path, *, layer: str, unit: Unit | None, sag_in: float) -> list[Complexes]:
    """Every run of points of the lines, polylines, arcs, ellipses and splines of a DXF drawing [in].

    Args:
        layer: only this layer, "" for all.
        unit: of a drawing that names none.
        sag_in: how far chords may lie off a curve [in].
    Raises:
        EntryError: it can't be read, has no unit or another than was said, holds what is no line, or does not lie flat.
    """
    with told_in_words(path):
        drawing, scale = open_drawing(path, unit=unit)
        found = [e for e in drawing.modelspace() if not layer or e.dxf.layer == layer]
        kinds = {e.dxftype() for e in found} - {"LINE", *_CURVES, *_POLYLINES, *_PASSED_OVER}
        if kinds:
            others = ", ".join(kind if kind.isprintable() else "?" for kind in sorted(kinds))
            raise EntryError.saying("trace.dxf_kinds", where=path.name, kinds=others[:_LONGEST_TOLD])
        runs: list[Complexes] = []
        points = 0
        for entity in found:
            if entity.dxftype() in _CURVES and not _reach(entity) * scale <= SIZE_IN.most:
                raise EntryError.saying("job.dxf_far", name=path.name, most=inch(SIZE_IN.most))
            for run in _runs(entity, sag_in / scale):
                points += len(run)
                if points > MOST_POINTS or (entity.dxftype() in _CURVES and len(run) == MOST_OF_CURVE):
                    raise EntryError.saying("trace.many", where=path.name)
                runs.append(scale * run)
        return runs


def _reach(entity: Any) -> float:
    """How far a curve may reach from zero, before it is divided into chords [the drawing's unit]."""
    if entity.dxftype() == "SPLINE":
        places = [*entity.control_points, *entity.fit_points]
        return float(np.abs(np.array(places, dtype=np.float64)).max()) if places else 0.0
    x, y, _ = entity.dxf.center
    size = entity.dxf.major_axis.magnitude if entity.dxftype() == "ELLIPSE" else entity.dxf.radius
    return float(max(abs(x), abs(y), abs(size)))


def _runs(entity: Any, sag: float) -> Iterator[Complexes]:
    """The run of one entity in the drawing's unit; none of what is passed over."""
    kind = entity.dxftype()
    if kind == "LINE":
        yield _seen(entity, [entity.dxf.start, entity.dxf.end])
    elif kind in _CURVES:
        yield _seen(entity, list(islice(entity.flattening(sag), MOST_OF_CURVE)))
    elif kind == "LWPOLYLINE":
        yield _polyline(entity, np.array(entity.get_points("xyb"), dtype=np.float64), entity.closed, sag)
    elif kind == "POLYLINE":
        if not (entity.is_2d_polyline or entity.is_3d_polyline):
            raise EntryError.saying("trace.dxf_kinds", kinds="MESH")
        seen = (v for v in entity.vertices if not v.get_flag_state(v.SPLINE_FRAME_CONTROL_POINT))
        rows = [(v.dxf.location.x, v.dxf.location.y, v.dxf.bulge) for v in seen]
        yield _polyline(entity, np.array(rows, dtype=np.float64), entity.is_closed, sag)


def _seen(entity: Any, places: list[Any]) -> Complexes:
    """Places from straight above; EntryError where they lie at different heights."""
    heights = [place.z for place in places]
    if max(heights) - min(heights) > STRAIGHT_TO_THE_PAGE:
        raise not_flat(entity, said("job.dxf_ends", start=f"{min(heights):g}", end=f"{max(heights):g}"))
    return np.array([complex(place.x, place.y) for place in places])


def _polyline(entity: Any, rows: Floats, is_closed: bool, sag: float) -> Complexes:
    if len(rows) < 2:
        return np.zeros(0, dtype=np.complex128)
    sign = facing_sign(entity)
    z = sign * rows[:, 0] + 1j * rows[:, 1]
    after = following(z)
    moves = np.abs(after - z) > 0.0
    if not is_closed:
        moves[-1] = False
    pieces = pieces_between(z[moves], after[moves], sign * rows[moves, 2])
    if not pieces.count:
        return np.zeros(0, dtype=np.complex128)
    drawn = pieces.at(*pieces.chord_steps(sag))
    return np.append(drawn, pieces.end[-1])
