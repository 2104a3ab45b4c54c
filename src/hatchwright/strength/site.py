"""The opening as strength sees it: its sheets, its four sides with their rivets, and the bay round it."""

from __future__ import annotations

import math

import numpy as np
from msgspec import Struct
from numpy.typing import NDArray

from hatchwright.errors import HatchwrightError
from hatchwright.job.bay import LandmarkRow
from hatchwright.judged import FLOAT_NOISE
from hatchwright.layout.cut_side import CutSide, sides_of_cut
from hatchwright.layout.layout import Hole, Layout, Part, PartName
from hatchwright.layout.survey import survey
from hatchwright.shapes.profile import Loop
from hatchwright.strength.shear_bay import BayCells
from hatchwright.tables.allowables import Allowables, allowables
from hatchwright.tables.materials import sheet
from hatchwright.tables.rivets import hole_drill
from hatchwright.tables.screws import clearance_drill
from hatchwright.tables.strength_values import strength_value
from hatchwright.tables.table import ShopTables
from hatchwright.workings import Quantity

_SECTION_CHORD_IN = 1e-5


class SheetPart(Struct, frozen=True):
    """One sheet with what it is allowed to carry.

    Args:
        found: what it may carry, or why no table gives it.
        measured_in: its thickness as measured less its uncertainty, None where it was not or is that of its gauge [in].
    """

    part: Part
    found: Allowables | HatchwrightError
    measured_in: float | None = None

    @property
    def allowed(self) -> Allowables:
        """What it may carry.

        Raises:
            HatchwrightError: no table gives it.
        """
        if isinstance(self.found, HatchwrightError):
            raise self.found
        return self.found

    @property
    def thickness_in(self) -> float:
        """What is there to carry: nominal, or as measured where that is less than its gauge [in]."""
        return self.part.thickness_in if self.measured_in is None else self.measured_in

    @property
    def t(self) -> Quantity:
        """The same as it goes into a working."""
        return Quantity("t", self.thickness_in, "in")


class Site(Struct, frozen=True):
    """All that the checks need, derived once from a layout.

    Args:
        sheets: by part name.
        sides: X+, X-, Y+ and Y-.
        cells: the bay cut by the opening; None when the job gives no rows on all four sides.
        edge_in: least distance to an edge less its uncertainty, by part and hole number [in].
    """

    layout: Layout
    sheets: dict[PartName, SheetPart]
    sides: tuple[CutSide, ...]
    cells: BayCells | None
    edge_in: dict[tuple[PartName, int], float]
    shop: ShopTables | None = None

    @property
    def skin(self) -> SheetPart:
        """The skin."""
        return self.sheets["skin"]

    @property
    def doubler(self) -> SheetPart | None:
        """The doubler, or None."""
        return self.sheets.get("doubler")

    @property
    def cover(self) -> SheetPart | None:
        """The cover, or None."""
        return self.sheets.get("cover")

    @property
    def cover_may_carry(self) -> bool:
        """Whether the job lets its cover carry load: never unless it is chosen."""
        return self.layout.job.loads.cover.carries == "load" and self.cover is not None

    @property
    def opening_in(self) -> tuple[float, float]:
        """Size of the opening along X and Y [in]."""
        x_min, y_min, x_max, y_max = self.layout.opening.bounds
        return x_max - x_min, y_max - y_min


def site_of(layout: Layout, shop: ShopTables | None = None) -> Site:
    """Derive what the checks need; a sheet that no table lists is there with its thickness."""
    return Site(
        layout=layout,
        sheets={part.name: sheet_part(part, layout, shop) for part in layout.parts},
        sides=sides_of_cut(layout),
        cells=_cells(layout),
        edge_in=_edges(layout),
        shop=shop,
    )


def sheet_part(part: Part, layout: Layout, shop: ShopTables | None) -> SheetPart:
    """One sheet of a layout with what it may carry, or why no table gives it."""
    basis, measured_in = layout.job.loads.statistical_basis, _thinner_in(part, shop)
    try:
        kind = sheet(part.alloy, part.temper, part.clad, shop)
        allowed = allowables(kind, thickness_in=part.thickness_in, statistical_basis=basis, shop=shop)
    except HatchwrightError as error:
        return SheetPart(part, error, measured_in)
    return SheetPart(part, allowed, measured_in)


