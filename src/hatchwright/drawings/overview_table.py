"""The hole table of the overview: nominal and as drilled places in columns of their own, edge distance, next size."""

from __future__ import annotations

from collections.abc import Iterator

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

_LINE_RATIO = 1.5


def compact(letter_in: float) -> TableStyle:
    """Tables as close as letters of a height can be read [in]."""
    row_in = _LINE_RATIO * letter_in
    return TableStyle(letter_in=letter_in, row_in=row_in, pad_in=0.04, title_in=0.0, bold_heads=False)


def overview_tables(layout: Layout, *, letter_in: float) -> tuple[Table, ...]:
    """Tables of the holes of each fastener, those that are drilled apart from those that are to be; and one of the
    outline where dimensions do not tell all of it."""
    measured = survey(layout)
    sizes, nearest = next_sizes(measured.listed()), edge_distances(measured)
    style = compact(letter_in)
    tables = []
    for holes in holes_by_title(layout).values():
        for is_made in (True, False):
            rows = [
                _row(hole, layout, nearest, sizes, is_made=is_made)
                for hole in holes
                if hole.is_made == is_made
            ]
            if rows:
                id = "overview.holes.drilled" if is_made else "overview.holes.to_drill"
                told = said(id, fastener=holes[0].fastener)
                heads = [f"overview.holes.{head}" for head in (_DRILLED if is_made else _TO_DRILL)]
                columns = len(heads) if holes[0].kind == "rivet" else len(heads) - 1
                kept = (row[:columns] for row in rows)
                tables.append(Table.told(told, heads[:columns], kept, layout.job.unit, style))
    return (*tables, *_outline_table(layout, style))


_TO_DRILL = ("number", "x", "y", "edge", "next")
_DRILLED = ("number", "x", "y", "x_drilled", "y_drilled", "edge", "next")


def edge_distances(measured: Survey) -> dict[int, float]:
    """The least distance from each hole to an edge of a part that it goes through, by its number [in]."""
    nearest: dict[int, float] = {}
    for row in measured.distinct_edges:
        for hole, distance_in in zip(row.holes, row.distance_in.tolist(), strict=True):
            nearest[hole.number] = min(distance_in, nearest.get(hole.number, distance_in))
    return nearest


def _row(
    hole: Hole, layout: Layout, nearest: dict[int, float], sizes: NextSizes, *, is_made: bool
) -> tuple[str, ...]:
    """Its nominal place, of a drilled one as drilled too, its edge distance as it stands, its room at the next size."""
    distance_in = nearest.get(hole.number)
    return (
        str(hole.number),
        *_places(hole.drawn_in if is_made else hole.place, layout),
        *(_places(hole.place, layout) if is_made else ()),
        "" if distance_in is None else figure(distance_in, layout.job.unit),
        next_size_figure(hole, layout, sizes),
    )


def _places(place: tuple[float, float] | None, layout: Layout) -> tuple[str, str]:
    if place is None:
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
        title = said("overview.filed.title", u=inch(made.edge_u_in(made.opening)))
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
