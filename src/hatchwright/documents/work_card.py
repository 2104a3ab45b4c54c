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
from hatchwright.documents.step import Step
from hatchwright.documents.typst_pdf import pdf_from
from hatchwright.drawings.figures import figure, unit_of
from hatchwright.drawings.hole_table import fastener_words, hole_remark
from hatchwright.drawings.page_frame import aircraft_words, side_word
from hatchwright.drawings.short_holes import remarks
from hatchwright.drawings.title_block import NOT_DATA
from hatchwright.drawings.writers.paper import Paper
from hatchwright.finding import Finding
from hatchwright.judged import Status
from hatchwright.layout.layout import Layout
from hatchwright.making.making import Making
from hatchwright.tables.sources import documents
from hatchwright.tables.table import ShopTables
from hatchwright.verdict import Verdict
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


@dataclass(frozen=True, slots=True)
class WorkCard:
    """Everything that a work card says.

    Args:
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
        gate: what is initialled before the cut.
        steps: of this job, in the order of the work.
        holes: the hole table.
        sources: each document that is cited, key and title.
    """

    job: str
    aircraft: str
    side: str
    revision: str
    date: str
    not_data: str
    summary: tuple[tuple[str, str], ...]
    answers: str
    before: str
    not_checked: tuple[str, ...]
    cautions: tuple[str, ...]
    findings: tuple[FindingLine, ...]
    passed: tuple[Passed, ...]
    gate: tuple[str, ...]
    steps: tuple[Step, ...]
    holes: tuple[HoleGroup, ...]
    sources: tuple[tuple[str, str], ...]


def work_card(
    layout: Layout,
    making: Making | None,
    findings: Sequence[Finding],
    *,
    verdict: Verdict,
    not_checked: Sequence[str],
    date: str,
) -> WorkCard:
    """Gather the work card of a job.

    Args:
        findings: the worst first.
        verdict: of the side that the card is for.
        not_checked: what no finding speaks of.
    Returns:
        WorkCard: ready to be set.
    """
    job, unit = layout.job, unit_of(layout.job)
    steps = (*cutting_steps(layout, making), *fastening_steps(layout, making))
    bad = [finding for finding in findings if finding.status is not Status.PASS]
    return WorkCard(
        job=job.title,
        aircraft=aircraft_words(job),
        side=side_word(job),
        revision=job.revision,
        date=date,
        not_data=NOT_DATA,
        summary=tuple(job_summary(layout)),
        answers=tell(headline(verdict), unit),
        before=stop_text(verdict, "findings"),
        not_checked=tuple(not_checked),
        cautions=tuple(job_cautions(layout)),
        findings=tuple(finding_line(finding, unit) for finding in bad),
        passed=passed(findings, unit),
        gate=tuple(gate_items(job, findings, has_template=making is not None)),
        steps=steps,
        holes=_holes(layout, findings),
        sources=tuple(_sources(findings, steps, layout.shop)),
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


def _holes(layout: Layout, findings: Sequence[Finding]) -> tuple[HoleGroup, ...]:
    unit = unit_of(layout.job)
    said = remarks(findings, unit)
    groups: dict[str, list[tuple[str, ...]]] = {}
    for hole in layout.holes:
        row = (
            str(hole.number),
            hole.row,
            figure(hole.x_in, unit),
            figure(hole.y_in, unit),
            hole_remark(hole, said),
        )
        groups.setdefault(f"{fastener_words(hole, layout)} {unit}", []).append(row)
    return tuple(HoleGroup(title, tuple(rows)) for title, rows in groups.items())


def _sources(
    findings: Sequence[Finding], steps: Sequence[Step], shop: ShopTables | None
) -> Iterator[tuple[str, str]]:
    """Every document that a finding or a step cites, with its title and edition."""
    cited = " ".join(
        [*(f"[{finding.source.key}," for finding in findings), *(line for s in steps for line in s.lines)]
    )
    for key, document in documents().items():
        if f"[{key}," in cited or f"[{key};" in cited:
            yield key, f"{document.title}, {document.edition}"
    for key, edition in (shop.documents if shop else {}).items():
        if f"[{key}," in cited:
            yield key, f"the shop's own, {edition}"
