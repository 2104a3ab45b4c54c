"""What all sets of files have in common: the sides that a job needs, the date in words, the names of files."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace
from datetime import datetime

from hatchwright.drawings.page_frame import side_word
from hatchwright.drawings.sheet import Sheet
from hatchwright.drawings.writers import AnyPaper, Format, file_suffix, write
from hatchwright.words.verdict import stop_text
from hatchwright.workflow.examine import Examination

_LONGEST_STEM = 60


def date_words(stamp: datetime) -> str:
    """The date and time as papers print it.

    Returns:
        str: such as ``2026-03-01 10:00 UTC``.
    """
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


def carried(sheet: Sheet, examination: Examination) -> Sheet:
    """A drawing that goes to the aircraft: it says itself what must be settled before anything is cut.

    Returns:
        Sheet: the same with the stop box when something stops.
    """
    return replace(sheet, stop=stop_text(examination.verdict))


def files_of(
    sheet: Sheet,
    name: str,
    examination: Examination,
    *,
    stem: str,
    stamp: datetime,
    paper: AnyPaper,
    kinds: Iterable[Format] = Format,
) -> dict[str, bytes]:
    """Write one drawing, each file read back.

    Args:
        name: what it is, such as LAYOUT.
        examination: whose side goes into the name.
        stem: what the names begin with.
        kinds: formats to write it in, all of them when not given.
    Returns:
        dict[str, bytes]: file name, such as ``wing_LAYOUT_LEFT_IN.dxf``, to its bytes.
    Raises:
        ExportError: a file did not read back as it was drawn.
    """
    start = f"{stem}_{name}_{side_word(examination.job)}"
    return {
        f"{start}{file_suffix(sheet, kind, paper=paper)}": write(sheet, kind, paper=paper, made_at=stamp)
        for kind in kinds
    }
