"""The desk annex: what a job rests on, for who plans or checks it; nothing of it is carried to the aircraft."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from hatchwright.documents.card_steps import card_steps
from hatchwright.documents.citations import Citations
from hatchwright.documents.job_summary import job_cautions, job_summary
from hatchwright.documents.paper_head import paper_head
from hatchwright.documents.step import Step, Work
from hatchwright.documents.verdict_on_paper import verdict_on_paper
from hatchwright.drawings.bay_structure import row_said
from hatchwright.drawings.hole_table import holes_by_title
from hatchwright.drawings.short_holes import remarks
from hatchwright.finding import Finding
from hatchwright.job.job import Job
from hatchwright.judged import Status
from hatchwright.layout.layout import Hole, Layout
from hatchwright.making.guide import job_recipe
from hatchwright.making.making import Making
from hatchwright.remedy import Tried
from hatchwright.said import Amount, Listed, Said, Value, said
from hatchwright.units import Unit, figure
from hatchwright.verdict import Verdict
from hatchwright.words.catalog import HOME, names_under
from hatchwright.words.findings import advice
from hatchwright.words.of_job import in_words_of
from hatchwright.words.readings import reading_called
from hatchwright.words.spans import spans_said
from hatchwright.words.tell import ended, tell


def annex(
    layout: Layout,
    making: Making | None,
    findings: Sequence[Finding],
    *,
    verdict: Verdict,
    not_checked: Sequence[Said],
    date: str,
    tried: Tried = (),
) -> dict[str, Any]:
    """Gather the annex of a job: everything that it says, by the names of its template.

    Args:
        findings: the worst first.
        tried: remedies, told beside their findings.
    """
    job, unit = layout.job, layout.job.unit
    steps = card_steps(Work(layout, making, job_recipe(layout, making)))
    told_of = [*_passing(findings), *(finding for line in verdict.lines for finding in line.findings)]
    cites = Citations((*told_of, *(ground for step in steps for ground in step.rests_on)), layout.shop)

    def told(what: Value) -> str:
        return tell(in_words_of(job.kind, what), unit)

    choices = [told(one) for one in _choices(job)]
    absent = () if choices else ("choices",)
    heads = (name for name in names_under("annex.heading.") if name not in absent)
    return {
        "words": {name: told(said(f"annex.heading.{name}")) for name in heads if name != "title"},
        "head": paper_head(job, said("annex.heading.title"), date=date),
        "verdict": verdict_on_paper(verdict, unit, HOME, tried, cited=cites.cited),
        "choices": choices,
        "not_checked": told(said("annex.not_checked", what=Listed(tuple(not_checked), ";"))),
        "summary": told(said("annex.labels", labels=Listed(tuple(_labeled(layout)), ";"))),
        "cautions": [told(one) for one in job_cautions(layout)],
        "steps": [_told_step(step, cites, told) for step in steps],
        "passed": list(_passed(findings, cites, unit)),
        "holes": list(_holes(layout, findings)),
        "documents": cites.documents(),
    }  # fmt: skip


def _told_step(step: Step, cites: Citations, told: Any) -> dict[str, str]:
    """A step with all of its lines, and behind each what it rests on."""
    lines = " ".join(
        " ".join(filter(None, (*map(told, line.words), cites.cited(*line.rests_on)))) for line in step.lines
    )
    more = [told(one) for one in step.blanks if not _figures(told(one)) <= _figures(lines)]
    blanks = told(said("annex.blanks", what=Listed(tuple(more), ";"))) if more else ""
    return {"title": told(step.title), "words": f"{lines} {blanks}".rstrip()}


def _figures(words: str) -> set[str]:
    return set(re.findall(r"\d*\.?\d+", words))


def _labeled(layout: Layout) -> Iterator[Said]:
    for label, words in job_summary(layout):
        typed = words.rstrip(".") if isinstance(words, str) else words
        yield said("annex.labeled", label=label, words=typed)
    if rows := layout.job.bay.rows:
        yield said("annex.bay", rows=Listed(tuple(row_said(row) for row in rows), ","))


def _choices(job: Job) -> Iterator[Said]:
    """What somebody chose or accepted in this job, and why."""
    for one in job.choices:
        reading = reading_called(one.reading)
        yield said("annex.choice", code=one.rule, reading=reading, reason=ended(one.reason))
    for accepted in job.departures.accepted:
        of = said(f"departure.{accepted.of}")
        yield said(
            "annex.departure", of=of, number=accepted.number, by=accepted.by, data=ended(accepted.data)
        )


def _passed(findings: Iterable[Finding], cites: Citations, unit: Unit) -> Iterator[dict[str, str]]:
    """What passed, by rule and source: each with its value, and a limit or a note that all share once."""
    groups: dict[tuple[str, str], list[Finding]] = {}
    for finding in _passing(findings):
        groups.setdefault((finding.code, cites.cited(finding)), []).append(finding)
    for (code, cited), group in groups.items():
        limits = {_limit(finding, unit) for finding in group}
        shared = limits.pop() if len(limits) == 1 else ""
        lines = Listed(tuple(_passed_said(finding, unit, has_limit=not shared) for finding in group), ";")
        notes = dict.fromkeys(tell(one, unit) for finding in group for one in advice(finding))
        id = "annex.passed_to_limit" if shared else "annex.passed"
        words = tell(said(id, lines=lines, limit=shared), unit)
        yield {"code": code, "words": " ".join(filter(None, (ended(words), cited, *notes)))}


def _passing(findings: Iterable[Finding]) -> list[Finding]:
    return [finding for finding in findings if finding.status is Status.PASS]


def _passed_said(finding: Finding, unit: Unit, *, has_limit: bool) -> Said:
    subject = tell(finding.subject, unit).rstrip(".")
    if finding.value is None:
        return said("annex.passed", lines=subject)
    value: Value = Amount(finding.value, finding.unit, beside=finding.limit)
    if not finding.judged.uncertainty and re.search(
        rf"(?<![\w.]){re.escape(tell(value, unit))}(?![\w.])", subject
    ):
        limit = _limit(finding, unit) if has_limit else ""
        return said("annex.passed_subject_to_limit" if limit else "annex.passed", lines=subject, limit=limit)
    if finding.judged.uncertainty:
        value = said("annex.value_with_u", value=value, u=Amount(finding.judged.uncertainty, finding.unit))
    limit = _limit(finding, unit) if has_limit else ""
    id = "annex.passed_value_to_limit" if limit else "annex.passed_value"
    return said(id, subject=subject, value=value, limit=limit)


def _limit(finding: Finding, unit: Unit) -> str:
    if finding.limit is None:
        return ""
    return tell(Amount(finding.limit, finding.unit, beside=finding.value), unit)


def _holes(layout: Layout, findings: Sequence[Finding]) -> Iterator[dict[str, Any]]:
    """Holes of one fastener, those that are drilled apart from those that are drawn: number, X and Y of each, and what
    is remarked of several together."""
    unit = layout.job.unit
    found = remarks(findings, unit)
    for title, holes in holes_by_title(layout).items():
        is_mixed = len({hole.is_drilled for hole in holes}) > 1
        for id in ("annex.drilled", "annex.drawn"):
            own = [hole for hole in holes if hole.is_drilled == (id == "annex.drilled")]
            called = said(id, title=title)
            if is_mixed and id == "annex.drawn":
                called = said("annex.drawn_too")
            remarked: dict[str, list[int]] = {}
            for hole in own:
                remarked.setdefault(found.get(hole.number, ""), []).append(hole.number)
            if own:
                yield {
                    "title": tell(called, unit),
                    "rows": [(str(hole.number), *_place(hole, unit)) for hole in own],
                    "remarks": [
                        tell(said("annex.remark", holes=spans_said(numbers), remark=remark))
                        for remark, numbers in remarked.items()
                        if remark
                    ],
                }


def _place(hole: Hole, unit: Unit) -> tuple[str, str]:
    return figure(hole.x_in, unit), figure(hole.y_in, unit)
