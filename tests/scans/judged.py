"""How far what was measured from a scan is off what is true, each error beside the interval that was stated for it."""

from __future__ import annotations

from typing import Any

import msgspec
import numpy as np

from tests.scans.card import card
from tests.scans.pictures import jpeg, picture
from tests.scans.scanner import bar_lengths, scan_of
from tests.scans.setup import Setup, any_setup
from tests.scans.shapes import Values
from tests.scans.truths import PARTS, Edge, Part

CALIPER_U = 0.002
"""How well a bar of the frame is measured by a caliper, one standard deviation [in]."""


class Off(msgspec.Struct, frozen=True):
    """One reading: of which kind, its error, and half of the 95 % interval stated for it [in]."""

    kind: str
    error: float
    expanded: float

    @property
    def held(self) -> bool:
        return abs(self.error) <= self.expanded


class Case(msgspec.Struct, frozen=True):
    """A scan made of something known: the file, the part, how it was scanned, and the bars as a caliper gives them."""

    content: bytes
    part: Part
    setup: Setup
    bars: tuple[float, float]


def case_of(name: str, seed: int, *, dpi: int = 300, lens: bool = False, **changes: object) -> Case:
    """One part scanned once, all that is left to chance by one seed."""
    rng = np.random.default_rng(seed)
    part = PARTS[name](rng)
    setup = any_setup(rng, dpi=dpi, lens=lens).but(**changes)
    drawn = card(part.window)
    levels = scan_of(part, drawn, setup, rng)
    content = picture(levels, dpi) if setup.jpeg is None else jpeg(levels, dpi, setup.jpeg)
    bars = np.array(bar_lengths(drawn, setup)) + rng.normal(0.0, CALIPER_U, 2)
    return Case(content=content, part=part, setup=setup, bars=(float(bars[0]), float(bars[1])))


def errors_of(scan: Any, case: Case) -> list[Off]:
    """Every error of a scan that was measured, of the part that was laid on the glass."""
    found, part = [], case.part
    for edge, traced, where in (
        (part.outline, scan.outline, "outline"),
        (part.opening, scan.opening, "opening"),
    ):
        if edge is not None:
            found += [_off(f"{where} {kind}", *pair) for kind, *pair in _edge_readings(edge, traced.shape)]
    return found + hole_errors(scan.holes, case) + place_errors(scan.holes, case)


def offset_error(scan: Any, part: Part, cut_offset: Any) -> list[Off]:
    """Error of the cutter offset of a guide template .5 larger each way than the opening that was cut."""
    if part.opening is None:
        return []
    template = part.opening.width + 0.5, part.opening.height + 0.5
    return [_off("offset", cut_offset(scan.opening.shape, template_in=template), 0.25)]


def pose_errors(scan: Any, case: Case, cut_pose: Any) -> list[Off]:
    """Errors of where a cut lies among the four holes of the pins that held its template, whose middle is at zero."""
    pairs = sorted(paired(scan.holes, case), key=lambda pair: pair[1])
    if case.part.centers.shape != (4, 2) or len(pairs) != 4:
        return []
    z = case.part.centers @ [1, 1j]  # by number: left and low, left and high, right and low, right and high
    way = (z[2] + z[3] - z[0] - z[1]) + (z[1] + z[3] - z[0] - z[2]) / 1j
    true = -z.mean() * abs(way) / way
    pose = cut_pose(scan)
    return [
        _off("shift", pose.shift[0], true.real),
        _off("shift", pose.shift[1], true.imag),
        _off("turn", pose.turn_deg, -float(np.degrees(np.angle(way)))),
    ]


def _edge_readings(edge: Edge, shape: Any) -> list[tuple[str, Any, float]]:
    readings = [("width", shape.width, edge.width)]
    if edge.kind != "circle":
        readings += [("height", shape.height, edge.height)]
    if edge.kind == "rounded":
        readings += [("radius", shape.radius, edge.radius)]
        readings += [("corner", corner, edge.radius) for corner in shape.corners]
    return readings


def _off(kind: str, value: Any, true: float) -> Off:
    return Off(kind, float(value.value_in) - true, float(value.expanded_in))


def hole_errors(measured: Any, case: Case) -> list[Off]:
    """Errors of diameter and, after the best fit without scale, of both coordinates of each hole that is there."""
    found, part = [], case.part
    pairs = paired(measured, case)
    for hole, at in pairs:
        found.append(_off("diameter", hole.diameter, part.diameters[at]))
    if len(pairs) >= 3:
        places = np.array([(hole.x.value_in, hole.y.value_in) for hole, _ in pairs])
        true = part.centers[[at for _, at in pairs]]
        for (hole, _), (x, y) in zip(pairs, laid_on(places, true) - true, strict=True):
            found += [
                Off("center", float(x), hole.x.expanded_in),
                Off("center", float(y), hole.y.expanded_in),
            ]
    return found


def place_errors(measured: Any, case: Case) -> list[Off]:
    """Errors of both coordinates of each hole from the middle of the opening, or of the outline of a part without one:
    that is where every part has its zero."""
    return [
        _off("place", value, true)
        for hole, at in paired(measured, case)
        for value, true in zip(hole.from_edge, case.part.centers[at], strict=True)
    ]


def paired(measured: Any, case: Case) -> list[tuple[Any, int]]:
    """Each measured hole with the one that it is, within .05 in of where it was laid on the card."""
    if not len(measured) or not len(case.part.centers):
        return []
    setup = case.setup
    turned = case.part.centers @ [1, 1j] * np.exp(1j * setup.part_turn)
    there = turned + np.dot(setup.part_at, [1, 1j]) * np.exp(-1j * setup.card_turn)
    places = np.array([complex(hole.x.value_in, hole.y.value_in) for hole in measured])
    away = np.abs(places[:, None] - there[None])
    return [(hole, int(row.argmin())) for hole, row in zip(measured, away, strict=True) if row.min() < 0.05]


def laid_on(places: Values, onto: Values) -> Values:
    """Points shifted and turned as a whole so that they lie best on others, shapes (n, 2): by complex numbers."""
    z, w = (places - places.mean(0)) @ [1, 1j], (onto - onto.mean(0)) @ [1, 1j]
    turn = np.vdot(z, w)
    z = z * turn / abs(turn)
    return np.column_stack([z.real, z.imag]) + onto.mean(0)
