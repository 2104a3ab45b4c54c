"""Run a job through layout, rules, making and strength: the answer that pages, papers and the command line show."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable
from dataclasses import dataclass, field, replace
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING

from hatchwright.finding import Finding
from hatchwright.job.job import Job
from hatchwright.job.other_side import MirroredJob, other_side
from hatchwright.judged import Status
from hatchwright.layout.lay_out import lay_out
from hatchwright.layout.layout import Layout
from hatchwright.making.making import Making
from hatchwright.progress import Progress, stretches, unheard
from hatchwright.remedy import Tried, told_for
from hatchwright.rules.check import check_holes
from hatchwright.said import Said, said
from hatchwright.search.answers import answers_of
from hatchwright.tables.table import ShopTables
from hatchwright.verdict import Acknowledgement, StrengthState, Verdict, judge_all
from hatchwright.workflow.open_job import open_job

if TYPE_CHECKING:
    from hatchwright.strength.report import StrengthReport


@dataclass(frozen=True)
class Examination:
    """A job with everything derived from it, on one side.

    Args:
        judged: findings of the rules and of the making, in the order of their code.
        making: what follows from its cutter and template; None when it has none or the cutter does not fit.
        strength: its report; None where the job names no loads, or where it has not been run.
        progress: told how far the other side is while that is examined.
    """

    job: Job
    layout: Layout
    judged: tuple[Finding, ...]
    making: Making | None
    strength: StrengthReport | None = None
    progress: Progress = field(default=unheard, compare=False, repr=False)

    @cached_property
    def findings(self) -> tuple[Finding, ...]:
        """Those of rules, making and strength, in the order of their code."""
        if self.strength is None:
            return self.judged
        from hatchwright.strength.report import strength_findings  # loaded already by whoever made the report

        return (*self.judged, *strength_findings(self.strength))

    @property
    def strength_state(self) -> StrengthState:
        """Whether strength was asked for, and run."""
        if self.job.loads.basis == "none":
            return StrengthState.NOT_ASKED
        return StrengthState.RUN if self.strength else StrengthState.NOT_RUN

    @cached_property
    def verdict(self) -> Verdict:
        """The one answer on this side."""
        given, state, side = self.job.acknowledged, self.strength_state, self.job.aircraft.side
        heard = (Acknowledgement(one.code, one.number, one.reason, one.initials) for one in given)
        return judge_all(self.findings, side=side, strength=state, acknowledged=heard)

    @cached_property
    def remedies(self) -> Tried:
        """The worst finding of each cause with what was tried and makes it pass, where anything did; tried when first
        asked for, so that nothing is that shows no advice."""
        from hatchwright.search.remedy import remedies  # loads what changes a job, for which few ask

        return remedies(self.layout, self.judged, self.verdict.open_lines)

    @property
    def has_to_try(self) -> bool:
        """Whether there is a cause for which something may be tried."""
        from hatchwright.search.remedy import may_try

        return may_try(self.job, self.verdict.open_lines)

    def remedy(self, finding: Finding) -> Said | None:
        """What to say in the place of asking the design approval holder, None where nothing was found."""
        return told_for(finding, self.remedies)

    @cached_property
    def other(self) -> Examination | None:
        """The job of the other side, where both sides get the opening; None where this is the only one."""
        if not gets_both(self.job) or isinstance(self.job, MirroredJob):
            return None
        is_run = self.strength_state is not StrengthState.NOT_RUN
        return examine(other_side(self.job), self.layout.shop, with_strength=is_run, progress=self.progress)

    @property
    def sides(self) -> tuple[Examination, ...]:
        """This side, and the other one where both get the opening; each has its own verdict."""
        return (self, self.other) if self.other else (self,)

    def adding(self, findings: Iterable[Finding]) -> Examination:
        """The same with findings on what lies beside the job, such as a trial: they count in its verdict."""
        return replace(self, judged=(*self.judged, *findings))

    def count(self) -> dict[Status, int]:
        """Number of findings by status."""
        counted = Counter(finding.status for finding in self.findings)
        return {status: counted[status] for status in Status}

    def worst_first(self) -> tuple[Finding, ...]:
        """Every finding: by the lines of the verdict, the gravest shelf first, then what is to be entered, then what
        passes."""
        in_lines = [finding for line in self.verdict.lines for finding in line.findings]
        passing = [finding for finding in self.findings if finding.status is Status.PASS]
        asking = [one for one in self.findings if one.status is not Status.PASS and one.enter]
        return (*in_lines, *sorted(asking, key=lambda one: one.status.severity), *passing)

    def not_checked(self) -> tuple[Said, ...]:
        """What no answer speaks of, worked out from what was asked and answered."""
        gate, state = self.job.gate, self.strength_state
        left = {
            "strength_not_asked": state is StrengthState.NOT_ASKED,
            "strength_not_run": state is StrengthState.NOT_RUN,
            "fatigue": True,
            "pressure": gate.pressure_skin is None,
            "tank": gate.tank_wall is None,
            "bonded": True,
            "data": True,
        }
        return tuple(said(f"unchecked.{what}") for what, is_left in left.items() if is_left)


def gets_both(job: Job) -> bool:
    """Whether the other side of the aircraft gets the opening too."""
    return job.aircraft.both_sides and job.aircraft.side != "center"


def examine(
    job: Job, shop: ShopTables | None = None, *, with_strength: bool = True, progress: Progress = unheard
) -> Examination:
    """Lay out a job and judge it; JobError where what was entered cannot be laid out.

    Args:
        with_strength: whether to analyze its strength too where it names loads; it takes seconds, and an answer without
            it counts as not shown.
        progress: told how far it is, this side and then the other one where both get the opening.
    """
    return examine_layout(lay_out(job, shop), with_strength=with_strength, progress=progress)


def examine_holes(
    job: Job, shop: ShopTables | None = None, *, marked: Collection[str] | None = None
) -> Examination:
    """Lay out a job and judge the single holes that its drawing marks, without a template; who redraws while
    one types asks for the rest afterwards. JobError where what was entered cannot be laid out.

    Args:
        marked: codes of the rules that marked a hole when everything was judged last, None when nobody knows.
    """
    layout = lay_out(job, shop)
    return Examination(job, layout, check_holes(layout, marked), None)


def examine_layout(
    layout: Layout, *, with_strength: bool = True, progress: Progress = unheard
) -> Examination:
    """Judge what was laid out, its strength too; see `examine`."""
    job, report = layout.job, None
    has_other = gets_both(job) and not isinstance(job, MirroredJob)
    mine, further = stretches(progress, 1.0, 1.0) if has_other else (progress, unheard)
    judging, solving = stretches(mine, 1.0, 4.0)
    judging(0.0, said("progress.judging", side=said(f"side.{job.aircraft.side}")))
    judged, making = answers_of(layout)
    if with_strength and job.loads.basis != "none":
        # Finite elements are heavy: only when asked for.
        from hatchwright.search.strength_answer import answer_of
        from hatchwright.strength.report import Elements

        report = answer_of(layout, Elements(progress=solving)).report
    return Examination(job, layout, judged, making, report, further)


def examine_with(layout: Layout, report: StrengthReport, *, progress: Progress = unheard) -> Examination:
    """Judge what was laid out, with a strength report that was made apart: its missing rivets or hand methods alone."""
    asked = layout.job.loads.basis != "none"
    judged = examine_layout(layout, with_strength=False, progress=progress)
    return replace(judged, strength=report if asked else None)


def examine_file(
    path: Path, *, other_side: bool = False, shop: Path | None = None, progress: Progress = unheard
) -> Examination:
    """Read a job file and judge it; errors as of `open_job`."""
    return examine_layout(open_job(path, shop=shop, other_side=other_side), progress=progress)
