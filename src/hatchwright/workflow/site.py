"""What a site survey answers: its own checks, the center by each route, what to tape, what the job says otherwise."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from msgspec import Struct

from hatchwright.errors import Fault, JobError
from hatchwright.finding import Finding
from hatchwright.job.changed_text import changed_text
from hatchwright.job.file import load_job_text, read_job
from hatchwright.job.job import Job
from hatchwright.job.site import Site
from hatchwright.job.text_file import ended_alike, save_text
from hatchwright.judged import Status
from hatchwright.layout.lay_out import lay_out
from hatchwright.layout.layout import Layout
from hatchwright.layout.site.center import Center, RoutePlace, Tape, center_of
from hatchwright.layout.site.changes import changes_of
from hatchwright.layout.site.difference import Difference
from hatchwright.layout.site.differences import differences
from hatchwright.layout.site.sides import SideDifference, sides_compared
from hatchwright.layout.site.sketch import Sketches, sketches
from hatchwright.metrology.routes import BestPlace
from hatchwright.register import find
from hatchwright.remedy import EntryChange, PartChange
from hatchwright.rules.check import check_some
from hatchwright.said import said
from hatchwright.verdict import shelf_of
from hatchwright.words.findings import told_text
from hatchwright.workflow.job_folder import jobs_alone, version_of
from hatchwright.workflow.open_job import own_tables

RIGHT_BAY = "R908"
AS_SURVEYED = "R945"
CHECKS = (RIGHT_BAY, *(f"R{number}" for number in range(933, 946)))
"""Codes by which a survey is judged, against itself and against its job."""

AGAINST_ITSELF = frozenset(("R933", "R934", "R935", "R936", "R938", "R940"))
"""Those by which a survey contradicts itself: nothing of it is entered then."""


class SiteAnswer(Struct, frozen=True):
    """The answer on one job's survey.

    Args:
        checks: the survey against itself and the job, that on the right bay first, then by shelf, the worst first.
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

    @property
    def asks_bay(self) -> bool:
        """Whether nobody has said what the data show of the bay, so that it can't be told whether it is this one."""
        return all(one.code != RIGHT_BAY for one in self.checks)

    @property
    def contradictions(self) -> tuple[Finding, ...]:
        """Why the survey may not be entered: it contradicts itself, or nobody knows which way its sketch lies."""
        held = (one for one in self.checks if one.code in AGAINST_ITSELF)
        return tuple(
            one for one in held if one.status is Status.STOP or (one.code == "R933" and one.status.holds_back)
        )


def site_answer(layout: Layout) -> SiteAnswer:
    """Judge the survey of a job.

    Raises:
        JobError: the job has none.
    """
    job = layout.job
    if job.site is None:
        raise JobError.about("site", "survey.no_site")
    center = center_of(job.site, layout.frame)
    found = differences(job, center)
    entries, parts = changes_of(found)
    checks = _in_order(check_some(layout, CHECKS))
    return SiteAnswer(job, job.site, checks, sketches(job.site, layout.frame), center, found, entries, parts)


def _in_order(checks: Iterable[Finding]) -> tuple[Finding, ...]:
    """The right bay first, then by status and shelf."""

    def key(one: Finding) -> tuple[bool, int, int, str]:
        entry = find(one.code)
        return not (entry and entry.comes_first), one.status.severity, shelf_of(one), one.code

    return tuple(sorted(checks, key=key))


def open_survey(path: Path, *, shop: Path | None = None) -> tuple[SiteAnswer, str]:
    """Read a job and judge its survey.

    Returns:
        tuple: the answer, and the text that it rests on.
    Raises:
        JobError: the file is refused, or holds no survey.
    """
    text = load_job_text(path)
    job = read_job(text, folder=path.parent, name=path.name)
    return site_answer(lay_out(job, own_tables(shop))), text


def entered_text(answer: SiteAnswer, text: str) -> str:
    """The text of a job with its survey entered; comments and all other text stay.

    Raises:
        JobError: the survey contradicts itself, each contradiction named.
    """
    if answer.contradictions:
        unit = answer.job.unit
        raise JobError(
            tuple(
                Fault("site", said("survey.contradicts", code=one.code, what=told_text(one, unit)), unit=unit)
                for one in answer.contradictions
            )
        )
    return changed_text(text, answer.entries, answer.parts)


def enter_survey(path: Path, answer: SiteAnswer, text: str) -> None:
    """Write what a survey says into its job file.

    Raises:
        JobError: the survey contradicts itself, the file is not the one that was read any more, it can't be written,
            or the changed job would be refused. Nothing was written then.
    """
    with jobs_alone(path.resolve().parent):
        if version_of(load_job_text(path)) != version_of(text):
            raise JobError.about("file", "error.not_as_judged", str(path))
        changed = entered_text(answer, text)
        lay_out(read_job(changed, folder=path.parent, name=path.name))
        save_text(path, ended_alike(changed, text))


def both_sides(one: SiteAnswer, other: SiteAnswer) -> tuple[SideDifference, ...]:
    """What the surveys of two sides say differently, in the frame of the first."""
    return sides_compared(one.job, other.job)
