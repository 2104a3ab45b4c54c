"""One edge of a part from its measured points: a known shape, the roots of its bites, or lines and arcs.

Method: docs/theory/scan.md, section 5.
"""

from __future__ import annotations

import math
from typing import Literal

import numpy as np
from msgspec import Struct

from hatchwright.errors import GeometryError, ScanError
from hatchwright.inspection.outline.edge import measured_edge
from hatchwright.inspection.outline.fitting import Fitted, ShapeKind, corner_radii, fit
from hatchwright.inspection.outline.least_division import noise_in
from hatchwright.inspection.outline.lines_and_arcs import TOLERANCE_SPREADS, lines_and_arcs
from hatchwright.inspection.scan.budget import ScanBudget, Strips, most_spread_in, turn_u_deg
from hatchwright.inspection.scan.scalloped import find_bites, waves_along
from hatchwright.inspection.scan.values import Scallops, Shape, Traced, value_of
from hatchwright.said import inch
from hatchwright.shapes.distance import distances
from hatchwright.shapes.pieces import Floats
from hatchwright.shapes.profile import Loop, profile_of

AskedShape = ShapeKind | Literal["auto", "any"]

_WITHIN_PERCENT = 99.0


class Asked(Struct, frozen=True):
    """What one edge is looked at for.

    Args:
        within: whether metal lies outside the edge, as round an opening.
        advance_in: from bite to bite of a nibbled edge, None for a smooth one [in].
        tolerance_in: of lines and arcs: how far the edge may lie from them [in].
        pixel_in: size of a pixel [in].
    """

    shape: AskedShape
    within: bool
    advance_in: float | None
    tolerance_in: float
    pixel_in: float


def trace(points: Floats, asked: Asked, budget: ScanBudget) -> Traced:
    """Make of the points of an edge what was asked for.

    Args:
        points: in order, shape (n, 2) [in].
    Raises:
        ScanError: the edge does not fit its shape, or does not come within the tolerance.
    """
    if asked.shape == "any":
        return _as_profile(points, asked)
    if asked.advance_in:
        return _nibbled(points, asked, budget, asked.advance_in)
    fitted = fit(points, asked.shape)
    most = most_spread_in(asked.pixel_in)
    if fitted.spread_in > most:
        if asked.shape == "auto":
            return _as_profile(points, asked)
        spread = inch(fitted.spread_in, fine=True)
        raise ScanError.saying("scan.does_not_fit", spread=spread, most=inch(most, fine=True))
    if waves := waves_along(points, fitted, into=1.0 if asked.within else -1.0):
        raise ScanError.saying(
            "scan.scalloped", advance=inch(waves.advance_in), height=inch(waves.height_in, fine=True)
        )
    shape = told_shape(fitted, corner_radii(points, fitted), asked.within, budget)
    return Traced(points, shape, None, (), fitted.spread_in, _far(fitted.distances(points)))


def _far(off: Floats) -> float:
    return float(np.percentile(np.abs(off), _WITHIN_PERCENT))


def _as_profile(points: Floats, asked: Asked) -> Traced:
    edge = measured_edge(points)
    spread_in = max(noise_in(edge.places), asked.tolerance_in / TOLERANCE_SPREADS)
    corners = lines_and_arcs(edge, spread_in=spread_in)
    try:
        off = distances(profile_of(Loop(np.array(corners))), edge.places).distance_in
    except GeometryError:
        raise ScanError.saying("scan.no_outline", tolerance=inch(asked.tolerance_in, fine=True)) from None
    far = float(off.max())
    if far > asked.tolerance_in:
        tolerance = inch(asked.tolerance_in, fine=True)
        raise ScanError.saying("scan.outline_off", far=inch(far, fine=True), tolerance=tolerance)
    return Traced(points, None, None, corners, float(np.sqrt(np.mean(off**2))), far)


def _nibbled(points: Floats, asked: Asked, budget: ScanBudget, advance_in: float) -> Traced:
    into, kind = (1.0 if asked.within else -1.0), asked.shape
    found = find_bites(points, advance_in=advance_in, into=into, kind=_known(kind))
    root = told_shape(found.root, (), asked.within, budget, is_root=True)
    lower = -into * found.height_in
    crest = told_shape(_offset(found.root, lower), (), asked.within, budget, is_root=True)
    scallops = Scallops(
        crest=crest,
        bites=len(found.beyond_in),
        advance_in=found.advance_in,
        height_in=found.height_in,
        scatter_in=float(np.std(found.beyond_in, ddof=1)),
        deepest_in=float(found.beyond_in.max()),
    )
    return Traced(points, root, scallops, (), scallops.scatter_in, _far(found.beyond_in))


def _known(shape: AskedShape) -> ShapeKind | Literal["auto"]:
    assert shape != "any"
    return shape


def _offset(fitted: Fitted, by_in: float) -> Fitted:
    x, y, turn, width, height, radius = fitted.numbers
    grown = (x, y, turn, width + 2.0 * by_in, height + 2.0 * by_in, max(radius + by_in, 0.0))
    return Fitted(fitted.kind, grown, fitted.spread_in)


def told_shape(
    fitted: Fitted, corners: tuple[float, ...], within: bool, budget: ScanBudget, *, is_root: bool = False
) -> Shape:
    """A fitted shape with the uncertainty of each of its sizes."""
    x, y, turn, width, height, radius = fitted.numbers
    strips = _strips(fitted, within, budget)
    side_in = max(width, height) - 2.0 * radius
    lengths = [
        budget.length(size, axis, strips=strips, within=within, root=is_root)
        for axis, size in enumerate((width, height))
    ]
    if fitted.kind == "circle":
        # A circle is one size: what a lens sees of its wall shows along one axis only, by half in the mean of both.
        both = 0.5 * (lengths[0].value_in + lengths[1].value_in)
        mean = value_of(both, **dict(max(lengths, key=lambda one: one.u_in).parts))
        lengths = [mean, mean]
        radius_told = value_of(0.5 * mean.value_in, **{name: 0.5 * part for name, part in mean.parts})
    else:
        radius_told = budget.radius(radius, side_in=side_in, strips=strips)
    shown = corners if fitted.kind == "rounded" else ()
    return Shape(
        kind=fitted.kind,
        center=(budget.middle(x, 0, strips=strips), budget.middle(y, 1, strips=strips)),
        turn_deg=value_of(math.degrees(turn), fit=turn_u_deg(max(width, height))),
        width=lengths[0],
        height=lengths[1],
        radius=radius_told,
        corners=tuple(budget.radius(one, side_in=side_in, strips=strips, is_single=True) for one in shown),
        edge_u_in=budget.edge_u_in,
    )


def _strips(fitted: Fitted, within: bool, budget: ScanBudget) -> Strips:
    middle, half = fitted.numbers[budget.sensor], 0.5 * fitted.numbers[3 + budget.sensor]
    return budget.strips(middle - half, middle + half, within=within)
