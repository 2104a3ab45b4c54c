"""What a job answers otherwise with what was put into it: answers line by line, numbers in tables, old beside new."""

from __future__ import annotations

from typing import TYPE_CHECKING

from hatchwright.cli.answer_table import put_table
from hatchwright.cli.frame import words
from hatchwright.cli.lines import put_text
from hatchwright.units import Unit
from hatchwright.words.tell import tell

if TYPE_CHECKING:
    from hatchwright.workflow.compared import Compared


def put_changes(both: Compared, unit: Unit, *, of: str) -> None:
    """Print why the job can't take it, or every answer and number that changes.

    Args:
        of: what the ids of the command's own sentences begin with.
    """
    from hatchwright.workflow.compared_said import answers_said, changes_said, number_tables

    for fault in both.faults:
        put_text(words(f"{of}.not_taken", fault=str(fault)))
    if both.after is None:
        return
    put_text(changes_said(both))
    for told in answers_said(both):
        put_text(told, indent="  ")
    for table in number_tables(both):
        put_table([tell(head, unit) for head in table.heads], table.rows, title=tell(table.title, unit))
