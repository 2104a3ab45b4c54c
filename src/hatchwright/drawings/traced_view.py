"""A traced edge as a drawing: the file that a job reads an outline from."""

from __future__ import annotations

import cmath

from hatchwright.drawings.ink import Circle, Ink, Layer, Outline
from hatchwright.drawings.sheet import Sheet
from hatchwright.drawings.title_block import TitleBlock
from hatchwright.inspection.scan.pose import leveled, pose_of
from hatchwright.inspection.scan.values import Scan, Shape, Traced
from hatchwright.shapes import outlines
from hatchwright.shapes.profile import Loop
from hatchwright.units import Unit


def traced_sheet(traced: Traced, *, title: str, unit: Unit) -> Sheet:
    """Draw one edge, its lines and arcs as measured, level and about its own middle."""
    return outline_sheet(traced_loop(traced), title=title, unit=unit)


def outline_sheet(loop: Loop, *, title: str, unit: Unit) -> Sheet:
    """Draw one closed loop as a job reads it."""
    block = TitleBlock(title, "", "", "", "", "")
    return Sheet(title, block, (Outline(loop, Layer.OPENING),), unit=unit)


def traced_part_sheet(scan: Scan, *, title: str, unit: Unit) -> Sheet:
    """Draw all that was measured of a part, outline, opening and round holes, where they lie to each other; level and
    about the middle of the opening, or of the outline of a part without one."""
    edges = [scan.outline] if scan.opening is None else [scan.outline, scan.opening]
    middle, turn = pose_of(edges[-1])
    level = cmath.rect(1.0, -turn)

    def laid(z: complex) -> tuple[float, float]:
        moved = (z - middle) * level
        return moved.real, moved.imag

    inks: list[Ink] = []
    for edge in edges:
        own, its_turn = pose_of(edge)
        way = cmath.rect(1.0, its_turn) * level
        matrix = ((way.real, -way.imag), (way.imag, way.real))
        inks.append(Outline(traced_loop(edge).transformed(matrix, laid(own)), Layer.OPENING))
    for hole in scan.holes:
        place = laid(complex(hole.x.value_in, hole.y.value_in))
        inks.append(Circle(place, hole.diameter.value_in, Layer.OPENING))
    return Sheet(title, TitleBlock(title, "", "", "", "", ""), tuple(inks), unit=unit)


def traced_loop(traced: Traced) -> Loop:
    """The closed edge, level and about its own middle [in]."""
    return leveled(traced) if traced.shape is None else _loop(traced.shape)


def _loop(shape: Shape) -> Loop:
    width, height, radius = shape.width.value_in, shape.height.value_in, shape.radius.value_in
    if shape.kind == "circle":
        return outlines.circle(diameter_in=width)
    if shape.kind == "obround":
        long, short = max(width, height), min(width, height)
        return outlines.obround(length_in=long, width_in=short, angle_deg=0.0 if width >= height else 90.0)
    return outlines.rounded_rectangle(width_in=width, height_in=height, radius_in=radius)
