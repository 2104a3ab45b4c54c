"""Read closed loops of lines and arcs from a DXF file."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np
import numpy.typing as npt

from hatchwright.errors import EntryError, HatchwrightError
from hatchwright.number import SIZE_IN
from hatchwright.said import Place, Said, inch, said
from hatchwright.shapes.profile import Loop
from hatchwright.units import MM_PER_IN, Unit

if TYPE_CHECKING:
    from ezdxf.document import Drawing

LARGEST_FILE_BYTES = 1_000_000
MOST_OBJECTS = 20_000
"""Layers, styles and pieces together; more take seconds to read, and an opening needs a few hundred [-]."""

MOST_PIECES = 1000
"""No opening has more lines and arcs [-]."""

CLOSED_GAP_IN = 1e-3
"""Ends of neighboring pieces may lie this far apart; drawing programs round to three or four places [in]."""

STRAIGHT_TO_THE_PAGE = 1e-9
"""A direction that leans by less than this is square to the drawing's X and Y [-]."""

_UNITS: dict[int, Unit] = {1: "in", 4: "mm"}
"""Of $INSUNITS. Source: the DXF reference, header variables."""

_LONGEST_TOLD = 80
_CLOSED_PIECES = ("LWPOLYLINE", "CIRCLE")
_OPEN_PIECES = ("LINE", "ARC")

_Rows = npt.NDArray[np.float64]
"""x, y and bulge of each piece of a loop, shape (n, 3) [the drawing's unit]."""

_Piece = tuple[complex, complex, float]
"""Start and end x + iy [the drawing's unit], and bulge."""


def read_loop(path: Path, *, layer: str = "") -> Loop:
    """Read the one closed loop of a DXF file.

    Args:
        layer: only this layer, or "" for all.
    Returns:
        Loop: counter-clockwise, lines and arcs kept exactly [in].
    Raises:
        EntryError: no file, no unit, no loop, more than one loop, a gap, a curve that is neither line nor arc, or a
            piece that does not lie flat in the drawing.
    Source: the DXF reference, object coordinate systems: polylines, circles and arcs stand in coordinates of their own
        that follow from their extrusion; lines stand in those of the drawing.
    """
    with told_in_words(path):
        drawing, scale = open_drawing(path)
        found = [e for e in drawing.modelspace() if not layer or e.dxf.layer == layer]
        kinds = {e.dxftype() for e in found} - {*_CLOSED_PIECES, *_OPEN_PIECES, "TEXT", "MTEXT", "DIMENSION"}
        if kinds:
            others = ", ".join(kind if kind.isprintable() else "?" for kind in sorted(kinds))
            raise EntryError.saying("job.dxf_kinds", name=path.name, kinds=others[:_LONGEST_TOLD])
        loops = [_closed_rows(e) for e in found if e.dxftype() in _CLOSED_PIECES]
        pieces = [_piece(e) for e in found if e.dxftype() in _OPEN_PIECES]
        if len(pieces) + sum(map(len, loops)) > MOST_PIECES:
            raise EntryError.saying("job.dxf_many", name=path.name, most=MOST_PIECES)
        if pieces:
            loops.append(_chain(pieces, gap=CLOSED_GAP_IN / scale, name=path.name))
        if len(loops) != 1:
            raise EntryError.saying("job.dxf_loops", name=path.name, loops=len(loops))
        return _loop(loops[0], scale, name=path.name)


def read_closed(path: Path, *, layer: str) -> tuple[Loop, ...]:
    """Read every closed polyline and circle of one layer of a DXF file; whatever else lies there is passed over.

    Returns:
        tuple[Loop, ...]: counter-clockwise, in the order of the file [in].
    Raises:
        EntryError: no file, no unit, an open polyline, or a piece that does not lie flat in the drawing.
    """
    with told_in_words(path):
        drawing, scale = open_drawing(path)
        found = [e for e in drawing.modelspace() if e.dxf.layer == layer and e.dxftype() in _CLOSED_PIECES]
        loops = [_closed_rows(entity) for entity in found]
        if sum(map(len, loops)) > MOST_PIECES:
            raise EntryError.saying("job.dxf_many", name=path.name, most=MOST_PIECES)
        return tuple(_loop(rows, scale, name=path.name) for rows in loops)


@contextmanager
def told_in_words(path: Path) -> Iterator[None]:
    """Whatever the library stumbles over in a drawing is a drawing that cannot be read: it names no errors of its own
    for most of what can be wrong in one."""
    try:
        yield
    except HatchwrightError:
        raise
    except FileNotFoundError:
        raise EntryError.saying("job.dxf_none", name=path.name) from None
    except Exception:
        raise EntryError.saying("job.dxf_unread", name=path.name) from None


def _loop(rows: _Rows, scale: float, *, name: str) -> Loop:
    """The closed loop of rows in the drawing's unit, counter-clockwise [in]."""
    rows = rows * np.array([scale, scale, 1.0])
    if not np.all(np.abs(rows[:, :2]) <= SIZE_IN.most):  # neither is what is no number
        raise EntryError.saying("job.dxf_far", name=name, most=inch(SIZE_IN.most))
    loop = Loop(rows)
    return loop if loop.area_sq_in > 0.0 else loop.reversed()


