"""Hazards of a survey as the bay of a job holds them, and where they lie."""

from __future__ import annotations

import math

from hatchwright.job.as_typed import typed_length
from hatchwright.job.bay import KeepOut
from hatchwright.job.site import EDGES, SiteHazard
from hatchwright.judged import FLOAT_NOISE
from hatchwright.layout.site.difference import down_text, up_text
from hatchwright.layout.site.landmarks import Landmark
from hatchwright.units import Length, Unit, parse_length

_TYPED_IN = 1e-4 + FLOAT_NOISE
"""What is typed lies off by a step at most [in]."""


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


def kept_clear_in(hazard: SiteHazard, u_in: float, skin_in: float) -> dict[str, float]:
    """Its bounds and its depth as near as it may lie: a job is to hold these, since it knows no u of them.

    Args:
        u_in: expanded uncertainty of its readings [in].
        skin_in: as for `depth_text` [in].
    Returns:
        dict: by the names of a no-drill zone's entries, what was read alone [in].
    """
    found = {name: one.inch for name in EDGES if (one := getattr(hazard, name)) is not None}
    found = {name: at_in + (-u_in if name.endswith("from") else u_in) for name, at_in in found.items()}
    if hazard.depth:
        depth_in = hazard.depth.inch + (skin_in if hazard.found_from == "inside" else 0.0)
        found["depth"] = max(depth_in - u_in, 0.0)
    return found


def kept_clear_text(name: str, at_in: float, unit: Unit) -> str:
    """One of them as it would be typed, rounded nearer."""
    return up_text(at_in, unit) if name.endswith("to") else down_text(at_in, unit)


def is_kept_clear(there: KeepOut, hazard: SiteHazard, u_in: float, skin_in: float) -> bool:
    """Whether what a job holds lies at least as near and as wide as the hazard may, so that it speaks for it."""
    kept_in = kept_clear_in(hazard, u_in, skin_in)
    for name in (*EDGES, "depth"):
        held: Length | None = getattr(there, name)
        if name == "depth" and (there.start_depth is not None or name not in kept_in):
            continue  # it slopes in the job, or was measured for the job alone
        if held is None:
            if name == "depth":
                return False
        elif name not in kept_in:
            return False  # it ends in the job, and nobody saw it end
        elif (kept_in[name] - held.inch) * (1.0 if name.endswith("to") else -1.0) > _TYPED_IN:
            return False
    return True


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
