"""Hazards of a survey as the bay of a job holds them, and where they lie."""

from __future__ import annotations

import math

from hatchwright.job.as_typed import typed_length
from hatchwright.job.bay import KeepOut
from hatchwright.job.site import SiteHazard
from hatchwright.layout.site.landmarks import Landmark
from hatchwright.units import Unit, parse_length


def depth_text(hazard: SiteHazard, skin_in: float, unit: Unit) -> str:
    """Depth from the outer face of the skin, as it would be typed; as it was typed where it counts from there.

    Args:
        skin_in: thickness of the skin, which a depth taken from inside doesn't hold [in].
    """
    if hazard.depth is None or hazard.found_from != "inside":
        return hazard.depth.text if hazard.depth else ""
    return typed_length(hazard.depth.inch + skin_in, unit)


def as_keep_out(hazard: SiteHazard, skin_in: float, unit: Unit) -> KeepOut:
    """The same as something that nothing may touch, with its depth from the outer face of the skin."""
    text = depth_text(hazard, skin_in, unit)
    bounds = {name: getattr(hazard, name) for name in ("x_from", "x_to", "y_from", "y_to")}
    depth = parse_length(text, unit=unit) if text else None
    return KeepOut.model_construct(name=hazard.name, depth=depth, moves=hazard.moves, **bounds)


def outside_in(hazard: SiteHazard, lines: tuple[Landmark, ...]) -> float:
    """How far a hazard lies beyond the outermost landmarks, 0 where any of it lies between them, or they are not known.

    Returns:
        float: [in].
    """
    bounds, found = hazard.bounds_in, 0.0
    for axis in (0, 1):
        at = [line.at().value for line in lines if line.axis == axis]
        if len(at) > 1:
            found = max(found, bounds[axis] - max(at), min(at) - bounds[axis + 2])
    return found if math.isfinite(found) else 0.0
