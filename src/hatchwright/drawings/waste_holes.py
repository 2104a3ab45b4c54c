"""The holes of the making on paper: starter and corner holes, in the waste, for reference and not to be cut."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.drawings.figures import figure, unit_of
from hatchwright.drawings.page_frame import PageFrame
from hatchwright.drawings.sheet import Circle, Cross, Entity, Layer, Style, Table, Text
from hatchwright.layout.layout import Layout
from hatchwright.tooling.starter import DrilledHole, best_starter, corner_holes, starter_hole

_LETTER_IN = 0.1
_CROSS_IN = 0.3


def waste_holes(layout: Layout) -> tuple[DrilledHole, ...]:
    """The starter hole where it was asked for, else where it is clear, and the corner holes.

    Args:
        layout: as derived.
    Returns:
        tuple[DrilledHole, ...]: "S" first, left out when no place is clear; empty without a cutter.
    """
    cutter = layout.job.cutter
    if cutter is None or layout.rough_cut is None:
        return ()
    at = cutter.starter_at
    starter = starter_hole(layout, (at[0].inch, at[1].inch)) if at else best_starter(layout)
    return (*((starter,) if starter else ()), *corner_holes(layout))


def waste_hole_marks(layout: Layout, page: PageFrame) -> Iterator[Entity]:
    """Draw them as they will be drilled in the skin, on a layer that no machine cuts.

    Args:
        layout: as derived.
        page: its page.
    Yields:
        Entity: a circle, a cross and the mark of each.
    """
    for hole in waste_holes(layout):
        x, y = page.point(*hole.centre)
        yield Circle((x, y), hole.diameter_in, Layer.DIMENSION, Style.PHANTOM, css="waste-hole")
        yield Cross((x, y), _CROSS_IN, Layer.DIMENSION)
        off = 0.05 if hole.diameter_in > _CROSS_IN else 0.5 * hole.diameter_in
        yield Text((x + off + 0.02, y + off), hole.mark, _LETTER_IN)


def waste_hole_table(layout: Layout) -> tuple[Table, ...]:
    """List them with their places from both datums.

    Args:
        layout: as derived.
    Returns:
        tuple[Table, ...]: one table, none without such holes.
    """
    unit = unit_of(layout.job)
    rows = tuple(
        (
            hole.mark,
            figure(hole.centre[0], unit),
            figure(hole.centre[1], unit),
            figure(hole.diameter_in, unit, fine=True),
        )
        for hole in waste_holes(layout)
    )
    title = f"STARTER S; CORNER HOLES D, DRILLED ONLY IF EASIER; IN THE SKIN, {unit}"
    return (Table(title, ("MARK", "X", "Y", "DIAMETER"), rows),) if rows else ()