def _thinner_in(part: Part, shop: ShopTables | None) -> float | None:
    """The measured thickness, less its uncertainty, of a sheet that may be thinner than its gauge [in]."""
    least_in = strength_value("thickness_of_the_gauge", shop).value * part.thickness_in
    if part.measured_in is None:
        return None
    sure_in = part.measured_in - part.measured_u_in
    return sure_in if sure_in < least_in - FLOAT_NOISE else None


def _cells(layout: Layout) -> BayCells | None:
    """The nearest landmark rows on all four sides make the bay."""
    columns, rows = (_three(layout.job.bay.rows, layout.opening, axis) for axis in (0, 1))
    return BayCells(columns, rows) if columns and rows else None


def _three(rows: tuple[LandmarkRow, ...], opening: Loop, axis: int) -> tuple[float, float, float] | None:
    """Before, across and beyond the opening along an axis, up to the nearest rows [in]; None when a side has none."""
    low_in, high_in = opening.bounds[axis], opening.bounds[axis + 2]
    before = [row.at_in for row in rows if row.axis == axis and row.at_in < low_in]
    after = [row.at_in for row in rows if row.axis == axis and row.at_in > high_in]
    if not before or not after:
        return None
    return low_in - max(before), high_in - low_in, min(after) - high_in


def bay_along(rows: tuple[LandmarkRow, ...], opening: Loop, axis: int) -> float | None:
    """Width of the bay along axis 0 for X or 1 for Y, between the nearest rows on both sides; None without [in]."""
    found = _three(rows, opening, axis)
    return sum(found) if found else None


def _edges(layout: Layout) -> dict[tuple[PartName, int], float]:
    least: dict[tuple[PartName, int], float] = {}
    for found in survey(layout).edges:
        sure_in = (found.distance_in - found.uncertainty_in).tolist()
        for hole, sure in zip(found.holes, sure_in, strict=True):
            key = (found.part.name, hole.number)
            least[key] = min(sure, least.get(key, math.inf))
    return least


def section_width_in(loop: Loop, *, axis: int, at_in: float) -> float:
    """Length inside a closed loop of a section square to an axis [in].

    Args:
        axis: 0 for X, 1 for Y.
        at_in: place of the section along that axis [in].
    """
    return float(section_widths_in(loop, axis=axis, at_in=np.array([at_in]), middle_in=0.0).sum())


def section_widths_in(
    loop: Loop, *, axis: int, at_in: NDArray[np.float64], middle_in: float
) -> NDArray[np.float64]:
    """Length inside a closed loop of several sections square to an axis, on either side of a line along that axis.

    Args:
        axis: 0 for X, 1 for Y.
        at_in: places of the sections along that axis, shape (k,) [in].
        middle_in: place of the line along the other axis [in].
    Returns:
        NDArray: below the line and above it, shape (k, 2) [in].
    """
    points = loop.points(_SECTION_CHORD_IN)
    start, end = points, np.roll(points, -1, axis=0)
    low, high, other = start[:, axis], end[:, axis], 1 - axis
    section, piece = ((low <= at_in[:, None]) != (high <= at_in[:, None])).nonzero()
    share = (at_in[section] - low[piece]) / (high[piece] - low[piece])
    place_in = start[piece, other] + share * (end[piece, other] - start[piece, other]) - middle_in
    # Where the loop runs back it leaves the section's metal, where it runs on it enters: lengths add up by sign.
    way = np.sign(high[piece] - low[piece])
    below, above = (
        np.bincount(section, way * part_in, len(at_in))
        for part_in in (np.minimum(place_in, 0.0), np.maximum(place_in, 0.0))
    )
    return np.abs(np.stack([below, above], axis=1))


def finished_hole_in(site: Site, hole: Hole) -> float:
    """Diameter of a hole as it takes metal away from a section.

    Returns:
        float: as measured; else of the final drill that the job names; else of the usual drill for the rivet, or of
            the close clearance drill for the screw [in].
    Raises:
        TableError: no drill is named and none is listed.
    """
    if hole.hole_in is not None:
        return hole.hole_in
    job = site.layout.job
    if hole.kind == "screw":
        named = job.cover.screws.final if job.cover and job.cover.screws else None
    else:
        named = next((row.final for row in job.rows if row.name == hole.row), None)
    if hole.kind == "rivet":
        # A larger rivet than the row's own needs a larger hole than the row's drill makes.
        usual_in = None if named else hole_drill(hole.diameter_in, shop=site.shop).diameter_in
        return max(named.inch if named else 0.0, usual_in or hole.diameter_in)
    if named is not None:
        return named.inch
    return clearance_drill(hole.fastener, shop=site.shop).diameter_in
