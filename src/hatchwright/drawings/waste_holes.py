"""The holes of the making on paper: starter and corner holes, in the waste, for reference and not to be cut."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.drawings.ink import Circle, Ink, Layer, Style, Text
from hatchwright.drawings.marks import cross
from hatchwright.drawings.page_frame import PageFrame
from hatchwright.drawings.table import Table
from hatchwright.making.cutter.starter import DrilledHole, clear_starter, corner_holes
from hatchwright.making.making import Cutting
from hatchwright.said import said
from hatchwright.units import figure

_CROSS_IN = 0.3


def waste_holes(cutting: Cutting) -> tuple[DrilledHole, ...]:
    """The holes that are to be drilled: the starter "S", when its place is clear, then the corner holes."""
    starter = clear_starter(cutting)
    return (*((starter,) if starter else ()), *corner_holes(cutting))


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
    has_corners = any(row[0] != "S" for row in rows)
    id = "waste_holes.starter_and_corners" if has_corners else "waste_holes.starter"
    heads = (f"waste_holes.{head}" for head in ("mark", "x", "y", "diameter"))
    return (Table.told(said(id, unit=unit), heads, rows, unit),)
