"""The printable page of a quick answer, and its outline at true size where it has one."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import datetime

from hatchwright.documents.quick_page import quick_part
from hatchwright.documents.typst_pdf import pdf_from
from hatchwright.drawings.made_file import MadeFile, MadeKind, Written
from hatchwright.drawings.outlines_view import outlines_sheet
from hatchwright.drawings.writers import AnyPaper, Format, Paper, file_suffix, write
from hatchwright.units import Unit
from hatchwright.words.tell import tell
from hatchwright.workflow.quick.answer import Answer, Quick
from hatchwright.workflow.quick.book import entries_of, with_unit


def quick_files(
    one: Quick,
    typed: Mapping[str, str],
    answer: Answer,
    *,
    unit: Unit,
    stamp: datetime,
    paper: AnyPaper = Paper.LETTER,
) -> tuple[MadeFile, ...]:
    """Write an answer as one page, and what it draws at true size as pages of its own.

    Args:
        typed: what the answer was made of.
        stamp: when it is made; the same time makes the same bytes.
    Raises:
        ExportError: a file did not read back as it was written.
    """
    date = stamp.strftime("%Y-%m-%d %H:%M %Z").strip()
    part = quick_part(
        one.title,
        entered=_entered(one, typed, unit),
        findings=answer.findings,
        numbers=((told.what, told.value, told.working) for told in answer.told),
        open_points=answer.open,
        unit=unit,
        date=date,
    )
    stem = f"{MadeKind.QUICK}_{one.name.upper()}"
    page = pdf_from(part, title=tell(one.title), paper=paper.plain, stamp=stamp)
    found = [_file(f"{stem}_{paper.plain.words}.pdf", page, true_size=False)]
    if answer.drawn:
        drawn = answer.drawn
        sheet = outlines_sheet(one.title, drawn.outlines, notes=drawn.notes, unit=unit, date=date)
        pages = write(sheet, Format.PDF, paper=paper, made_at=stamp)
        suffix = file_suffix(sheet, Format.PDF, paper=paper)
        found.append(_file(f"{stem}_TRUE_SIZE{suffix}", pages, true_size=True))
    return tuple(found)


def _entered(one: Quick, typed: Mapping[str, str], unit: Unit) -> Iterator[tuple[str, str]]:
    for field in entries_of(one):
        if text := typed.get(field.name, "").strip():
            yield field.label, with_unit(field, text, unit)


def _file(name: str, content: bytes, *, true_size: bool) -> MadeFile:
    return MadeFile(name, MadeKind.QUICK, "", true_size, Written.PDF, content)
