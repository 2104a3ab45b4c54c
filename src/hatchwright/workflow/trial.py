"""Run a trial on scrap: its template and the sheet for it, what its readings say, and the template made anew."""

from __future__ import annotations

import math
from datetime import datetime
from pathlib import Path
from textwrap import wrap
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from hatchwright.drawings.made_file import MadeFile, MadeKind
from hatchwright.drawings.trial_view import trial_view
from hatchwright.drawings.writers import AnyPaper, Paper
from hatchwright.errors import EntryError, Fault, JobError
from hatchwright.finding import Finding
from hatchwright.job.cutter import Cutter, Template
from hatchwright.job.file import edited, load_job_text, read_job
from hatchwright.job.job import Job
from hatchwright.job.text_file import ended_alike, save_text
from hatchwright.job.trial_readings import TrialReadings
from hatchwright.judged import Status
from hatchwright.layout.lay_out import lay_out
from hatchwright.layout.layout import Layout
from hatchwright.making.template.guide_template import GuideChain, job_chain
from hatchwright.making.trial.findings import trial_findings
from hatchwright.making.trial.piece import PieceKind
from hatchwright.making.trial.trial import Trial, evaluate, piece_for, regenerated
from hatchwright.making.trial.trial_sheet import WIDEST, trial_sheet
from hatchwright.said import said
from hatchwright.units import Unit, parse_length
from hatchwright.words.findings import advice_text
from hatchwright.words.tell import tell
from hatchwright.words.verdict import stop_text
from hatchwright.workflow.examine import Examination, examine_file
from hatchwright.workflow.job_folder import jobs_alone
from hatchwright.workflow.paper_set import Drawing, PaperSet, stem_of
from hatchwright.workflow.report import picked, verdicts_values
from hatchwright.workflow.template_files import sizes_values

SCHEMA = 1
"""Number of the trial report's own schema."""

USUAL_SIZE: dict[Unit, str] = {"in": "3 in", "mm": "75 mm"}
"""Finished size of a trial piece when none is asked for. Common practice, no source."""


class TrialReport(Struct, frozen=True):
    """A trial, judged: of the job as entered, the findings of the trial (T2xx) among its own.

    Args:
        cutter: with the real offset, None when a finding stops.
        anew: the template's next revision with its reason, None when a finding stops.
        template: what follows from the two, None when there is none.
    """

    examination: Examination
    trial: Trial
    findings: tuple[Finding, ...]
    cutter: Cutter | None = None
    anew: Template | None = None
    template: GuideChain | None = None

    @property
    def job(self) -> Job:
        """As entered."""
        return self.examination.job

    @property
    def must_stop(self) -> bool:
        """Whether there is something to stop for: a stop, or what cannot be shown to pass."""
        return any(finding.status.holds_back for finding in self.findings)

    @property
    def stops(self) -> tuple[Finding, ...]:
        """What forbids to take the offset over: nothing is made anew from a trial that stopped."""
        return tuple(finding for finding in self.findings if finding.status is Status.STOP)


def sheet_for(examination: Examination, *, kind: PieceKind, size: str = "") -> str:
    """Write the sheet of a trial: a readings file to be filled in, with the mark of the job's answers, and what
    holds its aircraft back.

    Args:
        size: finished size of the piece as typed, a bare number in the job's unit; "" for the usual one.
    Raises:
        JobError: the job has no cutter or template.
        EntryError: the size is no length.
        GeometryError: the piece is too small for the cutter.
    """
    layout, verdict = examination.layout, examination.verdict
    head = (stop_text(verdict, box="verdict.scrap_box"), tell(said("verdict.mark", mark=verdict.mark)))
    sheet = trial_sheet(piece_for(layout, kind, _size_in(layout, size)), layout.job)
    return "\n".join((*(f"# {line}" for told in head for line in wrap(told, WIDEST)), sheet))


