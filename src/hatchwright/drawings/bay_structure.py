"""The bay as it stands: landmark rows, flanges, what lies behind the skin, and fasteners that are there already."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence

from msgspec import Struct
from msgspec.structs import replace

from hatchwright.drawings.boxes import Box
from hatchwright.drawings.ink import Anchor, Circle, Ink, Layer, Line, Point, Style, Text
from hatchwright.drawings.keep_out import hatched
from hatchwright.drawings.label_places import spread
from hatchwright.drawings.lettering import fitted
from hatchwright.drawings.page_frame import Bounds, PageFrame, rectangle
from hatchwright.job.bay import KeepOut, LandmarkRow, Region
from hatchwright.job.existing import ExistingFastener
from hatchwright.layout.layout import Layout
from hatchwright.said import Listed, Said, Value, inch, said
from hatchwright.words.tell import tell

FAR_IN = 12.0
"""Structure farther than this from the new parts is not drawn but named in a note [in]. Common practice, no source."""

LETTER_IN = 0.1
"""Height of the lettering of structure [in]."""

_AROUND_IN = 0.6
_LEVEL_IN = 0.19
_OFF_IN = 0.1
_LEAST_LETTER_IN = 0.07


def parts_bounds(layout: Layout) -> Bounds:
    """The box round all new parts and holes."""
    boxes = [edge.loop.bounds for part in layout.parts for edge in part.edges]
    boxes += [(hole.x_in, hole.y_in, hole.x_in, hole.y_in) for hole in layout.holes]
    x_from, y_from, x_to, y_to = zip(*boxes, strict=True)
    return min(x_from), min(y_from), max(x_to), max(y_to)


def drawn_bounds(layout: Layout) -> Bounds:
    """What a drawing of the bay shows: the new parts, and structure that is not far from them."""
    bay, parts = layout.job.bay, parts_bounds(layout)
    xs, ys = [parts[0], parts[2]], [parts[1], parts[3]]
    existing = bay.fasteners
    wanted_x = [row.x.inch for row in bay.rows if row.x] + [one.at[0].inch for one in existing]
    wanted_y = [row.y.inch for row in bay.rows if row.y] + [one.at[1].inch for one in existing]
    for region in (*bay.flanges, *bay.keep_outs):
        wanted_x += [bound for bound in region.bounds_in[::2] if math.isfinite(bound)]
        wanted_y += [bound for bound in region.bounds_in[1::2] if math.isfinite(bound)]
    if origin_is_near(layout):
        wanted_x.append(0.0)
        wanted_y.append(0.0)
    xs += [x for x in wanted_x if parts[0] - FAR_IN <= x <= parts[2] + FAR_IN]
    ys += [y for y in wanted_y if parts[1] - FAR_IN <= y <= parts[3] + FAR_IN]
    return min(xs) - _AROUND_IN, min(ys) - _AROUND_IN, max(xs) + _AROUND_IN, max(ys) + _AROUND_IN


def origin_is_near(layout: Layout) -> bool:
    """Whether the origin is drawn, being no farther than `FAR_IN` from the new parts along each axis."""
    x_from, y_from, x_to, y_to = parts_bounds(layout)
    return x_from - FAR_IN <= 0.0 <= x_to + FAR_IN and y_from - FAR_IN <= 0.0 <= y_to + FAR_IN


class Band(Struct, frozen=True):
    """A row, flange or keep-out as far as it is drawn.

    Args:
        box: on the page; a row has no width.
        called: its name with its place.
        name: as typed.
        part: place in the job file.
    """

    box: Box
    called: Value
    name: str
    part: str
    region: Region | None = None

    @property
    def is_row(self) -> bool:
        """Whether it is a row, which is a line."""
        return self.region is None

    def ink(self) -> tuple[Ink, ...]:
        """A row as its center line, a region hatched."""
        if self.region is None:
            ends = ((self.box.left, self.box.bottom), (self.box.right, self.box.top))
            return (Line(ends, Layer.STRUCTURE, Style.CENTER, "row", self.part),)
        css = "keep-out" if isinstance(self.region, KeepOut) else "flange"
        return _region(self.box, css=css, part=self.part)


def bands(layout: Layout, page: PageFrame, bounds: Bounds) -> Iterator[Band]:
    """What the bay has within some bounds, landmark rows first."""
    for index, row in enumerate(layout.job.bay.rows):
        if (band := _within(_row_bounds(row), bounds)) is not None:
            yield Band(page.box(band), row_said(row), row.name, f"bay.rows.{index}")
    for path, region in _regions(layout):
        if (band := _within(region.bounds_in, bounds)) is not None:
            yield Band(page.box(band), region_said(region), region.name, path, region)


def structure(layout: Layout, page: PageFrame, bounds: Bounds) -> Iterator[Ink]:
    """Draw what the bay has within some bounds: rows, flanges, keep-outs and existing fasteners, with their names."""
    unit, shown, parts = layout.job.unit, page.box(bounds), page.box(parts_bounds(layout))
    outside: list[tuple[Box, str, str]] = []
    for band in bands(layout, page, bounds):
        yield from band.ink()
        words = tell(band.called, unit)
        is_apart = band.region is not None and not band.box.touches(parts)
        label = _label_inside(band.box, words, band.part) if is_apart else None
        if label is None:
            outside.append((band.box, words, band.part))
        else:
            yield label
    yield from _labels_outside(outside, shown)
    yield from existing_fasteners(layout, page, bounds)


def existing_fasteners(layout: Layout, page: PageFrame, bounds: Bounds) -> Iterator[Ink]:
    """Fasteners that are there already, within some bounds."""
    for part, one in _fasteners(layout):
        x, y = one.at[0].inch, one.at[1].inch
        if _within((x, y, x, y), bounds) is not None:
            place = page.point(x, y)
            size_in = page.length(one.diameter.inch)
            yield Circle(place, size_in, Layer.STRUCTURE, Style.PHANTOM, css="existing", part=part)


def _regions(layout: Layout) -> Iterator[tuple[str, Region]]:
    """Every flange and keep-out with its place in the job file."""
    bay = layout.job.bay
    for key, regions in (("flanges", bay.flanges), ("keep_outs", bay.keep_outs)):
        yield from ((f"bay.{key}.{index}", region) for index, region in enumerate(regions))


def _fasteners(layout: Layout) -> Iterator[tuple[str, ExistingFastener]]:
    """Every fastener that is there with its place in the job file, of a row that of the row."""
    bay = layout.job.bay
    yield from ((f"bay.existing.{index}", one) for index, one in enumerate(bay.existing))
    for index, row in enumerate(bay.existing_rows):
        yield from ((f"bay.existing_rows.{index}", one) for one in row.fasteners)


def structure_beyond(layout: Layout, bounds: Bounds) -> tuple[Value, ...]:
    """What was entered of the bay and lies beyond the bounds of the drawing, by name and place."""
    bay = layout.job.bay
    rows = (row_said(row) for row in bay.rows if _within(_row_bounds(row), bounds) is None)
    regions = (
        region for region in (*bay.flanges, *bay.keep_outs) if _within(region.bounds_in, bounds) is None
    )
    return (*rows, *map(region_said, regions))


def _row_bounds(row: LandmarkRow) -> Bounds:
    if row.x is not None:
        return row.x.inch, -math.inf, row.x.inch, math.inf
    assert row.y is not None  # a row runs along one axis
    return -math.inf, row.y.inch, math.inf, row.y.inch


def _within(band: Bounds, bounds: Bounds) -> Bounds | None:
    """A band cut off where the drawing ends, None when nothing of it is shown."""
    x_from, y_from = max(band[0], bounds[0]), max(band[1], bounds[1])
    x_to, y_to = min(band[2], bounds[2]), min(band[3], bounds[3])
    return (x_from, y_from, x_to, y_to) if x_from <= x_to and y_from <= y_to else None


def row_said(row: LandmarkRow) -> Said:
    """A landmark row by its name and place, such as rib 4 at X 11.000."""
    at = row.y if row.x is None else row.x
    assert at is not None  # a row runs along one axis
    return said("row.at_y" if row.x is None else "row.at_x", name=row.name, at=inch(at.inch))


def region_said(region: Region) -> Value:
    """A flange or keep-out by its name, a keep-out with its place and how far it lies below the outer face."""
    if not isinstance(region, KeepOut):
        return region.name
    told = _keep_out_said(region)
    return said("region.moving", region=told) if region.is_moving else told


def _keep_out_said(region: KeepOut) -> Said:
    x_from, y_from, x_to, y_to = region.bounds_in
    reaches = Listed((*_reach("x", x_from, x_to), *_reach("y", y_from, y_to)), ",")
    if region.start_depth and region.end_depth:
        ends = {"start": inch(region.start_depth.inch), "end": inch(region.end_depth.inch)}
        depth: Value = said("region.depths", **ends)
    elif region.depth:
        depth = inch(region.depth.inch)
    else:
        return said("region.at", name=region.name, reaches=reaches)
    id = "region.at_behind" if reaches.items else "region.behind"
    return said(id, name=region.name, reaches=reaches, depth=depth)


def _reach(axis: str, low: float, high: float) -> Iterator[Said]:
    """From where to where a region reaches along an axis, nothing for an axis on which it has no bound."""
    ends = [name for name, end in (("from", low), ("to", high)) if math.isfinite(end)]
    if low == high:
        yield said(f"reach.{axis}_at", at=inch(low))
    elif ends:
        yield said(f"reach.{axis}_{'_'.join(ends)}", low=inch(low), high=inch(high))


def _region(box: Box, *, css: str, part: str) -> tuple[Ink, ...]:
    """A hatched region, slanting to the other side when it lies level; a region of no width is its center line."""
    if box.width_in > 0.0 and box.height_in > 0.0:
        return hatched(
            rectangle(box),
            spacing_in=0.35,
            angle_deg=45.0 if box.height_in > box.width_in else 135.0,
            css=css,
            part=part,
        )
    return (Line(((box.left, box.bottom), (box.right, box.top)), Layer.KEEP_OUT, Style.CENTER, css, part),)


def _label_inside(box: Box, words: str, part: str) -> Text | None:
    """The name along the middle of a region, None when there is no room."""
    is_upright = box.height_in > box.width_in
    along, across = (box.height_in, box.width_in) if is_upright else (box.width_in, box.height_in)
    if across < 1.6 * LETTER_IN:
        return None
    shown, height = fitted(words, height_in=LETTER_IN, width_in=along - 0.2, least_height_in=_LEAST_LETTER_IN)
    x, y = box.middle
    if is_upright:
        name = Text((x + 0.5 * height, y), shown, height, anchor=Anchor.MIDDLE, angle_deg=90.0)
    else:
        name = Text((x, y - 0.5 * height), shown, height, anchor=Anchor.MIDDLE)
    return replace(name, css="name", part=part, span=_diagonal(box), whole=words)


def _diagonal(box: Box) -> tuple[Point, Point]:
    return (box.left, box.bottom), (box.right, box.top)


def _labels_outside(named: Sequence[tuple[Box, str, str]], shown: Box) -> Iterable[Ink]:
    """Names of upright lines above the drawing, of level ones to the right of it, each with a tick to its line."""
    fit = [
        (
            box,
            part,
            whole,
            *fitted(whole, height_in=LETTER_IN, width_in=3.2, least_height_in=_LEAST_LETTER_IN),
        )
        for box, whole, part in named
    ]
    upright = sorted((one for one in fit if one[0].height_in > one[0].width_in), key=lambda one: one[0].left)
    level = [one for one in fit if one[0].height_in <= one[0].width_in]
    ends: list[float] = []
    for box, part, whole, words, height in upright:
        x, _ = box.middle
        text = Text((x, 0.0), words, height, anchor=Anchor.MIDDLE)
        half = 0.5 * text.width_in
        row = next((row for row, end in enumerate(ends) if end < x - half), len(ends))
        ends[row : row + 1] = [x + half + 0.15]
        y = shown.top + _OFF_IN + row * _LEVEL_IN
        yield Line(((x, shown.top), (x, y - 0.03)), Layer.DIMENSION, css="name")
        name = Text((x, y), words, height, anchor=Anchor.MIDDLE, css="name")
        yield replace(name, part=part, span=_diagonal(box), whole=whole)
    middles = [box.middle[1] for box, *_ in level]
    for (box, part, whole, words, height), middle, y in zip(
        level, middles, spread(middles, _LEVEL_IN), strict=True
    ):
        x = shown.right + _OFF_IN
        yield Line(((shown.right, middle), (x, y)), Layer.DIMENSION, css="name")
        name = Text((x + 0.04, y - 0.5 * height), words, height, css="name")
        yield replace(name, part=part, span=_diagonal(box), whole=whole)
