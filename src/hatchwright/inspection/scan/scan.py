"""Measuring a part from one flat scan: from the bytes of a picture to values with their uncertainty.

Method: docs/theory/scan.md.
"""

from __future__ import annotations

import math
from typing import Literal

import numpy as np
from msgspec import Struct

from hatchwright.errors import ScanError
from hatchwright.inspection.outline.fitting import fit
from hatchwright.inspection.scan.budget import ScanBudget, Scanner, edge_bias_in, print_in
from hatchwright.inspection.scan.calibration import Calibration, calibrate
from hatchwright.inspection.scan.card import Card, find_card
from hatchwright.inspection.scan.dots import find_dots
from hatchwright.inspection.scan.edges import fine_edge
from hatchwright.inspection.scan.holes import hole_in, told_holes, zero_of
from hatchwright.inspection.scan.picture import read_picture
from hatchwright.inspection.scan.traced import Asked as AskedOfEdge
from hatchwright.inspection.scan.traced import AskedShape, trace
from hatchwright.inspection.scan.values import Scan, Shape, Value, value_of
from hatchwright.inspection.scan.window import OPENING_IN, Seen, look_in
from hatchwright.said import inch
from hatchwright.shapes.pieces import Floats

MOST_BLUR_IN = 0.004
"""Blur of the part's edges above which a scan is refused, one standard deviation [in]."""

_MOST_BAR_OFF = 0.06
"""A bar that is off by more was not printed at true size, or was typed wrongly [-]. Own choice, no source."""

_MOST_DPI_OFF = 0.015
"""By how much a scanner's resolution along one axis may be off what is set on it, or off that along the other [-]. Own
choice, no source: they are by some .005 each."""

_SAME_OUTSIDE_IN = 0.015
"""A size of the part by caliper that differs by more from the scan is a slip of one of them [in]. Own choice."""


class Asked(Struct, frozen=True):
    """What the mechanic says of a scan.

    Args:
        bars_in: the card's two bars by caliper, along x and along y [in].
        bar_u_in: standard uncertainty of each [in].
        thickness_in: of the part; what a lens sees of its wall depends on it [in].
        advance_in: from bite to bite of a nibbled edge, None for smooth edges [in].
        shape: of the opening, or of the outline where the part has no opening.
        tolerance_in: how far an edge may lie from the lines and arcs made of it [in].
        outside_in: the part's own width and height by caliper, None where they were not measured [in].
        outside_u_in: standard uncertainty of these two [in].
        dpi: resolution as set on the scanner, None to take it from the file [1/in].
    """

    bars_in: tuple[float, float]
    bar_u_in: float = 0.002
    scanner: Scanner = "contact"
    thickness_in: float = 0.0
    advance_in: float | None = None
    shape: AskedShape = "auto"
    tolerance_in: float = 0.003
    outside_in: tuple[float, float] | None = None
    outside_u_in: float = 0.0007
    dpi: float | None = None


class _Edges(Struct, frozen=True):
    """Points of each edge [in]: the outline, the opening if there is one, and those that may be holes."""

    outline: Floats
    opening: Floats | None
    small: tuple[Floats, ...]


def measure_scan(content: bytes, asked: Asked) -> Scan:
    """Measure the part that lies in a printed frame on a scanner.

    Args:
        content: the picture file.
    Raises:
        ScanError: the picture cannot be measured from, with the reason, its number, and what to do.
    """
    if asked.scanner == "lens" and asked.thickness_in <= 0.0:
        raise ScanError.saying("scan.lens_thickness")
    picture = read_picture(content)
    dpi = (asked.dpi, asked.dpi) if asked.dpi else picture.dpi
    if dpi is None:
        raise ScanError.saying("scan.no_dpi")
    card = find_card(picture, dpi=dpi)
    dots = find_dots(card)
    stretch = _stretch(card, asked)
    _refuse_slip(card, dpi, stretch)
    calibration = calibrate(card, dots, stretch=stretch)
    seen = look_in(card, dots)
    pixel_in = 2.0 / sum(card.dpi)
    edges, blur_in = _fine_edges(seen, calibration, pixel_in)
    budget = _budget(card, calibration, asked, blur_in)
    if asked.outside_in:
        edges, budget = _scaled(edges, budget, asked.outside_in, asked)
    plain: AskedShape = "any" if asked.shape == "any" else "auto"
    smooth = AskedOfEdge(plain, False, None, asked.tolerance_in, pixel_in)
    wanted = AskedOfEdge(
        asked.shape, edges.opening is not None, asked.advance_in, asked.tolerance_in, pixel_in
    )
    opening = None if edges.opening is None else trace(edges.opening, wanted, budget)
    outline = trace(edges.outline, smooth if opening else wanted, budget)
    zero = zero_of(opening or outline, budget, within=opening is not None)
    tried = [(one, hole_in(one, pixel_in=pixel_in)) for one in edges.small]
    return Scan(
        window=card.frame.name,
        card=card.number,
        dpi=(card.dpi[0] / stretch[0], card.dpi[1] / stretch[1]),
        turned_deg=card.turned_deg,
        residual_in=calibration.residual_in,
        blur_in=blur_in,
        outline=outline,
        opening=opening,
        holes=told_holes([circle for _, circle in tried if circle], budget, zero),
        odd=tuple(_spot(points) for points, circle in tried if not circle),
    )


