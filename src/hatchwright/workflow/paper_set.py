"""What all sets of files have in common: the sides that a job needs, the date in words, the names of files."""

from __future__ import annotations

import re
from datetime import datetime
from typing import Literal

from msgspec import Struct
from msgspec.structs import replace

from hatchwright.documents.recorded import NOTHING_RECORDED, Recorded
from hatchwright.drawings.made_file import MadeFile, MadeKind, Written
from hatchwright.drawings.page_frame import side_word
from hatchwright.drawings.scaled_sheet import ScaledSheet
from hatchwright.drawings.sheet import Sheet
from hatchwright.drawings.writers import AnyPaper, Format, Paper, file_suffix, write
from hatchwright.progress import Progress, in_parts, unheard
from hatchwright.said import Said, said
from hatchwright.words.catalog import HOME
from hatchwright.words.verdict import stop_text
from hatchwright.workflow.examine import Examination

_LONGEST_STEM = 60


def issue_words(examination: Examination, stamp: datetime) -> str:
    """When a paper was made, and the mark of the answers that it rests on, as ``2026-03-01 10:00 UTC, ANSWERS
    DC1068DC``: another mark in the job makes it an old one."""
    return f"{stamp.strftime('%Y-%m-%d %H:%M %Z').strip()}, ANSWERS {examination.verdict.mark}"


def stem_of(examination: Examination, stem: str = "") -> str:
    """What the names of a job's files begin with, of plain letters, figures, hyphens and underscores: the name
    of the job file without its ending, or the job's title where that is ""."""
    plain = re.sub(r"[^A-Za-z0-9-]+", "_", stem or examination.job.title).strip("_-")[:_LONGEST_STEM]
    return plain or "job"


class Drawing(Struct, frozen=True):
    """A drawing before it is written.

    Args:
        printed: what of it goes on paper (PDF), all of it when not given.
        formats: to write it in.
        part: what tells it from others of its kind, such as the number of a stage.
        true_size: whether lengths may be taken from it.
    """

    kind: MadeKind
    sheet: Sheet | ScaledSheet
    printed: Sheet | None = None
    formats: tuple[Format, ...] = tuple(Format)
    part: str = ""
    true_size: bool = True

    @property
    def on_paper(self) -> Sheet | ScaledSheet | None:
        """What is printed, None for what a machine alone reads."""
        return (self.printed or self.sheet) if Format.PDF in self.formats else None


class PaperSet(Struct, frozen=True):
    """The files of one side of a job: of which answers, made when, on which paper, and what their names begin with.

    Args:
        card_language: of the card alone, a folder of the catalog.
        recorded: what the records and the fleet file tell of the job; nothing where there are none.
    """

    examination: Examination
    stamp: datetime
    paper: AnyPaper
    stem: str
    card_language: str = HOME
    recorded: Recorded = NOTHING_RECORDED

    @property
    def date(self) -> str:
        """What its papers say of when they were made."""
        return issue_words(self.examination, self.stamp)

    def carried(
        self, sheet: Sheet, box: Literal["verdict.stop_box", "verdict.scrap_box"] = "verdict.stop_box"
    ) -> Sheet:
        """A drawing that goes to the aircraft: its stop box says what must be settled before anything is cut; that of
        a sheet for scrap holds back the aircraft alone."""
        return replace(sheet, stop=stop_text(self.examination.verdict, box=box))

    def drawn(self, drawing: Drawing, progress: Progress = unheard) -> tuple[MadeFile, ...]:
        """Write one drawing, each file read back.

        Args:
            progress: told how far it is.
        Returns:
            tuple[MadeFile, ...]: named such as ``wing_LAYOUT_LEFT_IN.dxf``.
        Raises:
            ExportError: a file did not read back as it was drawn.
        """
        made, kind = [], drawing.kind
        sheet = replace(drawing.sheet, paper_name=kind.lower())
        printed = replace(drawing.on_paper or sheet, paper_name=kind.lower())
        for one, mine in in_parts(drawing.formats, progress):
            mine(0.0, said("progress.drawing", drawing=self.called(kind), format=one.upper()))
            content = write(
                printed if one is Format.PDF else sheet, one, paper=self.paper, made_at=self.stamp
            )
            ending = file_suffix(sheet, one, paper=self.paper)
            made.append(self.file(kind, ending, content, part=drawing.part, true_size=drawing.true_size))
        return tuple(made)

    def called(self, kind: MadeKind) -> Said:
        """A paper of this side by its name, such as LEFT layout drawing."""
        side = said(f"side.{self.examination.job.aircraft.side}")
        return said("progress.of_side", side=side, paper=kind)

    def set_in_words(self, kind: MadeKind, content: bytes) -> MadeFile:
        """A paper (PDF) of words and sketches, not to scale, named such as ``wing_CARRY_CARD_LEFT_LETTER.pdf``."""
        return self.file(kind, f"_{self.paper.plain.words}.pdf", content)

    def file(
        self, kind: MadeKind, ending: str, content: bytes, *, part: str = "", true_size: bool = False
    ) -> MadeFile:
        """A file of this side: its name says the kind, the part and the side, and ends in how it is written."""
        job, named = self.examination.job, f"{kind}_{part}" if part else kind
        name, side = f"{self.stem}_{named}_{side_word(job)}{ending}", job.aircraft.side
        written = Written(ending.rpartition(".")[2])
        return MadeFile(name, kind, side, true_size=true_size, written=written, content=content)


def sets_of(
    examination: Examination,
    *,
    stamp: datetime,
    paper: AnyPaper = Paper.LETTER,
    stem: str = "",
    card_language: str = HOME,
    recorded: Recorded = NOTHING_RECORDED,
) -> tuple[PaperSet, ...]:
    """The set of each side that gets the opening, all named after one; see `stem_of`."""
    start = stem_of(examination, stem)
    return tuple(PaperSet(one, stamp, paper, start, card_language, recorded) for one in examination.sides)
