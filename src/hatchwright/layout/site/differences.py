"""What a job says otherwise than its site survey, and what would stand in the job if it said the same."""

from __future__ import annotations

import math
from collections.abc import Iterator

from msgspec.structs import replace

from hatchwright.job.as_typed import typed_length
from hatchwright.job.job import Job
from hatchwright.layout.site.bay_differences import bay_differences
from hatchwright.layout.site.center import Center
from hatchwright.layout.site.difference import Difference, length_differs, up_text
from hatchwright.layout.site.thickness import thickness_of
from hatchwright.said import said
from hatchwright.units import inches

_TYPED_IN = 1e-4
"""A thickness is typed to this, whatever the u of its gauge; own choice, no source [in]."""
_GAUGE_IN = 0.001
"""What a gauge whose u was not entered is taken to read to; common practice, no source [in]."""


def differences(job: Job, center: Center) -> tuple[Difference, ...]:
    """Everything of the survey that the job says otherwise or not at all, in the order of the job file."""
    return (*_center(job, center), *_skin(job, center), *bay_differences(job, center))


def _center(job: Job, center: Center) -> Iterator[Difference]:
    if center.best is None:
        return
    name = said("site.name.center")
    if "center" not in type(job.opening).model_fields:
        x_min, y_min, x_max, y_max = job.opening.loop((0.0, 0.0)).bounds
        for axis, drawn_in in enumerate(((x_min + x_max) / 2.0, (y_min + y_max) / 2.0)):
            found = length_differs(name, "xy"[axis], "opening", inches(drawn_in), center.best.place[axis], "")
            yield from (replace(one, new=None) for one in found if one.is_beyond)
        return
    entered = getattr(job.opening, "center", None)
    texts = [typed_length(one.value, job.unit) for one in center.best.place]
    if entered is None:
        yield Difference(name, said("site.what.center"), "opening.center", texts)
        return
    for axis, (old, new, text) in enumerate(zip(entered, center.best.place, texts, strict=True)):
        found = length_differs(name, "xy"[axis], f"opening.center.{axis}", old, new, text)
        yield from (one for one in found if one.is_beyond)  # what is drawn within u stays as it was drawn


def _skin(job: Job, center: Center) -> Iterator[Difference]:
    site, skin, name = center.site, job.skin, said("site.name.skin")
    if found := thickness_of(site):
        is_one = len(site.thickness) == 1
        text = site.thickness[0].text if is_one else typed_length(found.value, job.unit)
        read = [one.inch for one in site.thickness]
        least_in = _GAUGE_IN if site.thickness_u is None else _TYPED_IN
        allowed_in = max(found.u, (max(read) - min(read)) / 2.0, least_in)
        for one in length_differs(name, "thickness", "skin.measured", skin.measured, found, text):
            yield replace(one, u_in=allowed_in)
        if found.u and (skin.measured_u is None or abs(skin.measured_u.inch - found.u) > 1e-4):
            text = up_text(found.u, job.unit)
            old = skin.measured_u.text if skin.measured_u else ""
            yield Difference(name, said("site.what.thickness_u"), "skin.measured_u", text, old, u_in=math.inf)
    if site.curvature and site.curvature != skin.curvature:
        new = site.curvature.model_dump(exclude_none=True)
        old = skin.curvature.model_dump_json(exclude_none=True) if skin.curvature else ""
        yield Difference(name, said("site.what.curvature"), "skin.curvature", new, old)
