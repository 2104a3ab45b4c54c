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
        title="DOUBLER, FLAT, BEFORE ROLLING",
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
            (Style.FINISHED, "edge of the flat sheet; pilot hole"),
            (Style.DIMENSION, "mark; centre lines of the opening"),
        ),
    )


def _quarter(box: Box) -> Point:
    """A place between the opening and the lower left corner."""
    return box.left + _ARROWS_AT * box.width_in, box.bottom + _ARROWS_AT * box.height_in


def _holes(layout: Layout, flat: FlatPattern, page: PageFrame) -> Iterator[Entity]:
    for hole, place in flat.holes:
        drills, (x, y) = drills_of(hole, layout), page.point(*place)
        if drills.pilot:
            layer, diameter_in = Layer.DRILL_PILOT, drills.pilot.diameter_in
        else:
            layer = Layer.DRILL_FINAL
            diameter_in = drills.final.diameter_in if drills.final else hole.diameter_in
        yield Circle((x, y), diameter_in, layer, Style.FINISHED, hole.number, "flat-hole")
        yield Cross((x, y), _CROSS_IN, Layer.DIMENSION)
        yield Text((x + 0.07, y + 0.05), str(hole.number), _LETTER_IN)


def _center_lines(layout: Layout, flat: FlatPattern, page: PageFrame) -> Iterator[Entity]:
    """Through the middle of the opening, which stays where it was; they are laid on those of the skin."""
    box = page.box(flat.edges[0].bounds).grown(_OVER_IN)
    x, y = page.point(*layout.center_in)
    yield Line(((x, box.bottom), (x, box.top)), Layer.ENGRAVE, css="center-line")
    yield Line(((box.left, y), (box.right, y)), Layer.ENGRAVE, css="center-line")


def _notes(layout: Layout, flat: FlatPattern) -> Iterator[str]:
    unit, along = unit_of(layout.job), flat.skin.along.upper()
    outer, inner = (figure(radius_in, unit) for radius_in in flat.roll_in)
    yield (
        f"THIS IS NOT THE PATTERN ON THE SKIN: PLACES ALONG {along} ARE THOSE TIMES {flat.ratio:.5f} FROM THE CENTRE "
        "LINE OF THE OPENING. NEVER MARK OR DRILL THE SKIN FROM THIS SHEET."
    )
    yield (
        f"DRILL AT PILOT SIZE, THEN ROLL ALONG {along} TO RADIUS {outer} AT THE OUTER FACE, {inner} AT THE INNER "
        "FACE."
    )
    yield (
        "DRILLING IN PLACE THROUGH THE SKIN'S PILOT HOLES NEEDS NO SUCH SHEET AND IS THE SAFER WAY WHERE IT CAN BE "
        "DONE."
    )
    yield "TRY THE ROLLED SHEET AGAINST THE SKIN WITH FOUR TEMPORARY FASTENERS BEFORE ANY HOLE IS OPENED UP."


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
    return Table(
        f"HOLES OF THE FLAT DOUBLER, {unit}", ("NO.", "FLAT X", "FLAT Y", "ON THE SKIN X", "Y"), rows
    )
