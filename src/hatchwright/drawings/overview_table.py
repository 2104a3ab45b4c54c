"""The hole table of the overview: nominal and as drilled places in columns of their own, edge distance, next size."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from hatchwright.drawings.hole_table import holes_by_title
from hatchwright.drawings.table import Table, TableStyle
from hatchwright.layout.layout import Hole, Layout
from hatchwright.layout.sizes import is_round
from hatchwright.layout.survey import Survey, survey
from hatchwright.rules.next_size import NextSizes, next_size_left, next_sizes
from hatchwright.said import inch, missing, room, said
from hatchwright.shapes.profile import Arc, Loop
from hatchwright.units import figure
from hatchwright.words.tell import tell

_LEAST_ROWS_IN_LINE = 1.65


def compact(letter_in: float) -> TableStyle:
    """Tables as close as letters of a height can be read [in]."""
    row_in = _LEAST_ROWS_IN_LINE * letter_in
    return TableStyle(letter_in=letter_in, row_in=row_in, pad_in=0.04, title_in=0.0, bold_heads=False)


def overview_tables(layout: Layout, *, letter_in: float) -> tuple[Table, ...]:
    """A table for the holes of each fastener, and one of the outline where dimensions do not tell all of it."""
    measured = survey(layout)
    sizes, nearest = next_sizes(measured.listed()), edge_distances(measured)
    style = compact(letter_in)
    tables = [
        Table.told(
            title,
            (
                f"overview.holes.{head}"
                for head in ("number", "x", "y", "x_drilled", "y_drilled", "edge", "next")
            ),
            (_row(hole, layout, nearest, sizes) for hole in holes),
            layout.job.unit,
            style,
        )
        for title, holes in holes_by_title(layout).items()
    ]
    return (*tables, *_outline_table(layout, style))


def edge_distances(measured: Survey) -> dict[int, float]:
    """The least distance from each hole to an edge of a part that it goes through, by its number [in]."""
    nearest: dict[int, float] = {}
    for row in measured.distinct_edges:
        for hole, distance_in in zip(row.holes, row.distance_in.tolist(), strict=True):
            nearest[hole.number] = min(distance_in, nearest.get(hole.number, distance_in))
    return nearest


def _row(hole: Hole, layout: Layout, nearest: dict[int, float], sizes: NextSizes) -> tuple[str, ...]:
    unit = layout.job.unit
    nominal = (hole.drawn_in or (None if hole.is_made else hole.place)) or ()
    drilled = hole.place if hole.is_made else ()
    distance_in = nearest.get(hole.number)
    return (
        str(hole.number),
        *_places(nominal, layout),
        *_places(drilled, layout),
        "" if distance_in is None else figure(distance_in, unit),
        next_size_figure(hole, layout, sizes),
    )


def _places(place: Sequence[float], layout: Layout) -> tuple[str, str]:
    if not place:
        return "", ""
    x, y = (figure(value, layout.job.unit) for value in place)
    return x, y


def next_size_figure(hole: Hole, layout: Layout, sizes: NextSizes) -> str:
    """The lesser of what edge distance and spacing leave over at the next rivet size, never rounded up: such as
    ``+.021 E``, or ``-.010 P`` where it is short."""
    if hole.kind != "rivet" or hole.nominal_in is None:
        return tell(said("overview.next.none"))
    if hole.fastener not in sizes.sizes:
        return tell(said("overview.next.no_larger"))
    left = min(next_size_left(sizes, hole), key=lambda one: one[1], default=None)
    if left is None:
        return tell(said("overview.next.none"))
    what, left_in = left
    id, by = ("to_spare", room(left_in)) if left_in >= 0.0 else ("short", missing(-left_in))
    return tell(said(f"overview.next.{id}.{what}", by=by), layout.job.unit)


def _outline_table(layout: Layout, style: TableStyle) -> Iterator[Table]:
    """The ends of all lines and arcs of an opening that is no rectangle, circle or slot; and of one that was filed."""
    made, unit = layout.job.as_made, layout.job.unit
    if not _told_by_dimensions(layout):
        rows = tuple(_outline_rows(layout.wanted, layout))
        heads = (f"overview.outline.{head}" for head in ("number", "x", "y", "radius"))
        yield Table.told(said("overview.outline.title"), heads, rows, unit, style)
    if made and made.opening:
        title = said("overview.filed.title", u=inch(made.uncertainty.inch))
        heads = (f"overview.filed.{head}" for head in ("edge", "nominal", "filed"))
        yield Table.told(title, heads, tuple(_filed_rows(layout)), unit, style)


def _told_by_dimensions(layout: Layout) -> bool:
    """Whether extents and one radius are all that there is to tell."""
    if layout.job.opening.shape in ("rounded rectangle", "obround"):
        angle = getattr(layout.job.opening, "angle", 0.0)
        return not angle
    return is_round(layout.wanted.bounds, layout.wanted_corner)


def _outline_rows(loop: Loop, layout: Layout) -> Iterator[tuple[str, ...]]:
    for number, piece in enumerate(loop.pieces(), start=1):
        radius = figure(piece.radius_in, layout.job.unit) if isinstance(piece, Arc) else ""
        yield str(number), *_places(piece.start, layout), radius


def _filed_rows(layout: Layout) -> Iterator[tuple[str, ...]]:
    """Each edge of the opening and its sharpest corner, as drawn and as filed."""
    unit = layout.job.unit
    drawn, filed = layout.wanted.bounds, layout.opening.bounds
    for place, name in ((0, "x_low"), (2, "x_high"), (1, "y_low"), (3, "y_high")):
        yield tell(said(f"overview.filed.{name}")), figure(drawn[place], unit), figure(filed[place], unit)
    part = next((part for part in layout.parts if part.name == "skin"), None)
    corner = part.edges[0].corner if part else None
    if layout.wanted_corner and corner:
        radii = (figure(one.radius_in, unit) for one in (layout.wanted_corner, corner))
        yield tell(said("overview.filed.radius")), *radii
