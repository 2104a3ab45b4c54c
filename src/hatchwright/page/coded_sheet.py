"""The sheet that a code was read from: whose it is, and whether the job has moved on since it was printed."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from hatchwright.documents.record_papers import PAPERS
from hatchwright.drawings.made_file import MadeKind
from hatchwright.drawings.sheet_code import SheetCode, job_mark, paper_mark, read_code, revision_mark
from hatchwright.errors import JobError
from hatchwright.job.as_typed import raw_data
from hatchwright.workflow.job_folder import JobFolder

_SET_AS = {
    **{f"record_{name}": MadeKind.RECORD for name in ("holds", *dict(PAPERS))},
    "strength_report": MadeKind.STRENGTH,
    "sketches": MadeKind.TEMPLATE_SHEET,
    "chapter": MadeKind.PACKAGE,
}
"""Papers by the template that sets them, where that is not called as they are."""

_FIRST_REVISION = "A"


class CodedSheet(Struct, frozen=True):
    """One job that has the sheet of a code.

    Args:
        job_name: file name of the job.
        side: LEFT, RIGHT or CENTER.
        kind: of the paper, None where this program makes no such paper.
        sheet: its number in the paper, of a carry card that of its first step; 0 where the code does not tell.
        revision: of the job as it stands.
        is_current: whether the sheet was printed of that revision.
    """

    job_name: str
    title: str
    side: str
    kind: MadeKind | None
    sheet: int
    revision: str
    is_current: bool

    @property
    def begins_with_step(self) -> bool:
        """Whether its number is that of its first step."""
        return self.kind is MadeKind.CARRY_CARD


def coded_sheets(typed: str, folder: JobFolder) -> tuple[CodedSheet, ...] | None:
    """Every job of a folder that has the sheet of a code; None where that is no code."""
    code = read_code(typed)
    return None if code is None else tuple(_found(code, folder))


def _found(code: SheetCode, folder: JobFolder) -> Iterator[CodedSheet]:
    kinds = _SET_AS | {kind.lower(): kind for kind in MadeKind}
    kind = next((kind for name, kind in kinds.items() if paper_mark(name) == code.paper), None)
    for name in folder.names():
        try:
            held = raw_data(folder.read(name))
        except JobError:
            continue  # the list of jobs says why
        title, revision = str(held.get("title", "")), str(held.get("revision", _FIRST_REVISION))
        if job_mark(title) == code.job:
            is_current = revision_mark(revision) == code.revision
            yield CodedSheet(name, title, code.side, kind, code.sheet, revision, is_current)
