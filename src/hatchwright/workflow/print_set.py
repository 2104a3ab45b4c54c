"""What is carried to the aircraft, in the order in which it is read, and all of it as one file to print."""

from __future__ import annotations

from collections.abc import Iterable

from hatchwright.drawings.made_file import MadeFile, MadeKind, Written
from hatchwright.drawings.writers.joined import joined
from hatchwright.words.tell import tell
from hatchwright.workflow.paper_set import PaperSet

CARRIED = (
    MadeKind.WORK_CARD,
    MadeKind.OVERVIEW,
    MadeKind.LAYOUT,
    MadeKind.PARTS,
    MadeKind.TEMPLATE,
    MadeKind.TEMPLATE_SHEET,
    MadeKind.PIN_SHEET,
)
"""The card leads from one step to the next, so it is read first; then what is laid out, and what is cut by."""


def carried(files: Iterable[MadeFile], side: str) -> tuple[MadeFile, ...]:
    """The papers of one side that go to the aircraft, in the order in which they are read."""
    papers = [file for file in files if file.written is Written.PDF and file.side == side]
    return tuple(
        sorted((file for file in papers if file.kind in CARRIED), key=lambda file: CARRIED.index(file.kind))
    )


def print_set(one: PaperSet, papers: Iterable[MadeFile]) -> MadeFile:
    """The papers of one side as one file to print (PDF); a set holds no sheet of another side.

    Raises:
        ExportError: a sheet of it is not what it was.
    """
    parts = {tell(file.kind): file.content for file in papers}
    content = joined(parts, made_at=one.stamp)
    return one.file(MadeKind.PRINT, f"_{one.paper.words}.pdf", content, true_size=True)
