"""The strength report on paper: gate, margins, pictures, and every working step an engineer needs to recompute it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from datetime import datetime
from typing import Any

from hatchwright.documents.typst_pdf import pdf_from, sheet_words
from hatchwright.documents.verdict_on_paper import FindingLine, finding_line
from hatchwright.drawings.page_frame import aircraft_words, side_word
from hatchwright.drawings.template_holes_view import runs_of
from hatchwright.drawings.writers.paper import Paper
from hatchwright.finding import Finding
from hatchwright.layout.layout import Layout
from hatchwright.said import Amount, Said, said
from hatchwright.strength.case_summary import CaseSummary
from hatchwright.strength.evidence import EvidenceRow
from hatchwright.strength.evidence_told import HEADINGS, cells
from hatchwright.strength.margin import Margin, margin_words
from hatchwright.strength.report import StrengthReport
from hatchwright.strength.worked import Worked
from hatchwright.tables.sources import documents
from hatchwright.units import Unit
from hatchwright.verdict import Verdict
from hatchwright.words.amounts import in_unit_of
from hatchwright.words.catalog import names_under
from hatchwright.words.tell import tell, tell_all
from hatchwright.words.verdict import headline, stop_text
from hatchwright.words.workings import note_text, quantity_text, values_text
from hatchwright.workings import Working

_ONLY_WITH = {
    "assumptions": ("assumed",),
    "margins": ("margins", "margin", "margin_what", "applied", "allowable", "margin_steps"),
    "steps": ("steps", "step", "result", "formula", "source"),
    "findings": ("findings",),
    "cases": ("elements", "fasteners", "number"),
}
"""Headings that stand only where the paper holds what they head, by the name of that."""


def strength_paper(
    layout: Layout, report: StrengthReport, *, verdict: Verdict, captions: Iterable[Said], date: str
) -> dict[str, Any]:
    """Gather the strength report of a job: everything that it says, by the names of its template.

    Args:
        report: of that layout; without loads the paper says nothing about strength.
        captions: of the pictures, in the order to print.
    """
    job, unit = layout.job, layout.job.unit
    numbers = _numbered(report)

    def told(lines: Iterable[Said]) -> list[str]:
        return [tell(line, unit) for line in lines]

    lines: dict[str, list[Any]] = {
        "assumptions": told(report.assumptions),
        "margins": [_margin_line(margin, unit, numbers) for margin in report.margins],
        "evidence": [_evidence_line(row, unit) for row in report.evidence.rows],
        "findings": [_finding_line(finding, unit, numbers) for finding in report.findings],
        "cases": [_case_line(summary, unit) for summary in report.summaries],
        "steps": [_step_line(number, step, unit) for step, number in numbers.items()],
    }
    absent = {name for of, names in _ONLY_WITH.items() if not lines[of] for name in names}
    force = in_unit_of(1.0, "lbf", unit)[1]
    heads = (name for name in names_under("report.") if name not in absent)
    refers = report.must_refer and report.basis != "none"
    return {
        "words": {name: tell(said(f"report.{name}", force=force), unit) for name in heads},
        "job": job.title,
        "aircraft": aircraft_words(job),
        "side": side_word(job),
        "revision": job.revision,
        "date": date,
        "not_data": tell(said("paper.not_data")),
        "head": stop_text(verdict) or tell(headline(verdict), unit),
        "basis": tell(report.basis_said, unit),
        "summary": tell_all(report.summary, unit),
        "refer": tell(said("gate.no_margin_stands_in"), unit) if refers else "",
        "gate": [finding_line(finding, unit) for finding in report.gate],
        "inputs": told(report.inputs),
        "captions": told(captions),
        "evidence_head": told((said("evidence.title"), *HEADINGS) if report.evidence.rows else ()),
        "evidence_told": told((*report.evidence.told, said("evidence.how")) if report.evidence.rows else ()),
        "not_analyzed": told(report.not_analyzed),
        "sources": list(_sources(report, numbers)),
        **lines,
    }


def strength_paper_pdf(
    report: dict[str, Any], *, pictures: Iterable[bytes], size: Paper, stamp: datetime
) -> bytes:
    """Set a strength report.

    Args:
        pictures: SVG pictures in the order of their captions.
    Raises:
        ExportError: the file did not read back as it was written.
    """
    data = {"sheet": sheet_words(), "report": report}
    named = {f"picture{number}": svg for number, svg in enumerate(pictures, start=1)}
    return pdf_from("strength_report.typ", data, paper=size, pictures=named, stamp=stamp)


def _numbered(report: StrengthReport) -> dict[Working, int]:
    """Each step once, numbered in the order in which margins and findings first need it."""
    steps = [step for margin in report.margins for step in margin.working]
    steps += [step for finding in report.findings for step in finding.working]
    return {step: number for number, step in enumerate(dict.fromkeys(steps), start=1)}


def _margin_line(margin: Margin, unit: Unit, numbers: Mapping[Working, int]) -> dict[str, str]:
    return {
        "answer": tell(margin.status),
        "code": margin.code,
        "ratio": margin_words(margin.ratio, places=3),
        "subject": tell(margin.subject, unit),
        "case": tell(said("margin.case", case=margin.case, level=margin.level), unit),
        "applied": _amount(margin.applied, unit),
        "allowable": _amount(margin.allowable, unit),
        "grade": tell(margin.grade, unit),
        "advice": tell_all(margin.advice, unit),
        "steps": _ranges(numbers[step] for step in margin.working),
    }


def _finding_line(finding: Finding, unit: Unit, numbers: Mapping[Working, int]) -> FindingLine:
    line = finding_line(finding, unit)
    if not (steps := _ranges(numbers[step] for step in finding.working)):
        return line
    told = tell(said("margin.steps_told", steps=steps), unit)
    return line | {"advice": f"{line['advice']} {told}".strip()}


def _evidence_line(row: EvidenceRow, unit: Unit) -> list[str]:
    one = cells(row)
    paths = (one.part, one.circular, one.hand, one.elements, one.bay)
    return [*(tell(path, unit) for path in paths), f"{tell(one.agreement)}: {tell(one.why, unit)}"]


def _case_line(summary: CaseSummary, unit: Unit) -> dict[str, Any]:
    """What the finite elements found in one case: lines, and each fastener with its loads."""
    fasteners = []
    for one in (*summary.rivets, *summary.screws):
        loads_lbf = one.x_lbf, one.y_lbf, one.huth_lbf, one.swift_lbf
        loads = (f"{in_unit_of(load_lbf, 'lbf', unit)[0]:.1f}" for load_lbf in loads_lbf)
        fasteners.append((str(one.number), *loads))
    lines = [(tell(heading, unit), tell(line, unit)) for heading, line in summary.lines]
    return {"case": tell(summary.case, unit), "lines": lines, "fasteners": fasteners}


def _step_line(number: int, step: Working, unit: Unit) -> dict[str, str]:
    parts = (step.formula, values_text(step, unit), note_text(step, unit))
    return {
        "number": str(number),
        "result": quantity_text(step.result, unit),
        "formula": "; ".join(filter(None, parts)),
        "source": f"[{step.source}; {step.grade}]",
    }


def _amount(worked: Worked | None, unit: Unit) -> str:
    return tell(Amount(worked.value, worked.unit), unit) if worked else ""


def _ranges(numbers: Iterable[int]) -> str:
    """Numbers as ranges, such as ``1-4, 9``."""
    runs = runs_of(set(numbers))
    return ", ".join(str(run[0]) if len(run) == 1 else f"{run[0]}-{run[-1]}" for run in runs)


def _sources(report: StrengthReport, numbers: Mapping[Working, int]) -> Iterator[tuple[str, str]]:
    keys = {step.source.key for step in numbers}
    keys |= {finding.source.key for finding in (*report.gate, *report.findings)}
    for key, document in documents().items():
        if key in keys:
            yield key, f"{document.title}, {document.edition}"
