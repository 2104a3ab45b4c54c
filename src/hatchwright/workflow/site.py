"""What a site survey answers: its own checks, the center by each route, what to tape, what the job says otherwise."""

from __future__ import annotations

from msgspec import Struct

from hatchwright.finding import Finding
from hatchwright.job.job import Job
from hatchwright.job.site import Site
from hatchwright.layout.site.center import Center, RoutePlace, Tape
from hatchwright.layout.site.differences import Difference
from hatchwright.layout.site.sketch import Sketches
from hatchwright.metrology.routes import BestPlace
from hatchwright.remedy import EntryChange, PartChange


class SiteAnswer(Struct, frozen=True):
    """The answer on one job's survey.

    Args:
        checks: the survey against itself and the job, that on the right bay first, then by shelf and code.
        sketches: how its sketch lies; two ways where that has to be asked.
        center: routes, gaps, corners and tapes, all with their uncertainties.
        differences: what the job says otherwise, or not yet, by name.
        entries, parts: what would make the job say what the survey says.
    """

    job: Job
    site: Site
    checks: tuple[Finding, ...]
    sketches: Sketches
    center: Center
    differences: tuple[Difference, ...]
    entries: tuple[EntryChange, ...]
    parts: tuple[PartChange, ...]

    @property
    def routes(self) -> tuple[RoutePlace, ...]:
        """The center by each route."""
        return self.center.routes

    @property
    def best(self) -> BestPlace | None:
        """The weighted best estimate of the center."""
        return self.center.best

    @property
    def tapes(self) -> tuple[Tape, ...]:
        """The distances that a helper tapes to the marked center."""
        return self.center.tapes
