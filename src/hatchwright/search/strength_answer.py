"""The strength of a job with what its mounted part must be shown to hold: margins and findings in one answer."""

from __future__ import annotations

from msgspec import Struct
from msgspec.structs import replace

from hatchwright.errors import HatchwrightError
from hatchwright.job.job import Job
from hatchwright.layout.layout import Layout
from hatchwright.rules.mount_loads import mount_findings
from hatchwright.said import said
from hatchwright.search.doubler_remedy import what_puts_it_right
from hatchwright.search.table_path import table_counts
from hatchwright.strength.family import Family, worked_out
from hatchwright.strength.report import WHOLE, Elements, StrengthReport, not_worked_out, strength_report
from hatchwright.words.of_job import finding_of, said_of


class StrengthAnswer(Struct, frozen=True):
    """A job with its strength report."""

    job: Job
    layout: Layout
    report: StrengthReport


def answer_of(layout: Layout, elements: Elements | None = WHOLE) -> StrengthAnswer:
    """Analyze the strength of what is laid out already, with finite elements unless `elements` is None.

    Without loads nothing is said about strength; where a table lacks a value that a family of answers rests on, that
    family is not shown.
    """
    try:
        report = _report(layout, elements)
    except HatchwrightError as error:
        report = not_worked_out(layout, error)
    return StrengthAnswer(layout.job, layout, _in_words_of(layout.job.kind, report))


def _in_words_of(kind: str, report: StrengthReport) -> StrengthReport:
    """The report as a kind of job says it."""
    if not kind:
        return report
    return replace(
        report,
        inputs=tuple(said_of(kind, one) for one in report.inputs),
        assumptions=tuple(said_of(kind, one) for one in report.assumptions),
        summaries=tuple(
            replace(one, lines=tuple((said_of(kind, head), said_of(kind, told)) for head, told in one.lines))
            for one in report.summaries
        ),
        gate=tuple(finding_of(kind, one) for one in report.gate),
        margins=tuple(replace(one, subject=said_of(kind, one.subject)) for one in report.margins),
        findings=tuple(finding_of(kind, one) for one in report.findings),
        not_analyzed=tuple(said_of(kind, one) for one in report.not_analyzed),
        inspection=tuple(said_of(kind, one) for one in report.inspection),
        evidence=replace(
            report.evidence,
            rows=tuple(replace(row, why=said_of(kind, row.why)) for row in report.evidence.rows),
            told=tuple(said_of(kind, one) for one in report.evidence.told),
        ),
    )


def _with_remedy(layout: Layout, report: StrengthReport) -> StrengthReport:
    """Told after what is short: what was tried and puts the doubler right."""
    right = what_puts_it_right(layout, report.margins, report.findings) if report.evidence.rows else None
    if right is None:
        return report
    return replace(report, evidence=replace(report.evidence, told=(*report.evidence.told, right)))


def _report(layout: Layout, elements: Elements | None) -> StrengthReport:
    """All of it in one report, with the shop's rows and with what the mounted part must be shown to hold."""
    families = [Family("paths", lambda: table_counts(layout))] if layout.job.loads.basis != "none" else []
    counts, uncounted = worked_out(layout, families)
    report = _with_remedy(layout, strength_report(layout, layout.shop, elements, counts))
    if layout.shop and report.inputs:
        report = replace(report, inputs=(*report.inputs, said("input.shop_rows", rows=layout.shop.words)))
    own = tuple(one for one in uncounted if one not in report.findings)
    report = replace(report, findings=(*report.findings, *own))
    asked, refused = worked_out(layout, [Family("mount", lambda: mount_findings(layout))])
    if report.basis != "none":
        return replace(report, findings=(*report.findings, *asked, *refused))
    # Without loads of the skin, what a mounted part must be shown to hold is only named among what is left out.
    lines = (said("left_out.mount", code=one.code, subject=one.subject) for one in (*asked, *refused))
    return replace(report, not_analyzed=(*report.not_analyzed, *lines))
