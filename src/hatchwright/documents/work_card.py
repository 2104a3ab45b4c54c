"""The work card: what is to be done in this job, in order, with its numbers, and where it is signed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import asdict, dataclass
from datetime import datetime

from hatchwright.documents.cutting_steps import cutting_steps
from hatchwright.documents.fastening_steps import fastening_steps
from hatchwright.documents.finding_words import FindingLine, Passed, finding_line, passed
from hatchwright.documents.gate import gate_items
from hatchwright.documents.job_summary import job_cautions, job_summary
from hatchwright.documents.step import Step, ToldStep, told_step
from hatchwright.documents.typst_pdf import pdf_from
from hatchwright.drawings.hole_table import fastener_said, hole_remark
from hatchwright.drawings.page_frame import aircraft_said
from hatchwright.drawings.short_holes import remarks
from hatchwright.drawings.writers.paper import Paper
from hatchwright.finding import Finding
from hatchwright.judged import Status
from hatchwright.layout.layout import Layout
from hatchwright.making.making import Making
from hatchwright.said import Listed, Said, Value, said
from hatchwright.tables.sources import documents
from hatchwright.tables.table import ShopTables
from hatchwright.units import figure
from hatchwright.verdict import Verdict
from hatchwright.words.catalog import HOME
from hatchwright.words.tell import tell
from hatchwright.words.verdict import headline, stop_text


@dataclass(frozen=True, slots=True)
class HoleGroup:
    """Holes of one fastener through the same parts.

    Args:
        title: fastener, drills and parts.
        rows: number, row, X, Y and remark of each hole.
    """

    title: str
    rows: tuple[tuple[str, ...], ...]


_HEADINGS = (
    "title",
    "revision",
    "page",
    "of",
    "job",
    "not_checked",
    "cautions",
    "findings",
    "answer",
    "what",
    "is",
    "limit",
    "before_cut",
    "steps",
    "holes",
    "number",
    "row",
    "pilot",
    "final",
    "set",
    "remark",
    "signed_off",
    "name_and_signature",
    "certificate",
    "date",
    "work_done",
    "second_person",
    "departures",
    "data_used",
    "passed",
    "rule",
    "value",
    "source",
    "step",
    "rests_on",
    "sources",
    "name",
    "initials",
)
"""Headings of the card; `card.heading.<name>` of the catalog."""


@dataclass(frozen=True, slots=True)
class WorkCard:
    """Everything that a work card says.

    Args:
        words: headings, by name.
        language: of the card, as typesetting names it.
        job: title of the job.
        side: LEFT, RIGHT or CENTER.
        not_data: what every page says of itself.
        summary: what the job is, each a label and its words.
        answers: how many findings there are of each kind.
        before: what must not be done yet, "" when nothing stops.
        not_checked: what no finding speaks of.
        cautions: what lies behind the skin and what is special about it.
        findings: those that do not pass, the worst first.
        passed: those that pass, by rule and source.
        gate: what is initialed before the cut.
        steps: of this job, in the order of the work.
        holes: the hole table.
        sources: each document that is cited, key and title.
    """

    words: dict[str, str]
    language: str
    job: str
    aircraft: str
    side: str
    revision: str
    date: str
    not_data: str
    summary: tuple[tuple[str, str], ...]
    answers: str
    before: str
    not_checked: str
    cautions: tuple[str, ...]
    findings: tuple[FindingLine, ...]
    passed: tuple[Passed, ...]
    gate: tuple[str, ...]
    steps: tuple[ToldStep, ...]
    holes: tuple[HoleGroup, ...]
    sources: tuple[tuple[str, str], ...]


def work_card(
    layout: Layout,
    making: Making | None,
    findings: Sequence[Finding],
    *,
    verdict: Verdict,
    not_checked: Sequence[Said],
    date: str,
    tongue: str = HOME,
) -> WorkCard:
    """Gather the work card of a job.

    Args:
        findings: the worst first.
        verdict: of the side that the card is for.
        not_checked: what no finding speaks of.
        tongue: language of the card; what it does not hold is told in that of the house.
    Returns:
        WorkCard: ready to be set.
    """
    job, unit = layout.job, layout.job.unit
    steps = (*cutting_steps(layout, making), *fastening_steps(layout, making))
    bad = [finding for finding in findings if finding.status is not Status.PASS]

    def told(what: Value) -> str:
        return tell(what, unit, tongue)

    return WorkCard(
        words={name: told(said(f"card.heading.{name}")) for name in _HEADINGS},
        language=tongue.partition("_")[0],
        job=job.title,
        aircraft=told(aircraft_said(job)),
        side=told(said(f"side.{job.aircraft.side}")),
        revision=job.revision,
        date=date,
        not_data=told(said("paper.not_data")),
        summary=tuple((told(label), told(words)) for label, words in job_summary(layout)),
        answers=told(headline(verdict)),
        before=stop_text(verdict, "findings", tongue),
        not_checked=told(said("card.not_checked", what=Listed(tuple(not_checked), ";"))),
        cautions=tuple(told(one) for one in job_cautions(layout)),
        findings=tuple(finding_line(finding, unit, tongue) for finding in bad),
        passed=passed(findings, unit, tongue),
        gate=tuple(told(one) for one in gate_items(job, findings, has_template=making is not None)),
        steps=tuple(told_step(step, unit, tongue) for step in steps),
        holes=_holes(layout, findings, tongue),
        sources=tuple(_sources(findings, steps, layout.shop, tongue)),
    )


def work_card_pdf(card: WorkCard, *, hole_map: bytes, paper: Paper, stamp: datetime) -> bytes:
    """Set a work card.

    Args:
        hole_map: picture of the parts and their holes, SVG.
        stamp: date and time kept in the file.
    Returns:
        bytes: the PDF file, the same for the same arguments.
    Raises:
        ExportError: the file did not read back as it was written.
    """
    width_in, height_in = paper.size_in
    told, sketches = asdict(card), [sketch for step in card.steps for sketch in step.sketches]
    for step in told["steps"]:
        step["sketches"] = len(step["sketches"])
    data = {"width": width_in, "height": height_in, "card": told}
    pictures = {f"sketch{number}": sketch for number, sketch in enumerate(sketches)}
    return pdf_from("work_card.typ", data, picture=hole_map, pictures=pictures, stamp=stamp)


def _holes(layout: Layout, findings: Sequence[Finding], tongue: str) -> tuple[HoleGroup, ...]:
    unit = layout.job.unit
    found = remarks(findings, unit, tongue)
    groups: dict[str, list[tuple[str, ...]]] = {}
    for hole in layout.holes:
        row = (
            str(hole.number),
            hole.row,
            figure(hole.x_in, unit),
            figure(hole.y_in, unit),
            hole_remark(hole, found, tongue),
        )
        title = said("holes.title", fastener=fastener_said(hole, layout), unit=unit)
        groups.setdefault(tell(title, unit, tongue), []).append(row)
    return tuple(HoleGroup(title, tuple(rows)) for title, rows in groups.items())


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
