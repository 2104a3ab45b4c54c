"""Thickness of the skin as a survey read it: the mean of its readings, with gauge and scatter in its uncertainty."""

from __future__ import annotations

import statistics

from hatchwright.job.job import Job
from hatchwright.job.site import Site
from hatchwright.metrology.budget import COVERAGE, Component
from hatchwright.metrology.propagated import Propagated


def thickness_of(site: Site) -> Propagated | None:
    """Mean thickness, None where none was read; without a u of the gauge no uncertainty is claimed [in].

    Source: [JCGM 100:2008], 4.2.3 for the scatter, 5.1.2 for both together.
    """
    if not site.thickness:
        return None
    read = [one.inch for one in site.thickness]
    mean_in = statistics.fmean(read)
    if site.thickness_u is None:
        return Propagated(mean_in)
    parts = [Component("gauge", site.thickness_u.inch, COVERAGE)]
    if len(read) > 1:
        spread_in = statistics.stdev(read)
        parts.append(Component("scatter", spread_in, len(read) ** 0.5, freedom=len(read) - 1))
    return Propagated(mean_in, tuple(parts))


def skin_in(job: Job) -> float:
    """Thickness of the skin as far as it is known: as surveyed, else as the job has it measured, else nominal [in]."""
    read = thickness_of(job.site) if job.site else None
    return read.value if read else (job.skin.measured or job.skin.thickness).inch
