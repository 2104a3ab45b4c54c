"""The holes of the making on paper: starter and corner holes, in the waste, for reference and not to be cut."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.drawings.ink import Circle, Ink, Layer, Style, Text
from hatchwright.drawings.marks import cross
from hatchwright.drawings.page_frame import PageFrame
from hatchwright.drawings.table import Table
from hatchwright.making.cutter.starter import DrilledHole, clear_starter, corner_holes
from hatchwright.making.making import Cutting, Making
from hatchwright.making.pins.pin_layout import planned_pins
from hatchwright.making.pins.runs import runs_of
from hatchwright.said import said
from hatchwright.units import figure

_CROSS_IN = 0.3


def waste_holes(cutting: Cutting) -> tuple[DrilledHole, ...]:
    """The holes that are to be drilled: the starter "S", when its place is clear, those of runs that it does not lead
    to, "S2" ..., then the corner holes."""
    starter = clear_starter(cutting)
    return (*((starter,) if starter else ()), *_of_runs(cutting), *corner_holes(cutting))


def _of_runs(cutting: Cutting) -> Iterator[DrilledHole]:
    pins = planned_pins(cutting) if isinstance(cutting, Making) else None
    if pins is not None and isinstance(cutting, Making):
        yield from (run.hole for stage in runs_of(cutting, pins) for run in stage if run.hole)


def waste_hole_marks(cutting: Cutting, page: PageFrame) -> Iterator[Ink]:
    """A circle, a cross and the mark of each as it will be drilled in the skin, on a layer that no machine cuts."""
    for hole in waste_holes(cutting):
        x, y = page.point(*hole.center)
        yield Circle((x, y), hole.diameter_in, Layer.DIMENSION, Style.PHANTOM, css="waste-hole")
        yield from cross((x, y), _CROSS_IN)
        off = 0.05 if hole.diameter_in > _CROSS_IN else 0.5 * hole.diameter_in
        yield Text((x + off + 0.02, y + off), hole.mark, 0.1)


def waste_hole_table(cutting: Cutting) -> tuple[Table, ...]:
    """List them with their places from both datums; no table without such holes."""
    unit = cutting.unit
    rows = [
        (hole.mark, *(figure(x, unit) for x in hole.center), figure(hole.diameter_in, unit, fine=True))
        for hole in waste_holes(cutting)
    ]
    if not rows:
        return ()
    has_corners = any(row[0].startswith("D") for row in rows)
    id = "waste_holes.starter_and_corners" if has_corners else "waste_holes.starter"
    heads = (f"waste_holes.{head}" for head in ("mark", "x", "y", "diameter"))
    return (Table.told(said(id, unit=unit), heads, rows, unit),)
