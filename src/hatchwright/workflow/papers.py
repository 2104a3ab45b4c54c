"""The papers of a job: layout drawing and work card, for each side that gets the opening."""

from __future__ import annotations

from datetime import datetime

from hatchwright.documents.work_card import work_card, work_card_pdf
from hatchwright.drawings.bay_view import bay_sheet, hole_map
from hatchwright.drawings.flat_pattern_view import flat_pattern_sheet
from hatchwright.drawings.made_file import MadeFile, MadeKind
from hatchwright.drawings.writers import AnyPaper, Paper
from hatchwright.drawings.writers.svg import picture_svg_of
from hatchwright.errors import GeometryError
from hatchwright.layout.flat_pattern import flat_doubler
from hatchwright.words.catalog import HOME
from hatchwright.workflow.examine import Examination
from hatchwright.workflow.paper_set import carried, files_of, issue_words, paper_of_side, stem_of


def papers(
    examination: Examination,
    *,
    stamp: datetime,
    paper: AnyPaper = Paper.LETTER,
    stem: str = "",
    card_language: str = HOME,
) -> tuple[MadeFile, ...]:
    """Make the layout drawing (SVG, DXF, true-size PDF) and the work card (PDF) of a job.

    On a skin that is curved one way the flat pattern of the doubler is made too.

    Args:
        stamp: when they are made; the same time makes the same bytes.
        paper: what the printer takes; the work card is not to scale and needs no correction.
        card_language: of the work card alone, a folder of the catalog.
    Returns:
        tuple[MadeFile, ...]: the other side's set too when both get the opening.
    Raises:
        ExportError: a file did not read back as it was drawn.
    """
    start, plain = stem_of(examination, stem), paper.plain
    made: list[MadeFile] = []
    for one in examination.sides:
        sheet = carried(bay_sheet(one.layout, one.findings, date=issue_words(one, stamp)), one)
        made += files_of(sheet, MadeKind.LAYOUT, one, stem=start, stamp=stamp, paper=paper)
        made += _flat_doubler(one, stem=start, stamp=stamp, paper=paper)
        card = _work_card(one, stamp, plain, card_language)
        made.append(paper_of_side(MadeKind.WORK_CARD, one, card, stem=start, paper=plain))
    return tuple(made)


def _flat_doubler(
    examination: Examination, *, stem: str, stamp: datetime, paper: AnyPaper
) -> tuple[MadeFile, ...]:
    """The flat pattern of a doubler for a skin that is curved one way."""
    layout = examination.layout
    try:
        flat = flat_doubler(layout)
    except GeometryError:
        return ()  # T701 says why
    if flat is None:
        return ()
    sheet = carried(flat_pattern_sheet(layout, flat, date=issue_words(examination, stamp)), examination)
    return files_of(sheet, MadeKind.FLAT_DOUBLER, examination, stem=stem, stamp=stamp, paper=paper)


def _work_card(examination: Examination, stamp: datetime, paper: Paper, tongue: str) -> bytes:
    card = work_card(
        examination.layout,
        examination.making,
        examination.worst_first(),
        verdict=examination.verdict,
        not_checked=examination.not_checked(),
        date=issue_words(examination, stamp),
        tongue=tongue,
        tried=examination.remedies,
    )
    picture = picture_svg_of(hole_map(examination.layout, examination.findings))
    return work_card_pdf(card, hole_map=picture, paper=paper, stamp=stamp)
