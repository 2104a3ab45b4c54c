"""The doubler of a curved skin as it is cut and drilled flat, before it is rolled."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.drawings.figures import figure, unit_of
from hatchwright.drawings.hole_table import drills_of
from hatchwright.drawings.page_frame import PageFrame
from hatchwright.drawings.sheet import (
    Box,
    Circle,
    Cross,
    Entity,
    Layer,
    Line,
    Outline,
    Point,
    Sheet,
    Style,
    Table,
    Text,
)
from hatchwright.layout.flat_pattern import FlatPattern
from hatchwright.layout.layout import Layout
from hatchwright.said import Amount, inch, said
from hatchwright.words.tell import tell

_CROSS_IN = 0.16
_LETTER_IN = 0.09
_OVER_IN = 0.25
_ARROWS_AT = 0.25


def flat_pattern_sheet(layout: Layout, flat: FlatPattern, *, date: str) -> Sheet:
    """Draw the flat doubler, seen from the side that will lie out.

    Returns:
        Sheet: at full size, edges and pilot holes where they are made in the flat sheet.
    """
    page, unit = PageFrame(layout.frame), unit_of(layout.job)
    return Sheet(
        title=tell(said("flat.title")),
        title_block=page.title_block(layout.job, date=date),
        entities=(
            *(Outline(page.loop(edge), Layer.DOUBLER, css="flat-edge") for edge in flat.edges),
            *_holes(layout, flat, page),
            *_center_lines(layout, flat, page),
            *page.arrows(_quarter(page.box(flat.edges[0].bounds)), length_in=0.6, height_in=0.11),
        ),
        unit=unit,
        notes=tuple(_notes(layout, flat)),
        tables=(_table(layout, flat),),
        legend=(
            (Style.FINISHED, tell(said("flat.edge"))),
            (Style.DIMENSION, tell(said("flat.mark"))),
        ),
    )


def _quarter(box: Box) -> Point:
    """A place between the opening and the lower left corner."""
    return box.left + _ARROWS_AT * box.width_in, box.bottom + _ARROWS_AT * box.height_in


def _holes(layout: Layout, flat: FlatPattern, page: PageFrame) -> Iterator[Entity]:
    for hole, place in flat.holes:
        drills, (x, y) = drills_of(hole, layout), page.point(*place)
        layer, size_in = Layer.DRILL_FINAL, drills.final.diameter_in if drills.final else hole.nominal_in
        if drills.pilot:
            layer, size_in = Layer.DRILL_PILOT, drills.pilot.diameter_in
        if size_in is not None:
            yield Circle((x, y), size_in, layer, Style.FINISHED, hole.number, "flat-hole")
        yield Cross((x, y), _CROSS_IN, Layer.DIMENSION)
        yield Text((x + 0.07, y + 0.05), str(hole.number), _LETTER_IN)


def _center_lines(layout: Layout, flat: FlatPattern, page: PageFrame) -> Iterator[Entity]:
    """Through the middle of the opening, which stays where it was; they are laid on those of the skin."""
    box = page.box(flat.edges[0].bounds).grown(_OVER_IN)
    x, y = page.point(*layout.center_in)
    yield Line(((x, box.bottom), (x, box.top)), Layer.ENGRAVE, css="center-line")
    yield Line(((box.left, y), (box.right, y)), Layer.ENGRAVE, css="center-line")


def _notes(layout: Layout, flat: FlatPattern) -> Iterator[str]:
    along = flat.skin.along.upper()
    outer, inner = (inch(radius_in) for radius_in in flat.roll_in)
    told = (
        said("flat.not_on_skin", along=along, ratio=Amount(flat.ratio, "times")),
        said("flat.drill_then_roll", along=along, outer=outer, inner=inner),
        said("flat.safer_in_place"),
        said("flat.try_first"),
    )
    return (tell(one, unit_of(layout.job)) for one in told)


def _table(layout: Layout, flat: FlatPattern) -> Table:
    unit = unit_of(layout.job)
    rows = tuple(
        (
            str(hole.number),
            figure(x, unit),
            figure(y, unit),
            figure(hole.x_in, unit),
            figure(hole.y_in, unit),
        )
        for hole, (x, y) in flat.holes
    )
    heads = tuple(tell(said(f"flat.{name}")) for name in ("number", "flat_x", "flat_y", "skin_x", "skin_y"))
    return Table(tell(said("flat.table", unit=unit)), heads, rows)
