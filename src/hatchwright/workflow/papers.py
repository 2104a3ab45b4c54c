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
from hatchwright.workflow.paper_set import PaperSet, sets_of


def papers(
    examination: Examination,
    *,
    stamp: datetime,
    paper: AnyPaper = Paper.LETTER,
    stem: str = "",
    card_language: str = HOME,
) -> tuple[MadeFile, ...]:
    """Make the layout drawing (SVG, DXF, true-size PDF) and the work card (PDF) of a job, the other side's too
    when both get the opening; on a skin that is curved one way the flat pattern of the doubler as well.
    ExportError where a file did not read back as it was drawn.

    Args:
        stamp: when they are made; the same time makes the same bytes.
        paper: what the printer takes; the work card is not to scale and needs no correction.
        card_language: of the work card alone, a folder of the catalog.
    """
    made: list[MadeFile] = []
    for one in sets_of(examination, stamp=stamp, paper=paper, stem=stem):
        side = one.examination
        sheet = bay_sheet(side.layout, side.findings, date=one.date)
        made += [*one.drawn(one.carried(sheet), MadeKind.LAYOUT), *_flat_doubler(one)]
        made.append(one.set_in_words(MadeKind.WORK_CARD, _work_card(one, card_language)))
    return tuple(made)


def _flat_doubler(one: PaperSet) -> tuple[MadeFile, ...]:
    """The flat pattern of a doubler for a skin that is curved one way."""
    layout = one.examination.layout
    try:
        flat = flat_doubler(layout)
    except GeometryError:
        return ()  # T701 says why
    if flat is None:
        return ()
    return one.drawn(one.carried(flat_pattern_sheet(layout, flat, date=one.date)), MadeKind.FLAT_DOUBLER)


def _work_card(one: PaperSet, tongue: str) -> bytes:
    side = one.examination
    card = work_card(
        side.layout,
        side.making,
        side.worst_first(),
        verdict=side.verdict,
        not_checked=side.not_checked(),
        date=one.date,
        tongue=tongue,
        tried=side.remedies,
    )
    picture = picture_svg_of(hole_map(side.layout, side.findings))
    return work_card_pdf(card, hole_map=picture, paper=one.paper.plain, stamp=one.stamp)
