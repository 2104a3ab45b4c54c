"""Papers of a whole set of jobs: the list of its lines with their templates, and a label for each with its code."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct

from hatchwright.documents.paper_head import head_without_job
from hatchwright.documents.typst_pdf import Part
from hatchwright.drawings.sheet_code import code_of, code_svg
from hatchwright.said import Value, said
from hatchwright.words.tell import tell

LABELS = "labels"
"""The paper that the code on a label names: it leads to the job."""

_COLUMNS = ("registration", "serial", "side", "template", "verdict", "waiting", "initials")


class SetLine(Struct, frozen=True):
    """One side of one aircraft as the papers of a set name it.

    Args:
        side: LEFT or RIGHT.
        template: number of the template that it takes, "" where it takes none.
        title, revision: of its job.
        waiting_for: what holds it up, as entered.
    """

    registration: str
    serial: str
    side: str
    template: str
    verdict: str
    title: str
    revision: str
    waiting_for: str = ""


def set_part(title: str, lines: Sequence[SetLine], *, refused: Sequence[str], date: str) -> Part:
    """The list of a set as a paper.

    Args:
        title: of the fleet.
        refused: what could not be printed, in words.
        date: when it was made.
    """
    rows = [
        [one.registration, one.serial, one.side, one.template, one.verdict, one.waiting_for, ""]
        for one in lines
    ]
    return Part(
        "fleet_set",
        {
            "head": _head(said("fleet.set.title"), title, len(lines), said("fleet.set.more"), date),
            "heads": [tell(said(f"fleet.set.{name}")) for name in _COLUMNS],
            "rows": rows,
            "refused": list(refused),
            "note": tell(said("fleet.set.note")),
        },
    )


def label_part(title: str, lines: Sequence[SetLine], *, date: str) -> Part:
    """A label for each line, to cut out, with the code that leads to its job."""
    codes = [
        code_of(title=one.title, side=one.side, paper=LABELS, sheet=0, revision=one.revision) for one in lines
    ]
    return Part(
        "fleet_labels",
        {
            "head": _head(said("fleet.labels.title"), title, len(lines), said("pull.not_judged"), date),
            "labels": [
                {
                    "registration": one.registration,
                    "serial": tell(said("fleet.labels.serial", serial=one.serial)),
                    "side": one.side,
                    "title": one.title,
                    "template": tell(said("fleet.labels.template", number=one.template))
                    if one.template
                    else "",
                    "code": code.grouped,
                }
                for one, code in zip(lines, codes, strict=True)
            ],
        },
        pictures={f"code{number}": code_svg(code.letters) for number, code in enumerate(codes)},
    )


def _head(paper: Value, title: str, sides: int, more: Value, date: str) -> dict[str, object]:
    return head_without_job(side=said("pull.sides", n=sides), title=paper, what=title, more=more, date=date)
