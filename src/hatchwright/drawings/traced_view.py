"""An edge traced from a scan as a drawing: the file that a job reads an outline from."""

from __future__ import annotations

import math

import numpy as np

from hatchwright.drawings.ink import Layer, Outline
from hatchwright.drawings.sheet import Sheet
from hatchwright.drawings.title_block import TitleBlock
from hatchwright.inspection.scan.values import Shape, Traced
from hatchwright.shapes import outlines
from hatchwright.shapes.profile import Loop
from hatchwright.units import Unit


def traced_sheet(traced: Traced, *, title: str, unit: Unit) -> Sheet:
    """Draw one edge as it lay in the frame, its lines and arcs as measured."""
    block = TitleBlock(title, "", "", "", "", "")
    return Sheet(title, block, (Outline(traced_loop(traced), Layer.OPENING),), unit=unit)


def traced_loop(traced: Traced) -> Loop:
    """The closed edge, where it lay in the frame [in]."""
    return Loop(np.array(traced.profile)) if traced.shape is None else _loop(traced.shape)


def _loop(shape: Shape) -> Loop:
    center = shape.center[0].value_in, shape.center[1].value_in
    width, height, radius = shape.width.value_in, shape.height.value_in, shape.radius.value_in
    if shape.kind == "circle":
        return outlines.circle(diameter_in=width, center=center)
    if shape.kind == "obround":
        long, short = max(width, height), min(width, height)
        turn = shape.turn_deg.value_in + (0.0 if width >= height else 90.0)
        return outlines.obround(length_in=long, width_in=short, center=center, angle_deg=turn)
    turn = math.radians(shape.turn_deg.value_in)
    matrix = ((math.cos(turn), -math.sin(turn)), (math.sin(turn), math.cos(turn)))
    flat = outlines.rounded_rectangle(width_in=width, height_in=height, radius_in=radius)
    return flat.transformed(matrix, center)
