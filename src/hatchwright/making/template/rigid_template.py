"""What a rigid flat template does to the cut on a curved skin. Method: docs/theory/curved.md, eq. 13."""

from __future__ import annotations

import math

from hatchwright.errors import GeometryError
from hatchwright.layout.curved import curved_skin
from hatchwright.layout.layout import Layout


def rigid_edge_in(layout: Layout) -> float | None:
    """From the middle of the opening along the curved axis to the farthest side of its rough line; None when
    no rigid flat template is laid on a curved skin: the skin is flat, the template is bent onto it, or there
    is none [in]."""
    job = layout.job
    if job.skin.curvature is None or layout.rough_cut is None or job.template is None or job.template.flexed:
        return None
    axis = 0 if job.skin.curvature.along == "x" else 1
    bounds, middle = layout.rough_cut.bounds, layout.center_in[axis]
    return max(middle - bounds[axis], bounds[axis + 2] - middle)


def rigid_over_in(layout: Layout) -> float:
    """How far beyond the rough line a rigid flat template lets the cut go on a curved skin: R asin(e/R) - e at the
    farthest side *e*, the template touching at the middle and the tool held square to it; 0 where nothing rigid lies
    on a curved skin [in]. GeometryError where the skin is curved both ways, or the cut is wider than the skin is round.
    """
    edge_in, curvature = rigid_edge_in(layout), layout.job.skin.curvature
    if edge_in is None or curvature is None:
        return 0.0
    skin = curved_skin(curvature, thickness_in=layout.job.skin.thickness.inch, unit=layout.job.unit)
    if edge_in >= skin.radius_in:
        raise GeometryError.saying("rigid.too_wide", where="template.flexed")
    return skin.radius_in * math.asin(edge_in / skin.radius_in) - edge_in
