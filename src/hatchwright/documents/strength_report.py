"""The strength report on paper: gate, margins, pictures, and every working step an engineer needs to recompute it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import datetime
from typing import Any

from hatchwright.documents.paper_head import paper_head
from hatchwright.documents.strength_tables import outlines_table, rivets_table, sheets_table
from hatchwright.documents.typst_pdf import Part, pdf_from
from hatchwright.documents.verdict_on_paper import finding_line
from hatchwright.drawings.writers.paper import Paper
from hatchwright.judged import Status
from hatchwright.layout.layout import Layout
from hatchwright.said import Amount, Listed, Said, said
from hatchwright.strength.case_summary import CaseSummary
from hatchwright.strength.evidence import EvidenceRow
from hatchwright.strength.evidence_told import HEADINGS, cells
from hatchwright.strength.margin import Margin, margin_words
from hatchwright.strength.report import StrengthReport
from hatchwright.strength.worked import Worked
from hatchwright.tables.sources import documents
from hatchwright.units import Unit
from hatchwright.verdict import Verdict
from hatchwright.words.catalog import names_under
from hatchwright.words.spans import spans_in_short
from hatchwright.words.tell import tell, tell_all
from hatchwright.words.verdict import headline, stop_text
from hatchwright.words.workings import note_text, quantity_text, values_text
from hatchwright.workings import Working

_ONLY_WITH = {
    "assumptions": ("assumed",),
    "inspection": ("inspection",),
    "evidence": ("evidence",),
    "margins": ("margins", "margin", "margin_what", "applied", "allowable", "examples"),
    "examples": ("result", "formula", "source"),
    "findings": ("findings",),
    "answered": ("what", "is", "limit"),
    "told": ("answer",),
    "cases": ("elements",),
    "rivets": ("geometry",),
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

    def told(lines: Iterable[Said]) -> list[str]:
        return [tell(line, unit) for line in lines]

    has_loads = report.basis != "none"
    open_ = [finding_line(finding, unit) for finding in report.gate if finding.status is not Status.PASS]
    lines: dict[str, list[Any]] = {
        "assumptions": told(report.assumptions),
        "margins": [_margin_line(group, unit) for group in _groups(report.margins)],
        "evidence": [_evidence_line(row, unit) for row in report.evidence.rows],
        "findings": [finding_line(finding, unit) for finding in report.findings],
        "examples": list(_examples(report, unit)),
        "cases": [_cases_table(report, unit)] if report.summaries else [],
        "rivets": [rivets_table(report, unit)] if report.fasteners else [],
    }
    answered = open_ + lines["findings"]
    held = lines | {
        "inspection": report.inspection,
        "answered": answered,
        "told": answered + lines["margins"],
    }
    absent = {name for of, names in _ONLY_WITH.items() if not held[of] for name in names}
    heads = (name for name in names_under("report.") if name not in absent)
    refers = report.must_refer and has_loads
    return {
        "words": {name: tell(said(f"report.{name}"), unit) for name in heads},
        "head": paper_head(job, said("report.title"), date=date)
        | {"signed": tell(said("report.checked_by"))},
        "verdict": stop_text(verdict) or tell(headline(verdict), unit),
        "basis": tell(report.basis_said, unit),
        "summary": tell_all(report.summary, unit),
        "refer": tell(said("gate.no_margin_stands_in"), unit) if refers else "",
        "gate": open_,
        "gate_passed": [
            f"{finding.code} {tell(finding.subject, unit)}"
            for finding in report.gate
            if finding.status is Status.PASS
        ],
        "inputs": told(report.inputs),
        "outlines": outlines_table(layout) if has_loads else None,
        "sheets": sheets_table(report.sheets, unit) if has_loads else None,
        "captions": told(captions),
        "evidence_head": told(HEADINGS if report.evidence.rows else ()),
        "evidence_told": told((*report.evidence.told, said("evidence.how")) if report.evidence.rows else ()),
        "not_analyzed": told(report.not_analyzed),
        "inspection": told(report.inspection),
        "sources": list(_sources(report)),
        **lines,
    }


def strength_part(report: dict[str, Any], *, geometry: bytes, pictures: Iterable[bytes]) -> Part:
    """A strength report to be set, each picture with what it shows.

    Args:
        geometry: SVG picture of the bay with its sizes.
        pictures: SVG pictures in the order of their captions.
    """
    named = {f"picture{number}": svg for number, svg in enumerate(pictures, start=1)} | {"geometry": geometry}
    alts = {f"picture{number}": caption for number, caption in enumerate(report["captions"], start=1)}
    return Part("strength_report", report, named, alts | {"geometry": tell(said("strength_paper.geometry"))})


def strength_paper_pdf(part: Part, *, size: Paper, stamp: datetime) -> bytes:
    """Set a strength report.

    Raises:
        ExportError: the file did not read back as it was written.
    """
    return pdf_from(part, title=part.data["head"]["title"], paper=size, stamp=stamp)


Group = tuple[Margin, ...]
"""Margins of one thing in every case and at every load, the lowest first."""


def _groups(margins: Iterable[Margin]) -> list[Group]:
    """Margins of the same thing together, the group with the lowest first."""
    groups: dict[tuple[str, Said], list[Margin]] = {}
    for margin in margins:
        groups.setdefault((margin.code, margin.subject), []).append(margin)
    return [tuple(group) for group in groups.values()]


def _margin_line(group: Group, unit: Unit) -> dict[str, str]:
    """One thing in a line: its lowest margin in full, then those of the other cases by their figure."""
    lowest, *others = group
    told = (
        tell(
            said(
                "strength_paper.other_case", case=_case_of(one, unit), margin=_ratio(one) or tell(one.status)
            )
        )
        for one in others
    )
    return {
        "answer": tell(lowest.status),
        "code": lowest.code,
        "ratio": _ratio(lowest),
        "subject": tell(lowest.subject, unit),
        "case": _case_of(lowest, unit),
        "holes": tell(said("strength_paper.rivets", rivets=spans_in_short(lowest.holes)))
        if len(lowest.holes) > 1
        else "",
        "others": "; ".join(told),
        "applied": _amount(lowest.applied, unit),
        "allowable": _amount(lowest.allowable, unit),
        "grade": tell(lowest.grade, unit),
        "advice": tell_all(lowest.what_to_do, unit),
    }


def _case_of(margin: Margin, unit: Unit) -> str:
    return tell(said("margin.case", case=margin.case, level=margin.level), unit)


def _evidence_line(row: EvidenceRow, unit: Unit) -> list[str]:
    one = cells(row)
    paths = (one.part, one.circular, one.hand, one.elements, one.bay)
    return [*(tell(path, unit) for path in paths), f"{tell(one.agreement)}: {tell(one.why, unit)}"]


def _ratio(margin: Margin) -> str:
    return margin_words(margin.ratio, places=3)


def _examples(report: StrengthReport, unit: Unit) -> Iterator[dict[str, Any]]:
    """One worked example for each check, of its lowest margin; a step that stands above already is named by its
    number."""
    numbers: dict[Working, int] = {}
    for title, workings in _worked(report, unit):
        own = _told([step for step in dict.fromkeys(workings) if step not in numbers])
        before = [numbers[step] for step in dict.fromkeys(workings) if step in numbers]
        for step in own:
            numbers[step] = len(numbers) + 1
        yield {
            "title": title,
            "before": tell(said("strength_paper.steps_before", steps=spans_in_short(before)))
            if before
            else "",
            "steps": [_step_line(numbers[step], step, unit) for step in own],
        }


def _told(steps: list[Working]) -> list[Working]:
    """Of steps alike, as of each rivet of a side, the first and the least; the table of rivets has the others."""
    alike: dict[tuple[str, str], list[Working]] = {}
    for step in steps:
        alike.setdefault((step.result.symbol, step.formula), []).append(step)
    kept = {id(min(group, key=lambda step: step.result.value)) for group in alike.values()}
    kept |= {id(group[0]) for group in alike.values()}
    return [step for step in steps if id(step) in kept]


def _worked(report: StrengthReport, unit: Unit) -> Iterator[tuple[str, tuple[Working, ...]]]:
    """What is worked out, check by check: what it is, and its steps."""
    seen: set[str] = set()
    for margin in sorted(report.margins, key=lambda one: one.code):
        if margin.working and margin.code not in seen:
            seen.add(margin.code)
            about = tell(margin.subject, unit), _case_of(margin, unit)
            yield (
                tell(said("strength_paper.example", code=margin.code, subject=about[0], case=about[1])),
                margin.working,
            )
    for finding in report.findings:
        if finding.working and finding.code not in seen:
            seen.add(finding.code)
            subject = tell(finding.subject, unit)
            yield (
                tell(said("strength_paper.example_found", code=finding.code, subject=subject)),
                finding.working,
            )


def _cases_table(report: StrengthReport, unit: Unit) -> dict[str, Any]:
    """What the finite elements found, a column for each case."""
    headings = list(dict.fromkeys(heading for one in report.summaries for heading, _ in one.lines))
    told = [dict(one.lines) for one in report.summaries]
    return {
        "head": ["", *(tell(one.case, unit) for one in report.summaries)],
        "rows": [
            [tell(heading, unit), *(tell(lines[heading], unit) if heading in lines else "" for lines in told)]
            for heading in headings
        ],
        "screws": [_screws_line(one, unit) for one in report.summaries if one.screws],
    }


def _screws_line(summary: CaseSummary, unit: Unit) -> str:
    """The load of every screw of a cover that carries."""
    loads = (
        said("strength_paper.screw_load", number=one.number, load=Amount(one.greater_lbf, "lbf"))
        for one in summary.screws
    )
    return tell(said("strength_paper.screw_loads", case=summary.case, loads=Listed(tuple(loads), ",")), unit)


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


def _sources(report: StrengthReport) -> Iterator[tuple[str, str]]:
    keys = {step.source.key for margin in report.margins for step in margin.working}
    keys |= {step.source.key for finding in report.findings for step in finding.working}
    keys |= {finding.source.key for finding in (*report.gate, *report.findings)}
    for key, document in documents().items():
        if key in keys:
            yield key, f"{document.title}, {document.edition}"
