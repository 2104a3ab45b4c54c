"""The doubler of a curved skin as it is cut and drilled flat, before it is rolled."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from hatchwright.drawings.hole_marks import NUMBER_IN, first_drilled, number_ink
from hatchwright.drawings.ink import (
    Circle,
    Ink,
    Layer,
    Line,
    Outline,
    Point,
    Solid,
    Style,
    Text,
    moved,
    outlines,
)
from hatchwright.drawings.label_places import Spot, label_places
from hatchwright.drawings.lettering import text_width_in
from hatchwright.drawings.marks import cross
from hatchwright.drawings.page_frame import PageFrame
from hatchwright.drawings.plate_room import PlateRoom
from hatchwright.drawings.sheet import Sheet
from hatchwright.drawings.table import Table
from hatchwright.layout.flat_pattern import FlatPattern
from hatchwright.layout.layout import Layout
from hatchwright.said import Amount, Said, inch, said
from hatchwright.shapes.profile import Profile
from hatchwright.units import figure

_ARROWS_AT = 0.25
_CROSS_IN = 0.16
_ROOM_IN = 0.4
_SCALES = (1.0, 0.8, 0.65)


def flat_pattern_sheet(layout: Layout, flat: FlatPattern, *, date: str) -> Sheet:
    """Draw the flat doubler at full size, seen from the side that will lie out."""
    page = PageFrame(layout.frame)
    whole = page.box(flat.edges[0].bounds)
    quarter = whole.left + _ARROWS_AT * whole.width_in, whole.bottom + _ARROWS_AT * whole.height_in
    edges = tuple(outlines(map(page.loop, flat.edges), Layer.DOUBLER, css="flat-edge"))
    lines = tuple(_center_lines(layout, flat, page))
    drawn = (*edges, *_holes(layout, flat, page), *lines, *_arrows(flat, page, lines, near=quarter))
    ink = (*drawn, *_numbers(flat, page, drawn))
    notes, tables = _notes(flat), (_table(layout, flat),)
    legend = {Style.FINISHED: said("flat.edge"), Style.DIMENSION: said("flat.mark")}
    title = said("flat.title")
    return page.sheet(layout.job, title, ink, date=date, notes=notes, tables=tables, legend=legend)


def _arrows(flat: FlatPattern, page: PageFrame, lines: Sequence[Ink], *, near: Point) -> tuple[Ink, ...]:
    """The direction arrows, as large as they find room on the sheet, clear of holes and their numbers."""
    sheet = Profile(tuple(map(page.loop, flat.edges)))
    room = PlateRoom(sheet, ((page.point(*place), _ROOM_IN) for _, place in flat.holes), cell_in=0.05)
    room.take(lines)
    arrows = tuple(page.arrows((0.0, 0.0), length_in=0.6, height_in=0.11))
    return room.put(
        (moved(arrows, right_in=0.0, up_in=0.0, scale_ratio=scale) for scale in _SCALES), near=near
    )


def _holes(layout: Layout, flat: FlatPattern, page: PageFrame) -> Iterator[Ink]:
    for hole, place in flat.holes:
        (layer, size_in), (x, y) = first_drilled(hole, layout), page.point(*place)
        if size_in is not None:
            yield Circle((x, y), size_in, layer, Style.FINISHED, hole.number, "flat-hole")
        yield from cross((x, y), _CROSS_IN)


def _numbers(flat: FlatPattern, page: PageFrame, drawn: Sequence[Ink]) -> Iterator[Ink]:
    """The number beside each hole."""
    spots = [
        Spot(
            at=page.point(*place),
            clear_in=0.5 * max(_CROSS_IN, hole.nominal_in or 0.0),
            width_in=text_width_in(str(hole.number), height_in=NUMBER_IN),
            height_in=NUMBER_IN,
        )
        for hole, place in flat.holes
    ]
    labels = label_places(
        spots,
        keep_off=[part.box() for part in drawn if isinstance(part, Text | Solid)],
        edges=[part.loop for part in drawn if isinstance(part, Outline)],
        lines=[
            pair
            for part in drawn
            if isinstance(part, Line) and _is_long(part)
            for pair in pairwise(part.points)
        ],
    )
    for (hole, _), label in zip(flat.holes, labels, strict=True):
        if label is not None:
            yield from number_ink(hole.number, label, NUMBER_IN)


def _is_long(line: Line) -> bool:
    """Whether it is more than the cross of a hole."""
    return max(line.box().width_in, line.box().height_in) > 1.5 * _CROSS_IN


def _center_lines(layout: Layout, flat: FlatPattern, page: PageFrame) -> Iterator[Ink]:
    """Through the middle of the opening, which stays where it was; they are laid on those of the skin."""
    box = page.box(flat.edges[0].bounds).grown(0.25)
    x, y = page.point(*layout.center_in)
    yield Line(((x, box.bottom), (x, box.top)), Layer.ENGRAVE, css="center-line")
    yield Line(((box.left, y), (box.right, y)), Layer.ENGRAVE, css="center-line")


def _notes(flat: FlatPattern) -> Iterator[Said]:
    along = flat.stretch.along.upper()
    outer, inner = (inch(radius_in) for radius_in in flat.roll_in)
    yield said("flat.not_on_skin", along=along, ratio=Amount(flat.stretch.ratio, "times"))
    yield said("flat.drill_then_roll", along=along, outer=outer, inner=inner)
    yield said("flat.safer_in_place")
    yield said("flat.try_first")


def _table(layout: Layout, flat: FlatPattern) -> Table:
    unit = layout.job.unit
    heads = ("number", "flat_x", "flat_y", "skin_x", "skin_y")
    rows = (
        (str(hole.number), *(figure(place, unit) for place in (x, y, hole.x_in, hole.y_in)))
        for hole, (x, y) in flat.holes
    )
    return Table.told(said("flat.table", unit=unit), (f"flat.{head}" for head in heads), rows, unit)
