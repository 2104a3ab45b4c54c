"""The package for an engineer or an authority: what was entered, drawn, judged, left open and made, each to be checked.

Its drawings and the strength report are parts of their own; see `workflow.package`.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from hatchwright.documents.chapters import Block, box, figure, section, table, text
from hatchwright.documents.citations import documents_of, without_files
from hatchwright.documents.job_summary import job_summary
from hatchwright.documents.paper_head import paper_head
from hatchwright.documents.typst_pdf import Part
from hatchwright.documents.verdict_on_paper import finding_line
from hatchwright.drawings.table import Table
from hatchwright.finding import Finding
from hatchwright.job.entry_words import entry_label
from hatchwright.job.job import Job
from hatchwright.judged import Status
from hatchwright.layout.layout import Hole, Layout
from hatchwright.layout.sizes import size_of
from hatchwright.said import Listed, Said, Value, missing, said
from hatchwright.units import figure as length
from hatchwright.verdict import Verdict
from hatchwright.words.findings import advice_text
from hatchwright.words.of_job import in_words_of
from hatchwright.words.readings import reading_called
from hatchwright.words.tell import tell
from hatchwright.words.verdict import headline, stop_text
from hatchwright.words.workings import note_text, quantity_text, values_text
from hatchwright.workings import Rests, Working

_READ_ELSEWHERE = ("as_made", "looks", "choices", "acknowledged", "samples", "schema")
"""Entries that another chapter tells, or that are none of the work."""


def chapters(
    layout: Layout,
    findings: Sequence[Finding],
    *,
    verdict: Verdict,
    not_checked: Sequence[Said],
    figures: Sequence[tuple[bytes, Value]],
    tables: Iterable[Table],
    date: str,
) -> dict[str, Part]:
    """Gather the chapters of a package by their names, all but the strength report.

    Args:
        findings: the worst first.
        figures: pictures (SVG), each with what it shows.
        tables: what the drawing lists, set beside them.
    """
    job, unit = layout.job, layout.job.unit

    def chapter(
        name: str, pieces: Iterable[Block], pictures: Mapping[str, bytes] = {}, alts: Mapping[str, str] = {}
    ) -> Part:
        head = paper_head(job, said(f"package.chapter.{name}"), date=date)
        return Part("chapter", {"head": head, "blocks": list(pieces)}, pictures, alts)

    shown = {str(number): svg for number, (svg, _) in enumerate(figures)}
    alts = {str(number): tell(words, unit) for number, (_, words) in enumerate(figures)}
    return {
        "inputs": chapter("inputs", _inputs(layout, verdict, not_checked)),
        "drawings": chapter("drawings", _drawings(figures, tables, job), shown, alts),
        "rules": chapter("rules", (*_rules(findings, job), *_workings(findings, job))),
        "deviations": chapter("deviations", _deviations(job, findings, verdict)),
        "as_built": chapter("as_built", _as_built(layout)),
        "references": chapter("references", _references(findings, layout)),
    }


def _inputs(layout: Layout, verdict: Verdict, not_checked: Sequence[Said]) -> Iterator[Block]:
    """What the job is, in words, and every entry as it was typed."""
    job, unit = layout.job, layout.job.unit
    yield box(stop_text(verdict, "findings") or tell(headline(verdict), unit))
    yield text([said("package.what_it_is")], unit)
    yield section(said("package.section.job"))
    rows = (
        (tell(in_words_of(job.kind, label), unit), tell(in_words_of(job.kind, words), unit))
        for label, words in job_summary(layout)
    )
    yield table(_heads("what", "told"), rows, unit, widths=(1, 3))
    yield section(said("package.section.not_checked"))
    yield text([said("package.not_checked", what=Listed(tuple(not_checked), ";"))], unit)
    yield section(said("package.section.entries"))
    typed = job.model_dump(mode="json", by_alias=True, exclude_unset=True)
    entries = {name: held for name, held in typed.items() if name not in _READ_ELSEWHERE}
    yield table(_heads("section", "entry", "typed"), _entries(entries), unit, widths=(2, 2, 3))


def _entries(held: Any, path: str = "") -> Iterator[tuple[str, str, str]]:
    """Section, entry and value of everything that is entered, in the order of the job."""
    for name, value in held.items():
        at = f"{path}.{name}".lstrip(".")
        match value:
            case dict():
                yield from _entries(value, at)
            case [dict(), *_]:
                for number, one in enumerate(value):
                    yield from _entries(one, f"{at}.{number}")
            case None | [] | "":
                continue
            case _:
                above, _, _ = at.rpartition(".")
                yield _called(above), _called(at), _as_typed(value)


def _called(path: str) -> str:
    """What an entry or section is called, with its number in a list."""
    label = entry_label(path) if path else None
    if label is None:
        return tell(said("package.whole_job"))
    _, _, last = path.rpartition(".")
    return tell(said("package.numbered", label=label, number=int(last) + 1) if last.isdigit() else label)


def _as_typed(value: Any) -> str:
    if isinstance(value, bool):
        return tell(said("package.yes" if value else "package.no"))
    return ", ".join(map(_as_typed, value)) if isinstance(value, list) else str(value)


def _drawings(figures: Sequence[tuple[bytes, Value]], tables: Iterable[Table], job: Job) -> Iterator[Block]:
    """Each picture with what it shows, and the tables of the drawing beside them."""
    for number, (_, words) in enumerate(figures):
        yield figure(number, words, job.unit)
    for one in tables:
        yield section(one.title)
        yield {"table": [list(one.headings), [list(row) for row in one.rows]], "widths": []}


def _rules(findings: Sequence[Finding], job: Job) -> Iterator[Block]:
    """Every answer with its rule, its number, what it is held to, and where that stands."""
    yield text([said("package.rules_read")], job.unit)
    rows = []
    for finding in sorted(findings, key=lambda one: one.code):
        line = finding_line(finding, job.unit)
        rule = tell(said("package.rule", code=finding.code, title=said(f"{finding.code}.title")))
        rows.append((line["answer"], rule, line["subject"], line["value"], line["limit"], _rests_on(finding)))
    heads = _heads("answer", "rule", "what", "is", "limit", "source")
    yield table(heads, rows, job.unit, widths=(0.8, 1.7, 2.6, 0.9, 0.9, 2.2))


def _workings(findings: Sequence[Finding], job: Job) -> Iterator[Block]:
    """How each number came about, so that it can be recomputed: every step once, under the first rule that takes it."""
    unit = job.unit
    seen: set[Working] = set()
    rows = []
    for finding in sorted(findings, key=lambda one: one.code):
        for step in finding.working:
            if step not in seen:
                seen.add(step)
                parts = (step.formula, values_text(step, unit), note_text(step, unit))
                told = "; ".join(filter(None, map(without_files, parts)))
                rows.append((finding.code, quantity_text(step.result, unit), told, _rests_on(step)))
    if rows:
        yield section(said("package.section.workings"))
        yield table(_heads("code", "result", "formula", "source"), rows, unit, widths=(0.5, 1.4, 4, 2.2))


def _rests_on(one: Rests) -> str:
    return tell(said("package.rests_on", source=without_files(str(one.source)), grade=one.grade))


def _deviations(job: Job, findings: Sequence[Finding], verdict: Verdict) -> Iterator[Block]:
    """What does not pass, with room for a disposition; what was chosen, accepted and let stand."""
    unit = job.unit
    yield section(said("package.section.open"))
    held = [one for one in findings if one.status is not Status.PASS]
    rows = [
        (tell(one.status), one.code, tell(one.subject, unit), advice_text(one, unit), "", "") for one in held
    ]
    yield text([said("package.open" if rows else "package.nothing_open")], unit)
    heads = _heads("answer", "code", "what", "told", "disposition", "signed")
    if rows:
        yield table(heads, rows, unit, widths=(0.8, 0.5, 2, 2.4, 1.6, 1))
    yield section(said("package.section.accepted"))
    accepted: list[tuple[str, ...]] = [
        (tell(said(f"departure.{one.of}")), one.number, one.by, one.data) for one in job.departures.accepted
    ]
    accepted += [
        (one.rule, tell(reading_called(one.reading)), tell(said("package.chosen")), one.reason)
        for one in job.choices
    ]
    accepted += [
        (line.acknowledged.code, line.acknowledged.number, line.acknowledged.initials, line.acknowledged.reason)
        for line in verdict.acknowledged_lines
        if line.acknowledged
    ]  # fmt: skip
    if accepted:
        yield table(_heads("what", "number", "by", "reason"), accepted, unit, widths=(1, 1.5, 1, 3))
    else:
        yield text([said("package.nothing_accepted")], unit)


def _as_built(layout: Layout) -> Iterator[Block]:
    """The opening and each hole as drawn and as measured on the aircraft, one beside the other."""
    unit = layout.job.unit
    made = layout.job.as_made
    yield section(said("package.section.opening"))
    drawn, filed = (
        [length(value, unit) for value in bounds] for bounds in (layout.wanted.bounds, layout.opening.bounds)
    )
    is_filed = made is not None and made.opening is not None
    shown = filed if is_filed else [""] * 4
    edges = ("x_min", "y_min", "x_max", "y_max")
    rows: list[tuple[str, ...]] = [
        (tell(said(f"package.edge.{edge}")), old, new)
        for edge, old, new in zip(edges, drawn, shown, strict=True)
    ]
    if is_filed:
        sizes = size_of(layout.wanted.bounds), size_of(layout.opening.bounds)
        rows.append((tell(said("package.edge.size")), *(tell(size, unit) for size in sizes)))
    yield table(_heads("edge", "drawn", "filed"), rows, unit, widths=(1, 1, 1))
    yield section(said("package.section.holes"))
    drilled = [hole for hole in layout.holes if hole.is_drilled]
    yield text([said("package.drilled", n=len(drilled), all=len(layout.holes))], unit)
    heads = _heads("hole", "drawn_x", "drawn_y", "made_x", "made_y", "off", "u", "diameter")
    if drilled:
        yield table(heads, [_old_and_new(hole, layout) for hole in drilled], unit, widths=(1,) * 8)


def _old_and_new(hole: Hole, layout: Layout) -> tuple[str, ...]:
    unit = layout.job.unit
    drawn = hole.drawn_in or hole.place
    made = tuple(length(value, unit) for value in hole.place) if hole.is_made else ("", "")
    off = tell(missing(math.dist(drawn, hole.place)), unit) if hole.is_made else ""
    u = tell(missing(hole.uncertainty_in), unit) if hole.is_made else ""
    across = length(hole.hole_in, unit, fine=True) if hole.hole_in is not None else ""
    return str(hole.number), *(length(value, unit) for value in drawn), *made, off, u, across


def _references(findings: Sequence[Finding], layout: Layout) -> Iterator[Block]:
    """The documents that the rules cite, by their keys."""
    keys = {finding.source.key for finding in findings}
    keys |= {step.source.key for finding in findings for step in finding.working}
    yield table(_heads("key", "document"), documents_of(keys, layout.shop), layout.job.unit, widths=(1, 4))


def _heads(*names: str) -> list[Said]:
    return [said(f"package.head.{name}") for name in names]
