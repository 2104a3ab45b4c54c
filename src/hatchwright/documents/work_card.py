"""The work card: what is to be done in this job, in order, with its numbers, and where it is signed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime
from typing import Any

from hatchwright.documents.card_steps import card_steps, tools_said
from hatchwright.documents.job_summary import gate_items, job_cautions, job_summary
from hatchwright.documents.paper_head import paper_head
from hatchwright.documents.step import Step, Work, told_step
from hatchwright.documents.typst_pdf import Part, pdf_from
from hatchwright.documents.verdict_on_paper import passed, verdict_on_paper
from hatchwright.drawings.hole_table import hole_remark, holes_by_title
from hatchwright.drawings.short_holes import remarks
from hatchwright.drawings.writers.paper import Paper
from hatchwright.finding import Finding
from hatchwright.layout.layout import Hole, Layout
from hatchwright.making.guide import job_recipe
from hatchwright.making.making import Making
from hatchwright.remedy import Tried
from hatchwright.said import Listed, Said, Value, said
from hatchwright.tables.sources import documents
from hatchwright.tables.table import ShopTables
from hatchwright.units import figure
from hatchwright.verdict import Verdict
from hatchwright.words.catalog import HOME, names_under
from hatchwright.words.of_job import in_words_of
from hatchwright.words.tell import tell


def work_card(
    layout: Layout,
    making: Making | None,
    findings: Sequence[Finding],
    *,
    verdict: Verdict,
    not_checked: Sequence[Said],
    date: str,
    tongue: str = HOME,
    tried: Tried = (),
) -> dict[str, Any]:
    """Gather the work card of a job: everything that it says, by the names of its template.

    Args:
        findings: the worst first.
        tongue: language of the card; what it does not hold is told in that of the house.
        tried: remedies, told beside their findings.
    """
    job, unit = layout.job, layout.job.unit
    recipe = job_recipe(layout, making)
    steps = card_steps(Work(layout, making, recipe))

    def told(what: Value) -> str:
        return tell(in_words_of(job.kind, what), unit, tongue)

    return {
        "words": {name: told(said(f"card.heading.{name}")) for name in names_under("card.heading.")},
        "head": paper_head(job, said("card.heading.title"), date=date, tongue=tongue),
        "summary": [(told(label), told(words)) for label, words in job_summary(layout)],
        "verdict": verdict_on_paper(verdict, unit, tongue, tried),
        "not_checked": told(said("card.not_checked", what=Listed(tuple(not_checked), ";"))),
        "cautions": [told(one) for one in job_cautions(layout)],
        "passed": passed(findings, unit, tongue),
        "gate": [told(one) for one in gate_items(job, findings, has_template=making is not None)],
        "tools": [told(one) for one in tools_said(recipe)],
        "steps": [told_step(step, unit, tongue, job.kind) for step in steps],
        "holes": _holes(layout, findings, tongue),
        "sources": list(_sources(findings, steps, layout.shop, tongue)),
    }


def work_card_pdf(card: dict[str, Any], *, hole_map: bytes, paper: Paper, stamp: datetime) -> bytes:
    """Set a work card.

    Args:
        hole_map: picture of the parts and their holes, SVG.
    Raises:
        ExportError: the file did not read back as it was written.
    """
    steps = [step | {"sketches": len(step["sketches"])} for step in card["steps"]]
    sketches = (sketch for step in card["steps"] for sketch in step["sketches"])
    pictures = {f"sketch{number}": sketch for number, sketch in enumerate(sketches)}
    part = Part("work_card", card | {"steps": steps}, {"hole_map": hole_map, **pictures})
    return pdf_from(part, title=card["head"]["title"], paper=paper, stamp=stamp)


def _holes(layout: Layout, findings: Sequence[Finding], tongue: str) -> list[dict[str, Any]]:
    """Holes of one fastener through the same parts together: number, row, X, Y and remark of each."""
    unit = layout.job.unit
    found = remarks(findings, unit, tongue)

    def row(hole: Hole) -> tuple[str, ...]:
        at = figure(hole.x_in, unit), figure(hole.y_in, unit)
        return str(hole.number), hole.row, *at, hole_remark(hole, found, tongue)

    groups: dict[str, list[tuple[str, ...]]] = {}
    for title, holes in holes_by_title(layout).items():
        groups.setdefault(tell(title, unit, tongue), []).extend(map(row, holes))
    return [{"title": title, "rows": rows} for title, rows in groups.items()]


def _sources(
    findings: Sequence[Finding], steps: Sequence[Step], shop: ShopTables | None, tongue: str
) -> Iterator[tuple[str, str]]:
    """Every document that a finding or a step cites, with its title and edition."""
    cited = {finding.source.key for finding in findings}
    cited |= {basis.source.key for step in steps for basis in step.rests_on}
    for key, document in documents().items():
        if key in cited:
            yield key, f"{document.title}, {document.edition}"
    for key, edition in (shop.documents if shop else {}).items():
        if key in cited:
            yield key, tell(said("card.shops_own", edition=edition), tongue=tongue)
