"""The papers of a job: layout drawing and work card, for each side that gets the opening."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import suppress
from datetime import datetime

from msgspec import Struct

from hatchwright.documents.work_card import work_card, work_card_pdf
from hatchwright.drawings.bay_view import bay_sheet, hole_map
from hatchwright.drawings.flat_pattern_view import flat_pattern_sheet
from hatchwright.drawings.made_file import MadeFile, MadeKind
from hatchwright.drawings.sheet import Sheet
from hatchwright.drawings.writers import AnyPaper, Paper
from hatchwright.drawings.writers.pages import page_count
from hatchwright.drawings.writers.readback.pdf_pages import page_words
from hatchwright.drawings.writers.svg import picture_svg_of
from hatchwright.errors import ExportError, GeometryError
from hatchwright.layout.flat_pattern import flat_doubler
from hatchwright.progress import Progress, in_parts, stretches, unheard
from hatchwright.said import said
from hatchwright.words.catalog import HOME
from hatchwright.workflow.examine import Examination
from hatchwright.workflow.paper_set import PaperSet, sets_of

MOST_SHEETS = 200
"""Sheets of paper in one set; nobody looks through more. Own choice, no source [-]."""


class _Side(Struct, frozen=True):
    """What one side gets: its drawings before they are written, and its card, which is set."""

    of: PaperSet
    drawings: tuple[tuple[MadeKind, Sheet], ...]
    card: bytes

    @property
    def count(self) -> int:
        """Sheets of paper [-]."""
        laid_out = (page_count(sheet, self.of.paper) for _, sheet in self.drawings)
        return sum(laid_out) + len(page_words(self.card))

    def made(self, progress: Progress) -> Iterator[MadeFile]:
        for (kind, sheet), mine in in_parts(self.drawings, progress):
            yield from self.of.drawn(sheet, kind, progress=mine)
        yield self.of.set_in_words(MadeKind.WORK_CARD, self.card)


def papers(
    examination: Examination,
    *,
    stamp: datetime,
    paper: AnyPaper = Paper.LETTER,
    stem: str = "",
    card_language: str = HOME,
    told: Callable[[int], object] = lambda count: None,
    progress: Progress = unheard,
) -> tuple[MadeFile, ...]:
    """Make the layout drawing (SVG, DXF, true-size PDF) and the work card (PDF) of a job, the other side's too
    when both get the opening; on a skin that is curved one way the flat pattern of the doubler as well.

    Args:
        stamp: when they are made; the same time makes the same bytes.
        paper: what the printer takes; the work card is not to scale and needs no correction.
        card_language: of the work card alone, a folder of the catalog.
        told: called with the number of sheets of paper that they take, before a drawing is written.
        progress: told how far they are.
    Raises:
        ExportError: they would take more than `MOST_SHEETS`, or a file did not read back as it was drawn.
    """
    sets = sets_of(examination, stamp=stamp, paper=paper, stem=stem)
    setting, writing = stretches(progress, 1.0, 1.5)
    sides = [_planned(one, card_language, mine) for one, mine in in_parts(sets, setting)]
    count = sum(side.count for side in sides)
    if count > MOST_SHEETS:
        raise ExportError.saying("error.many_sheets", where="papers", n=count, most=MOST_SHEETS)
    told(count)
    return tuple(file for side, mine in in_parts(sides, writing) for file in side.made(mine))


def _planned(one: PaperSet, tongue: str, progress: Progress) -> _Side:
    progress(0.0, said("progress.setting", paper=one.called(MadeKind.WORK_CARD)))
    return _Side(one, tuple(_drawings(one)), _work_card(one, tongue))


def _drawings(one: PaperSet) -> Iterator[tuple[MadeKind, Sheet]]:
    """The layout, and the flat pattern of the doubler for a skin that is curved one way."""
    side = one.examination
    yield MadeKind.LAYOUT, one.carried(bay_sheet(side.layout, side.findings, date=one.date))
    with suppress(GeometryError):  # T701 says why
        if flat := flat_doubler(side.layout):
            yield MadeKind.FLAT_DOUBLER, one.carried(flat_pattern_sheet(side.layout, flat, date=one.date))


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
