"""A traced edge as a known shape of a job, by the sizes that are typed for it."""

from __future__ import annotations

import math
from typing import get_args

import numpy as np

from hatchwright.errors import GeometryError
from hatchwright.inspection.outline.drawn_outline import departure_in
from hatchwright.inspection.outline.edge import drawn_edge
from hatchwright.inspection.outline.fitting import Fitted, ShapeKind, fit
from hatchwright.job.job_text import Typed
from hatchwright.job.outline import Circle, Obround, RoundedRectangle, loop_about
from hatchwright.shapes.pieces import Floats
from hatchwright.shapes.profile import Loop
from hatchwright.units import Unit, figure, signed_figure

_MODELS: dict[ShapeKind, type[Circle | Obround | RoundedRectangle]] = {
    "circle": Circle, "obround": Obround, "rounded": RoundedRectangle,
}  # fmt: skip
"""Known shapes, the plainest first."""

_EVERY = 8
"""Of the even points along an edge those that a shape is fitted to [-]."""

_SHARP_IN = 0.0005
"""A corner of a smaller radius is a sharp one [in]."""


def known_shape(
    polygon: Floats, *, within_in: float, unit: Unit
) -> tuple[dict[str, Typed], Loop, float] | None:
    """The plainest known shape that lies within a tolerance of a traced edge.

    Args:
        polygon: closed, in the job's frame, shape (n, 2) [in].
        unit: of the job.
    Returns:
        tuple | None: what is typed in the job, the loop that the job makes of it, and how far that and the trace lie
            apart at most, either from the other [in]; None where no shape comes within it.
    """
    points = np.vstack(list(drawn_edge(polygon).runs))[::_EVERY]
    for kind, model in _MODELS.items():
        fitted = fit(points, kind)
        if fitted.spread_in > within_in:
            continue
        values = _typed(fitted, unit)
        try:
            loop = loop_about(model.model_validate(values, context={"unit": unit}), (0.0, 0.0))
        except (GeometryError, ValueError):
            continue
        off_in = departure_in(loop, polygon)
        if off_in <= within_in:
            return values, loop, off_in
    return None


def _typed(fitted: Fitted, unit: Unit) -> dict[str, Typed]:
    x, y, turn, width, height, radius = fitted.numbers
    (name,) = get_args(_MODELS[fitted.kind].model_fields["shape"].annotation)
    center = [signed_figure(one, unit) for one in (x, y)]

    def size(size_in: float) -> str:
        return figure(size_in, unit, fine=True)

    if fitted.kind == "circle":
        return {"shape": name, "diameter": size(width), "center": center}
    if fitted.kind == "obround":
        angle = round(math.degrees(turn) + (0.0 if width >= height else 90.0), 3)
        long, short = sorted((width, height), reverse=True)
        return {"shape": name, "length": size(long), "width": size(short), "angle": angle, "center": center}
    corner = size(radius if radius > _SHARP_IN else 0.0)
    return {"shape": name, "width": size(width), "height": size(height), "radius": corner, "center": center}
