"""All papers of a side as one file to print, in the order in which they are read."""

from __future__ import annotations

from collections.abc import Iterable

from hatchwright.drawings.made_file import MadeFile, MadeKind, Written
from hatchwright.drawings.writers.joined import joined
from hatchwright.words.tell import tell
from hatchwright.workflow.paper_set import PaperSet

BY_ITSELF = frozenset({"TRIAL", "STRENGTH", "PACKAGE", "BLANK_FORMS", "PULL_LIST"})
"""Kinds that are no sheet of the set: for scrap, for an engineer, empty, or for several jobs."""


def carried(files: Iterable[MadeFile], side: str) -> tuple[MadeFile, ...]:
    """The papers of one side that are printed together, in the order in which they were made, that of
    `paper_kinds.PAPERS`."""
    return tuple(
        file
        for file in files
        if file.written is Written.PDF and file.side == side and file.kind not in BY_ITSELF
    )


def print_set(one: PaperSet, papers: Iterable[MadeFile]) -> MadeFile:
    """The papers of one side as one file to print (PDF); a set holds no sheet of another side.

    Raises:
        ExportError: a sheet of it is not what it was.
    """
    content = joined(((tell(file.kind), file.content) for file in papers), made_at=one.stamp)
    return one.file(MadeKind.PRINT, f"_{one.paper.words}.pdf", content, true_size=True)
