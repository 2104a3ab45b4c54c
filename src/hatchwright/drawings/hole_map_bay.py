"""The bay on a hole map: the rows and datums that holes are measured from, and the hazards, each with its name."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.drawings.bay_structure import region_said, row_said
from hatchwright.drawings.hole_map_names import NamedLine
from hatchwright.drawings.hole_map_window import MapWindow
from hatchwright.drawings.ink import Circle, Ink, Layer, Line, Style
from hatchwright.drawings.keep_out import hatched
from hatchwright.drawings.page_frame import Bounds, rectangle
from hatchwright.job.bay import KeepOut, LandmarkRow, Region
from hatchwright.layout.layout import Layout
from hatchwright.said import Value, inch, said
from hatchwright.words.tell import tell

_HATCH_IN = 0.2
_LEAST_DOT_IN = 0.06
_NONE_IN = 1e-6


def bay_ink(layout: Layout, window: MapWindow) -> Iterator[Ink]:
    """Rows, flanges, keep-outs and fasteners that are there, as far as the window shows them."""
    page, bay = window.page, layout.job.bay
    for path, row in _rows(layout):
        if abs(row.at_in) > _NONE_IN and (seen := within(row.bounds_in, window.shown)):
            box = page.box(seen)
            ends = ((box.left, box.bottom), (box.right, box.top))
            yield Line(ends, Layer.STRUCTURE, Style.CENTER, "row", path)
    for path, region in _regions(layout):
        if seen := within(region.bounds_in, window.shown):
            box, css = page.box(seen), "keep-out" if isinstance(region, KeepOut) else "flange"
            if box.width_in > _NONE_IN and box.height_in > _NONE_IN:
                angle = 45.0 if box.height_in > box.width_in else 135.0
                yield from hatched(rectangle(box), spacing_in=_HATCH_IN, angle_deg=angle, css=css, part=path)
            else:
                ends = ((box.left, box.bottom), (box.right, box.top))
                yield Line(ends, Layer.KEEP_OUT, Style.CENTER, css, path)
    for one in bay.fasteners:
        x, y = one.at[0].inch, one.at[1].inch
        if within((x, y, x, y), window.shown):
            size = max(page.length(one.diameter.inch), _LEAST_DOT_IN)
            yield Circle(page.point(x, y), size, Layer.STRUCTURE, Style.PHANTOM, css="existing")


def named_lines(layout: Layout, window: MapWindow) -> Iterator[NamedLine]:
    """What the window shows of the bay with its name: the two datums, then hazards, then other rows."""
    page, unit = window.page, layout.job.unit
    for axis in (0, 1):
        at = window.datum_in[axis]
        bounds = (at, window.shown[1], at, window.shown[3]) if axis == 0 else (
            window.shown[0], at, window.shown[2], at
        )  # fmt: skip
        yield NamedLine(page.box(bounds), tell(_datum_said(layout, axis), unit, how="l"), "frame")
    for path, region in sorted(_regions(layout), key=lambda one: not isinstance(one[1], KeepOut)):
        if seen := within(region.bounds_in, window.shown):
            yield NamedLine(page.box(seen), tell(region_said(region), unit, how="l"), path, region.name)
    for path, row in _rows(layout):
        if abs(row.at_in) > _NONE_IN and (seen := within(row.bounds_in, window.shown)):
            yield NamedLine(page.box(seen), tell(row_said(row), unit, how="l"), path)


def beyond(layout: Layout, window: MapWindow) -> tuple[Value, ...]:
    """What was entered of the bay and lies off the map, by name; a datum never does, and a flange goes
    with its row."""
    rows = (
        row.name
        for _, row in _rows(layout)
        if abs(row.at_in) > _NONE_IN and within(row.bounds_in, window.shown) is None
    )
    hazards = (
        region.name
        for _, region in _regions(layout)
        if isinstance(region, KeepOut) and within(region.bounds_in, window.shown) is None
    )
    return (*rows, *hazards)


def within(band: Bounds, shown: Bounds) -> Bounds | None:
    """A band cut off where a window ends, None when nothing of it is shown [in]."""
    x_from, y_from = max(band[0], shown[0]), max(band[1], shown[1])
    x_to, y_to = min(band[2], shown[2]), min(band[3], shown[3])
    return (x_from, y_from, x_to, y_to) if x_from <= x_to and y_from <= y_to else None


def _datum_said(layout: Layout, axis: int) -> Value:
    """A datum by the row that it runs along, else by its axis alone."""
    rows = (row for row in layout.job.bay.rows if row.axis == axis and abs(row.at_in) <= _NONE_IN)
    row = next(rows, None)
    return said("hole_map.datum", axis="XY"[axis], at=inch(0.0)) if row is None else row_said(row)


def _rows(layout: Layout) -> Iterator[tuple[str, LandmarkRow]]:
    return ((f"bay.rows.{index}", row) for index, row in enumerate(layout.job.bay.rows))


def _regions(layout: Layout) -> Iterator[tuple[str, Region]]:
    """Every flange and keep-out with its place in the job file."""
    for key, regions in (("flanges", layout.job.bay.flanges), ("keep_outs", layout.job.bay.keep_outs)):
        yield from ((f"bay.{key}.{index}", region) for index, region in enumerate(regions))
