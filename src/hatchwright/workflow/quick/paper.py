"""The printable page of a quick answer, and its outline at true size where it has one."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import datetime

from msgspec import Struct

from hatchwright.documents.quick_page import quick_part
from hatchwright.documents.typst_pdf import pdf_from
from hatchwright.drawings.made_file import MadeFile, MadeKind, Written
from hatchwright.drawings.outlines_view import outlines_sheet
from hatchwright.drawings.writers import AnyPaper, Format, Paper, file_suffix, write
from hatchwright.units import Unit
from hatchwright.words.tell import tell
from hatchwright.workflow.quick.answer import Answer, Quick
from hatchwright.workflow.quick.book import entries_of, with_unit


class QuickPaper(Struct, frozen=True):
    """An answer to be printed.

    Args:
        typed: what the answer was made of.
        stamp: when it is printed; the same time makes the same bytes.
    """

    one: Quick
    typed: Mapping[str, str]
    answer: Answer
    unit: Unit
    stamp: datetime
    paper: AnyPaper = Paper.LETTER

    def page(self) -> MadeFile:
        """The answer as a page.

        Raises:
            ExportError: the file did not read back as it was written.
        """
        part = quick_part(
            self.one.title,
            entered=_entered(self.one, self.typed, self.unit),
            findings=self.answer.findings,
            numbers=((told.what, told.value, told.working) for told in self.answer.told),
            open_points=self.answer.open,
            unit=self.unit,
            date=self._date,
        )
        plain = self.paper.plain
        made = pdf_from(part, title=tell(self.one.title), paper=plain, stamp=self.stamp)
        return self._file(f"_{plain.words}.pdf", made, true_size=False)

    def outline(self) -> MadeFile | None:
        """What the answer draws at true size, None where it draws nothing.

        Raises:
            ExportError: the file did not read back as it was written, or takes more pages than a person will join.
        """
        drawn = self.answer.drawn
        if drawn is None:
            return None
        sheet = outlines_sheet(
            self.one.title, drawn.outlines, notes=drawn.notes, unit=self.unit, date=self._date
        )
        made = write(sheet, Format.PDF, paper=self.paper, made_at=self.stamp)
        suffix = file_suffix(sheet, Format.PDF, paper=self.paper)
        return self._file(f"_TRUE_SIZE{suffix}", made, true_size=True)

    def files(self) -> tuple[MadeFile, ...]:
        """All that is printed; errors as of both."""
        outline = self.outline()
        return (self.page(), *((outline,) if outline else ()))

    @property
    def _date(self) -> str:
        return self.stamp.strftime("%Y-%m-%d %H:%M %Z").strip()

    def _file(self, suffix: str, content: bytes, *, true_size: bool) -> MadeFile:
        name = f"{MadeKind.QUICK}_{self.one.name.upper()}{suffix}"
        return MadeFile(name, MadeKind.QUICK, "", true_size, Written.PDF, content)


def _entered(one: Quick, typed: Mapping[str, str], unit: Unit) -> Iterator[tuple[str, str]]:
    for field in entries_of(one):
        if text := typed.get(field.name, "").strip():
            yield field.label, with_unit(field, text, unit)