def trial_files(
    examination: Examination,
    *,
    kind: PieceKind,
    size: str = "",
    stamp: datetime,
    paper: AnyPaper = Paper.LETTER,
    stem: str = "",
) -> tuple[MadeFile, ...]:
    """Make the template of a trial on scrap as SVG, DXF and true-size PDF, then the sheet for its readings; a
    trial is the same for both sides of a job.

    Args:
        size: as of `sheet_for`, whose errors this raises too.
    Raises:
        ExportError: a file did not read back as it was drawn.
    """
    one = PaperSet(examination, stamp, paper, stem_of(examination, stem))
    layout, part = examination.layout, kind.upper()
    drawn = trial_view(layout, piece_for(layout, kind, _size_in(layout, size)), date=one.date)
    readings = sheet_for(examination, kind=kind, size=size).encode("utf-8")
    return (
        *one.drawn(Drawing(MadeKind.TRIAL, one.carried(drawn, box="verdict.scrap_box"), part=part)),
        one.file(MadeKind.TRIAL, "_READINGS.txt", readings, part=part),
    )


def _size_in(layout: Layout, size: str) -> float:
    unit = layout.job.unit
    try:
        return parse_length(size or USUAL_SIZE[unit], unit=unit).inch
    except EntryError as error:
        raise EntryError(error.what, where="--size", remedy=error.remedy) from None


def try_out(path: Path, readings_path: Path, *, shop: Path | None = None) -> TrialReport:
    """Evaluate the readings of a trial; JobError where a file is refused, or a reading is in the wrong unit,
    GeometryError where too few widths were read, or the new template cannot be made."""
    entered = examine_file(path, shop=shop)
    job, layout = entered.job, entered.layout
    trial = evaluate(TrialReadings.load(readings_path), layout)
    allowance_in = job.cutter.filing_allowance.inch if job.cutter else 0.0
    findings = trial_findings(trial, allowance_in=allowance_in, template=job_chain(layout))
    report = TrialReport(entered.adding(findings), trial, findings)
    if report.stops:
        return report
    cutter, anew = regenerated(job, trial)
    changed = job.model_copy(update={"cutter": cutter, "template": anew})
    template = job_chain(lay_out(changed, shop=layout.shop))
    return replace(report, cutter=cutter, anew=anew, template=template)


def take_over(path: Path, report: TrialReport) -> None:
    """Write the real width of cut, the new revision and its reason into the job file; JobError where the
    trial stopped, the job is not the one that was judged any more, the file cannot be written, or the changed job
    would be refused."""
    if report.cutter is None or report.anew is None:
        unit = report.job.unit
        faults = (
            Fault(one.code, tell(one.subject, unit), remedy=advice_text(one, unit)) for one in report.stops
        )
        raise JobError(tuple(faults), where=tell(said("error.not_taken_over")))
    changes = {
        "cutter.cut_width": report.cutter.cut_width.text,
        "template.revision": report.anew.revision,
        "template.reason": report.anew.reason,
    }
    with jobs_alone(path.resolve().parent):  # where a page of the job that a link leads to writes it
        held = load_job_text(path)
        if read_job(held, folder=path.parent, name=path.name) != report.job:
            raise JobError.about("file", "error.not_as_judged", str(path))
        text = ended_alike(edited(held, changes), like=held)
        read_job(text, folder=path.parent, name=path.name)
        save_text(path, text)


def trial_values(report: TrialReport) -> dict[str, Any]:
    """Turn a trial into plain values for programs, documented in docs/making-json.md."""
    trial, anew = report.trial, report.anew
    real, corner = trial.offset, trial.corner
    turn = trial.edges.turn_rad if trial.edges else None
    template = sizes_values(report.template) if report.template else {}
    return {
        "schema": SCHEMA,
        "verdicts": verdicts_values(report.examination),
        "offset": {
            "offset_in": real.offset_in,
            "standard_uncertainty_in": real.standard_in,
            "degrees_of_freedom": real.freedom if real.freedom < 1e6 else None,
            "expanded_uncertainty_95_in": real.expanded_in,
            "next_cut_standard_uncertainty_in": real.next_cut_in,
            "next_cut_expanded_uncertainty_95_in": real.next_cut_expanded_in,
            "scatter_in": real.scatter_in,
            "readings": real.count,
            "cut_width_in": trial.cut_in,
            "over_size_in": trial.over_size_in,
        },
        "template": {"revision": anew.revision, "reason": anew.reason, **template} if anew else None,
        "turn_deg": None if turn is None else math.degrees(turn.size_in),
        "corner_radius_in": None if corner is None else corner.radius_in,
        **picked(report, report.job.unit, "findings", "must_stop"),
        "may_take_over": anew is not None,
    }
