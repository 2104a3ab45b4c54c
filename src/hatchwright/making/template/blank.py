"""The blank on the machine's table, and the template laid in the middle of it, face up."""

from __future__ import annotations

import numpy as np
from msgspec import Struct
from msgspec.structs import replace

from hatchwright.errors import JobError
from hatchwright.layout.named import size
from hatchwright.making.making import Making
from hatchwright.making.template.part import TemplatePart
from hatchwright.said import inch

_AS_DRAWN = ((1.0, 0.0), (0.0, 1.0))
_QUARTER_TURN = ((0.0, -1.0), (1.0, 0.0))


class Blank(Struct, frozen=True):
    """A blank with the template where it is cut out of it; the origin is its lower left corner on top."""

    size_in: tuple[float, float]
    thickness_in: float
    part: TemplatePart
    is_turned: bool


def laid_on_blank(part: TemplatePart, making: Making) -> Blank:
    """Lay a template in the middle of the job's blank, turned a quarter when only that fits; whether there is
    room for the tool too is judged on the finished toolpath. JobError where the job does not tell the size
    of the blank, or the template is larger than it."""
    template = making.template
    if template.blank is None:
        raise JobError.about("template.blank", "blank.unknown", unit=making.unit)
    size_in = (template.blank[0].inch, template.blank[1].inch)
    for turn in (_AS_DRAWN, _QUARTER_TURN):
        turned = _moved(part, turn, (0.0, 0.0))
        x_min, y_min, x_max, y_max = turned.material.bounds
        if x_max - x_min <= size_in[0] and y_max - y_min <= size_in[1]:
            shift = 0.5 * (size_in[0] - x_min - x_max), 0.5 * (size_in[1] - y_min - y_max)
            laid = _moved(turned, _AS_DRAWN, shift)
            return Blank(size_in, template.thickness.inch, laid, turn is _QUARTER_TURN)
    x_min, y_min, x_max, y_max = part.material.bounds
    width, height = inch(x_max - x_min), inch(y_max - y_min)
    raise JobError.about(
        "template.blank", "blank.too_small", size(size_in), making.unit, width=width, height=height
    )


def _moved(
    part: TemplatePart, turn: tuple[tuple[float, float], tuple[float, float]], shift: tuple[float, float]
) -> TemplatePart:
    matrix = np.array(turn)

    def place(at: tuple[float, float]) -> tuple[float, float]:
        x, y = (matrix @ at + shift).tolist()
        return x, y

    return TemplatePart(
        material=part.material.transformed(turn, shift),
        guide_edges=tuple(edge.transformed(turn, shift) for edge in part.guide_edges),
        plate_edge=part.plate_edge.transformed(turn, shift) if part.plate_edge else None,
        holes=tuple(replace(hole, center=place(hole.center)) for hole in part.holes),
        marks=tuple(tuple(place(at) for at in mark) for mark in part.marks),
    )
