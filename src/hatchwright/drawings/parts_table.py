"""The table of parts: sheet, over-all sizes and corners of everything that a layout drawing shows."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.drawings.figures import bare
from hatchwright.drawings.table import Table
from hatchwright.layout.layout import Edge, Layout, Part
from hatchwright.layout.sizes import size_of
from hatchwright.said import Said, inch, said
from hatchwright.shapes.corners import Corner, smallest_corner
from hatchwright.shapes.profile import Loop
from hatchwright.units import figure
from hatchwright.words.of_job import in_words_of
from hatchwright.words.tell import tell


def parts_table(layout: Layout) -> Table:
    """A row for each edge, the opening as drawn and as filed, and the rough cut."""
    unit = layout.job.unit
    heads = (f"parts.{head}" for head in ("edge", "sheet", "over_all", "corner"))
    return Table.told(said("parts.title", unit=unit), heads, _rows(layout), unit)


def sheet_said(part: Part) -> Said:
    """A sheet as it is ordered, such as 2024-T3 CLAD .032."""
    return sheet_of(part.alloy, part.temper, part.thickness_in, clad=part.clad)


def sheet_of(alloy: str, temper: str, thickness_in: float, *, clad: bool) -> Said:
    """A sheet as it is ordered."""
    id = "stock.clad" if clad else "stock.bare"
    return said(id, alloy=alloy, temper=temper, thickness=inch(thickness_in))


def edge_said(edge: Edge) -> Said:
    """An edge by its name."""
    return said(f"edge_of_part.{edge.name.removesuffix(' edge').replace(' ', '_')}")


def _rows(layout: Layout) -> Iterator[tuple[str, ...]]:
    made, cutter = layout.job.as_made, layout.job.cutter
    for part in layout.parts:
        for edge in part.edges:
            if part.name != "skin":
                yield _row(edge_said(edge), part, edge.loop, edge.corner, layout)
                continue
            yield _row(said("parts.opening_finished"), part, layout.wanted, layout.wanted_corner, layout)
            if made and made.opening:
                yield _row(said("parts.opening_filed"), part, edge.loop, edge.corner, layout)
            if layout.rough_cut is not None and cutter and cutter.filing_allowance.inch:
                for loop in layout.rough_cut.loops:
                    yield _row(said("parts.opening_rough"), part, loop, smallest_corner(loop), layout)


def _row(name: Said, part: Part, loop: Loop, corner: Corner | None, layout: Layout) -> tuple[str, ...]:
    unit = layout.job.unit
    radius = figure(corner.radius_in, unit, fine=True) if corner else tell(said("parts.no_corner"))
    told = tell(in_words_of(layout.job.kind, name))
    return told, bare(sheet_said(part), unit), bare(size_of(loop.bounds), unit), radius
