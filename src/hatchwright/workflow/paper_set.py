"""What all sets of files have in common: the sides that a job needs, the date in words, the names of files."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace
from datetime import datetime
from typing import Literal

from hatchwright.drawings.made_file import MadeFile, MadeKind, Written
from hatchwright.drawings.page_frame import side_word
from hatchwright.drawings.sheet import Sheet
from hatchwright.drawings.writers import AnyPaper, Format, Paper, file_suffix, write
from hatchwright.words.verdict import stop_text
from hatchwright.workflow.examine import Examination

_LONGEST_STEM = 60


def date_words(stamp: datetime) -> str:
    """The date and time as papers print it, such as ``2026-03-01 10:00 UTC``."""
    return stamp.strftime("%Y-%m-%d %H:%M %Z").strip()


def issue_words(examination: Examination, stamp: datetime) -> str:
    """When a paper was made, and the mark of the answers that it rests on: another mark in the job makes it an old one.

    Returns:
        str: such as ``2026-03-01 10:00 UTC, ANSWERS DC1068DC``.
    """
    return f"{date_words(stamp)}, ANSWERS {examination.verdict.mark}"


def stem_of(examination: Examination, stem: str = "") -> str:
    """What the names of a job's files begin with.

    Args:
        stem: name of the job file without its ending, "" to take the job's title.
    Returns:
        str: plain letters, figures, hyphens and underscores only.
    """
    plain = re.sub(r"[^A-Za-z0-9-]+", "_", stem or examination.job.title).strip("_-")[:_LONGEST_STEM]
    return plain or "job"


def carried(
    sheet: Sheet,
    examination: Examination,
    box: Literal["verdict.stop_box", "verdict.scrap_box"] = "verdict.stop_box",
) -> Sheet:
    """A drawing that goes to the aircraft: its stop box says what must be settled before anything is cut;
    that of a sheet for scrap holds back the aircraft alone."""
    return replace(sheet, stop=stop_text(examination.verdict, box=box))


def files_of(
    sheet: Sheet,
    kind: MadeKind,
    examination: Examination,
    *,
    stem: str,
    stamp: datetime,
    paper: AnyPaper,
    formats: Iterable[Format] = Format,
    part: str = "",
    true_size: bool = True,
) -> tuple[MadeFile, ...]:
    """Write one drawing, each file read back.

    Args:
        examination: whose side goes into the name.
        stem: what the names begin with.
        formats: to write it in, all of them when not given.
        part: what tells it from others of its kind, such as the number of a stage.
        true_size: whether lengths may be taken from it.
    Returns:
        tuple: named such as ``wing_LAYOUT_LEFT_IN.dxf``.
    Raises:
        ExportError: a file did not read back as it was drawn.
    """
    named = f"{kind}_{part}" if part else str(kind)
    start = f"{stem}_{named}_{side_word(examination.job)}"
    return tuple(
        MadeFile(
            name=f"{start}{file_suffix(sheet, one, paper=paper)}",
            kind=kind,
            side=examination.job.aircraft.side,
            true_size=true_size,
            written=Written(one),
            content=write(sheet, one, paper=paper, made_at=stamp),
        )
        for one in formats
    )


def paper_of_side(
    kind: MadeKind, examination: Examination, content: bytes, *, stem: str, paper: Paper
) -> MadeFile:
    """A paper that is set in words and sketches, not to scale.

    Args:
        content: the PDF file, read back.
    Returns:
        MadeFile: named such as ``wing_WORK_CARD_LEFT_LETTER.pdf``.
    """
    name = f"{stem}_{kind}_{side_word(examination.job)}_{paper.words}.pdf"
    side = examination.job.aircraft.side
    return MadeFile(name, kind, side, true_size=False, written=Written.PDF, content=content)