def open_drawing(path: Path, *, unit: Unit | None = None) -> tuple[Drawing, float]:
    """A drawing, and what takes its unit to inches.

    Args:
        unit: of a drawing that names none, as a person says.
    Raises:
        EntryError: it is too large, names no unit and nobody did, or names another than was said.
    """
    import logging

    logging.getLogger("ezdxf").disabled = True  # what is wrong with a file is told in our words
    from ezdxf.filemanagement import readfile

    if path.stat().st_size > LARGEST_FILE_BYTES:
        raise EntryError.saying("job.dxf_large", name=path.name, most=LARGEST_FILE_BYTES // 1_000_000)
    raw = path.read_bytes()
    is_binary = b"\0" in raw
    codes = raw.splitlines()[::2]
    if is_binary or sum(code.strip() == b"0" for code in codes) > MOST_OBJECTS:
        raise EntryError.saying("job.dxf_unread", name=path.name)
    drawing = readfile(path)
    code = drawing.header.get("$INSUNITS", 0)
    named = _UNITS.get(code)
    if named and unit and named != unit:
        raise EntryError.saying("job.dxf_other_unit", name=path.name, named=named, told=unit)
    if (code and not named) or not (named or unit):
        raise EntryError.saying("job.dxf_unit", name=path.name)
    return drawing, 1.0 if (named or unit) == "in" else 1.0 / MM_PER_IN


def _split(rows: list[tuple[float, float, float]]) -> _Rows:
    """Halve every arc over 180 degrees."""
    out: list[tuple[float, float, float]] = []
    for (x, y, bulge), (x2, y2, _) in zip(rows, rows[1:] + rows[:1], strict=True):
        if abs(bulge) <= 1.0:
            out.append((x, y, bulge))
            continue
        half = np.tan(np.arctan(bulge) / 2.0)
        mx, my = (x + x2) / 2.0, (y + y2) / 2.0
        out += [(x, y, half), (mx + bulge * (y2 - y) / 2.0, my - bulge * (x2 - x) / 2.0, half)]
    return np.array(out)


def facing_sign(entity: Any) -> float:
    """1 for a piece drawn from above; -1 for one drawn from below, where X and the way round are mirrored.

    Raises:
        EntryError: it is drawn from aside.
    """
    x, y, z = entity.dxf.extrusion
    if np.hypot(x, y) > STRAIGHT_TO_THE_PAGE * abs(z) or z == 0.0:
        raise not_flat(entity, said("job.dxf_extrusion", x=f"{x:g}", y=f"{y:g}", z=f"{z:g}"))
    return 1.0 if z > 0.0 else -1.0


def not_flat(entity: Any, why: Said) -> EntryError:
    """What refuses a piece that does not lie flat in the drawing."""
    return EntryError(
        said("job.dxf_not_flat", kind=entity.dxftype(), why=why), remedy=said("job.dxf_flat.do")
    )


def _closed_rows(entity: Any) -> _Rows:
    facing = facing_sign(entity)
    if entity.dxftype() == "CIRCLE":
        (x, y, _), radius = entity.dxf.center, entity.dxf.radius
        return np.array([(facing * x + radius, y, 1.0), (facing * x - radius, y, 1.0)])
    if not entity.closed:
        raise EntryError.saying("job.dxf_open")
    return _split([(facing * x, y, facing * bulge) for x, y, bulge in entity.get_points("xyb")])


def _piece(entity: Any) -> _Piece:
    if entity.dxftype() == "LINE":
        start, end = entity.dxf.start, entity.dxf.end
        if abs(start.z - end.z) > STRAIGHT_TO_THE_PAGE:
            raise not_flat(entity, said("job.dxf_ends", start=f"{start.z:g}", end=f"{end.z:g}"))
        return complex(start.x, start.y), complex(end.x, end.y), 0.0
    facing = facing_sign(entity)
    sweep = np.radians((entity.dxf.end_angle - entity.dxf.start_angle) % 360.0)
    bulge = facing * float(np.tan(sweep / 4.0))
    start, end = entity.start_point, entity.end_point
    return complex(start.x, start.y), complex(end.x, end.y), bulge


def _chain(pieces: list[_Piece], *, gap: float, name: str) -> _Rows:
    """Order loose pieces into one closed loop."""
    left = list(pieces)
    start, at, bulge = left.pop(0)
    rows = [(start.real, start.imag, bulge)]
    while left:
        reach = [min(abs(s - at), abs(e - at)) for s, e, _ in left]
        nearest = int(np.argmin(reach))
        if reach[nearest] > gap:
            break
        s, e, b = left.pop(nearest)
        if abs(e - at) < abs(s - at):
            s, e, b = e, s, -b
        rows.append((s.real, s.imag, b))
        at = e
    if left or abs(at - start) > gap:
        place = Place(at.real, at.imag)
        raise EntryError.saying("job.dxf_gap", name=name, place=place, gap=inch(CLOSED_GAP_IN))
    return _split(rows)
