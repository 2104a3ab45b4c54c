"""Which answers of a job change with what was put into it, line by line."""

from __future__ import annotations

from typing import TYPE_CHECKING

from hatchwright.cli.frame import words
from hatchwright.cli.lines import put_text
from hatchwright.judged import Status
from hatchwright.units import Unit
from hatchwright.words.findings import told_text

if TYPE_CHECKING:
    from hatchwright.search.changed_findings import ChangedFinding
    from hatchwright.workflow.measure import Compared

SHOWN = 20
"""Answers that change and are printed; all are in the output for programs."""


def put_changes(both: Compared, unit: Unit, *, of: str) -> None:
    """Print why the job can't take it, or the answers that change.

    Args:
        of: what the ids of the command's own sentences begin with.
    """
    for fault in both.faults:
        put_text(words(f"{of}.not_taken", fault=str(fault)))
    if both.after is None:
        return
    answers = [one for one in both.changes if one.is_of_status]
    put_text(words(f"{of}.changes", n=len(answers), numbers=len(both.changes) - len(answers)))
    for one in answers[:SHOWN]:
        put_text(_change(one, unit), indent="  ")
    if len(answers) > SHOWN:
        put_text(words("command.measure.more_changes", n=len(answers) - SHOWN), indent="  ")


def _change(one: ChangedFinding, unit: Unit) -> str:
    was, now = (finding.status if finding else Status.PASS for finding in (one.old, one.new))
    told = told_text(one.shown, unit)
    return words("command.measure.change", unit, was=was, now=now, code=one.shown.code, what=told)
