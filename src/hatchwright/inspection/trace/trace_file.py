"""The closed loops of a traced drawing, DXF or SVG by what the file holds, never by its name."""

from __future__ import annotations

from pathlib import Path

from hatchwright.errors import EntryError, JobError
from hatchwright.inspection.readings_text import kind_of, text_of
from hatchwright.inspection.trace.closed_loops import closed_loops
from hatchwright.inspection.trace.dxf_runs import dxf_runs
from hatchwright.inspection.trace.svg_runs import svg_runs
from hatchwright.job.dxf_loop import CLOSED_GAP_IN
from hatchwright.said import said
from hatchwright.shapes.pieces import Floats
from hatchwright.units import Unit

LARGEST_BYTES = 8_000_000
"""No drawing of one part is larger; nothing larger is read [bytes]."""

_SAG_SHARE = 0.01
"""How far chords may lie off a curve, over the tolerance [-]. Own choice, no source."""


def read_trace(
    path: Path, *, within_in: float, layer: str = "", unit: Unit | None = None
) -> tuple[Floats, ...]:
    """Read every closed loop of a drawing.

    Args:
        within_in: tolerance of what is made of it; ends that lie no farther apart are joined [in].
        layer: a layer of a DXF drawing, a group of an SVG drawing by its id or label; "" for all.
        unit: of a drawing that names none.
    Returns:
        tuple[Floats, ...]: closed polygons, each of shape (n, 2) [in], Y up.
    Raises:
        EntryError: it can't be read, is no drawing of lines, has no unit, or a loop of it is open.
    """
    try:
        if path.stat().st_size > LARGEST_BYTES:
            raise EntryError.saying("trace.large", where=path.name, most=LARGEST_BYTES // 1_000_000)
        raw = path.read_bytes()
    except OSError as error:
        raise EntryError.saying("trace.unread", where=str(path), why=error.strerror or "") from None
    if kind := kind_of(raw):
        raise EntryError.saying("trace.no_drawing", where=path.name, what=said(f"readings.is.{kind}"))
    sag_in = _SAG_SHARE * within_in
    if _is_xml(raw):
        runs = svg_runs(_text(raw, path), layer=layer, unit=unit, sag_in=sag_in, name=path.name)
    else:
        runs = dxf_runs(path, layer=layer, unit=unit, sag_in=sag_in)
    if layer and not runs:
        raise EntryError.saying("trace.no_layer", where=path.name, layer=layer)
    return closed_loops(runs, gap_in=max(CLOSED_GAP_IN, within_in), name=path.name)


def _is_xml(raw: bytes) -> bool:
    return raw[:200].replace(b"\0", b"").lstrip(b"\xef\xbb\xbf\xff\xfe \t\r\n").startswith(b"<")


def _text(raw: bytes, path: Path) -> str:
    try:
        return text_of(raw)
    except JobError:
        raise EntryError.saying("trace.svg_unread", where=path.name) from None
