"""Run a job through layout, rules and template: the answer that pages, papers and the command line show."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection
from dataclasses import dataclass
from pathlib import Path

from hatchwright.errors import GeometryError
from hatchwright.finding import Finding
from hatchwright.job.job import Job
from hatchwright.judged import Status
from hatchwright.layout.lay_out import lay_out
from hatchwright.layout.layout import Layout
from hatchwright.making.making_findings import making_findings
from hatchwright.making.template.guide_template import GuideChain, job_chain
from hatchwright.rules.check import check, check_holes
from hatchwright.tables.table import ShopTables
from hatchwright.workflow.open_job import open_job

STRENGTH = "loads and strength"
"""What the checks leave to the analysis of strength."""

NOT_CHECKED = (
    STRENGTH,
    "fatigue and damage tolerance",
    "cabin pressure",
    "fuel tanks and ignition",
    "composite and bonded structure",
    "the aircraft maker's own data, which come first",
)
"""What no finding speaks of; shown wherever findings are shown."""


_ASKED_FIRST = "R9"
"""The family of rules about scope and the right bay."""


@dataclass(frozen=True, slots=True)
class Examination:
    """A job with everything derived from it.

    Args:
        layout: derived geometry.
        findings: of the rules and of the making, in the order of their code.
        chain: the guide template, None when the job has no cutter or the cutter does not fit.
    """

    job: Job
    layout: Layout
    findings: tuple[Finding, ...]
    chain: GuideChain | None

    def count(self) -> dict[Status, int]:
        """Number of findings by status."""
        counted = Counter(finding.status for finding in self.findings)
        return {status: counted[status] for status in Status}

    def worst_first(self) -> tuple[Finding, ...]:
        """Findings with the worst first, then by code; of what stops, scope and the right bay come before all else."""

        def place(finding: Finding) -> tuple[int, bool, str]:
            asked_first = finding.code.startswith(_ASKED_FIRST) and finding.status in (
                Status.STOP,
                Status.UNKNOWN,
            )
            return finding.status.severity, not asked_first, finding.code

        return tuple(sorted(self.findings, key=place))

    @property
    def must_stop(self) -> bool:
        """Whether there is something to stop for: a stop, or work that cannot be shown to pass."""
        return any(finding.status in (Status.STOP, Status.UNKNOWN) for finding in self.findings)


def examine(job: Job, shop: ShopTables | None = None) -> Examination:
    """Lay out a job and judge it.

    Returns:
        Examination: with every finding.
    Raises:
        JobError: what was entered cannot be laid out.
    """
    return examine_layout(lay_out(job, shop))


def examine_holes(
    job: Job, shop: ShopTables | None = None, *, marked: Collection[str] | None = None
) -> Examination:
    """Lay out a job and judge what its drawing marks; who redraws while one types asks for the rest afterwards.

    Args:
        marked: codes of the rules that marked a hole when everything was judged last, None when nobody knows.
    Returns:
        Examination: with the findings of single holes alone, and no template.
    Raises:
        JobError: what was entered cannot be laid out.
    """
    layout = lay_out(job, shop)
    return Examination(job, layout, check_holes(layout, marked), None)


def examine_layout(layout: Layout) -> Examination:
    """Judge what was laid out.

    Args:
        layout: of a job, with the shop's own rows where there are any.
    Returns:
        Examination: with every finding.
    """
    job, findings = layout.job, check(layout)
    try:
        chain = job_chain(layout)
    except GeometryError:
        chain = None  # making_findings says why
    return Examination(job, layout, (*findings, *making_findings(layout, chain)), chain)


def examine_file(path: Path, *, other_side: bool = False, shop: Path | None = None) -> Examination:
    """Read a job file and judge it.

    Args:
        path: the job file.
        other_side: whether to judge the mirrored job of the other side.
        shop: folder of a shop's own tables, when there is one.
    Returns:
        Examination: with every finding.
    Raises:
        JobError: the file is refused, with every fault.
        TableError: a table of the shop is refused, with file, line and reason; nothing of the folder is used.
        EntryError: a job on the center line has no other side.
    """
    return examine_layout(open_job(path, shop=shop, other_side=other_side))