def _spot(points: Floats) -> tuple[float, float, float]:
    """Middle and larger side of the box round an edge [in]."""
    x, y = 0.5 * (points.min(axis=0) + points.max(axis=0))
    return float(x), float(y), float(np.ptp(points, axis=0).max())


def _stretch(card: Card, asked: Asked) -> tuple[float, float]:
    """Length by caliper over length as drawn, along x and y."""
    drawn = card.frame.bars_in
    for typed, bar, axis in zip(asked.bars_in, drawn, "XY", strict=True):
        if not abs(typed / bar - 1.0) <= _MOST_BAR_OFF:
            raise ScanError.saying("scan.bar_off", axis=axis, typed=inch(typed), drawn=inch(bar))
    return asked.bars_in[0] / drawn[0], asked.bars_in[1] / drawn[1]


def _refuse_slip(card: Card, dpi: tuple[float, float], stretch: tuple[float, float]) -> None:
    """A bar that was misread makes the scanner another one along its axis."""
    stated = dpi[::-1] if card.is_quartered else dpi
    off = [found / by / rate - 1.0 for found, by, rate in zip(card.dpi, stretch, stated, strict=True)]
    worst = int(abs(off[1]) > abs(off[0]))
    if max(abs(off[worst]), abs(off[0] - off[1])) > _MOST_DPI_OFF:
        found, axis = round(card.dpi[worst] / stretch[worst]), "XY"[worst]
        raise ScanError.saying("scan.bar_differs", axis=axis, found=found, stated=round(stated[worst]))


def _fine_edges(seen: Seen, calibration: Calibration, pixel_in: float) -> tuple[_Edges, float]:
    """Every edge in inches, and the blur of the outline [in]."""

    def fine(run: Floats) -> tuple[Floats, float]:
        edge = fine_edge(seen.light, run, contrast=seen.contrast)
        return calibration.inches(edge.points + seen.corner), edge.sigma_px * pixel_in

    outline, blur_in = fine(seen.outline)
    if blur_in > MOST_BLUR_IN:
        raise ScanError.saying("scan.blur", blur=inch(blur_in, fine=True), most=inch(MOST_BLUR_IN, fine=True))
    inner = [fine(run)[0] for run in seen.inner]
    is_open = bool(inner) and float(np.ptp(inner[0], axis=0).max()) >= OPENING_IN
    return _Edges(outline, inner[0] if is_open else None, tuple(inner[1:] if is_open else inner)), blur_in


def _budget(card: Card, calibration: Calibration, asked: Asked, blur_in: float) -> ScanBudget:
    lines, columns = card.picture.grays.shape
    middle = calibration.inches(np.array([[0.5 * columns, 0.5 * lines]]))[0]
    sensor = 1 if card.is_quartered else 0
    return ScanBudget(
        scale_u=(asked.bar_u_in / asked.bars_in[0], asked.bar_u_in / asked.bars_in[1]),
        edge_u_in=edge_bias_in(blur_in),
        print_u_in=print_in(typed=False),
        scanner=asked.scanner,
        thickness_in=asked.thickness_in,
        sensor=sensor,
        middle_in=float(middle[sensor]),
    )


def _scaled(
    edges: _Edges, budget: ScanBudget, outside_in: tuple[float, float], asked: Asked
) -> tuple[_Edges, ScanBudget]:
    """All points by the scale that makes the part's outline as wide and high as the caliper says."""
    sizes = fit(edges.outline, "rounded").numbers[3:5]
    for size, typed, axis in zip(sizes, outside_in, "xy", strict=True):
        if abs(size - typed) > _SAME_OUTSIDE_IN:
            raise ScanError.saying(
                "scan.outside_differs", axis=axis, typed=inch(typed), scanned=inch(float(size))
            )
    ratio = np.array([typed / size for size, typed in zip(sizes, outside_in, strict=True)])
    u_in = math.hypot(asked.outside_u_in, 2.0 * budget.edge_u_in)
    anew = ScanBudget(
        scale_u=(u_in / outside_in[0], u_in / outside_in[1]),
        edge_u_in=budget.edge_u_in,
        print_u_in=print_in(typed=True),
        scanner=budget.scanner,
        thickness_in=budget.thickness_in,
        sensor=budget.sensor,
        middle_in=budget.middle_in * float(ratio[budget.sensor]),
    )
    opening = None if edges.opening is None else edges.opening * ratio
    return _Edges(edges.outline * ratio, opening, tuple(one * ratio for one in edges.small)), anew


def own_u_in(size: Value) -> float:
    """Standard uncertainty of a length without the bias of its edges, which all lengths of one part share [in]."""
    return math.hypot(*(part for name, part in size.parts if name != "edge"))


def cut_offset(
    shape: Shape, *, template_in: tuple[float, float], guide: Literal["window", "plug"] = "window"
) -> Value:
    """From the edge of the cut to the edge of the guide template that it was made with.

    Args:
        template_in: width and height of the template's window or plug, along those of the shape [in].
    Method: docs/theory/scan.md, eq. 12: widths err by themselves, the bias of edges in both alike.
    """
    sizes = (shape.width, shape.height)
    cut_in = 0.5 * sum(size.value_in for size in sizes)
    names = dict.fromkeys(name for size in sizes for name, _ in size.parts if name != "edge")
    parts = {name: 0.25 * math.hypot(*(dict(size.parts).get(name, 0.0) for size in sizes)) for name in names}
    apart_in = 0.5 * sum(template_in) - cut_in
    return value_of(0.5 * apart_in if guide == "window" else -0.5 * apart_in, **parts, edge=shape.edge_u_in)
