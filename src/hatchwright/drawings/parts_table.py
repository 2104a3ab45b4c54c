"""The table of parts: sheet, over-all sizes and corners of everything that a layout drawing shows."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.drawings.figures import Unit, figure, size_words, unit_of
from hatchwright.drawings.table import Table
from hatchwright.layout.layout import Layout, Part
from hatchwright.shapes.corners import Corner, smallest_corner
from hatchwright.shapes.profile import Loop


def parts_table(layout: Layout) -> Table:
    """The table of parts.

    Returns:
        Table: one row for each edge, the opening as drawn and as filed, and the rough cut.
    """
    return Table(
        f"PARTS, {unit_of(layout.job)}",
        ("EDGE", "SHEET", "OVER ALL X x Y", "LEAST CORNER R"),
        tuple(_rows(layout)),
    )


def sheet_words(part: Part, unit: Unit) -> str:
    """A sheet as it is ordered.

    Args:
        unit: of its thickness.
    Returns:
        str: such as ``2024-T3 CLAD .032``.
    """
    return f"{part.alloy}-{part.temper} {'CLAD ' if part.clad else ''}{figure(part.thickness_in, unit)}"


def _rows(layout: Layout) -> Iterator[tuple[str, ...]]:
    unit = unit_of(layout.job)
    made = layout.job.as_made
    for part in layout.parts:
        for edge in part.edges:
            words = sheet_words(part, unit)
            if part.name == "skin":
                yield _row("opening, finished", words, layout.wanted, layout.wanted_corner, unit)
                if made and made.opening:
                    yield _row("opening, as filed", words, edge.loop, edge.corner, unit)
                if (
                    layout.rough_cut is not None
                    and layout.job.cutter
                    and layout.job.cutter.filing_allowance.inch
                ):
                    for loop in layout.rough_cut.loops:
                        yield _row("opening, rough cut", words, loop, smallest_corner(loop), unit)
            else:
                yield _row(edge.name.removesuffix(" edge"), words, edge.loop, edge.corner, unit)


def _row(name: str, words: str, loop: Loop, corner: Corner | None, unit: Unit) -> tuple[str, ...]:
    radius = figure(corner.radius_in, unit, fine=True) if corner else "none"
    return name, words, size_words(loop.bounds, unit), radius
