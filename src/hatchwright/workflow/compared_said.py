"""A job as it is beside the same with its readings, in words, for the command and the page alike."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.documents.beside_tables import beside_tables
from hatchwright.documents.made_table import MadeTable
from hatchwright.judged import Status
from hatchwright.said import said
from hatchwright.words.findings import told_text
from hatchwright.words.tell import tell
from hatchwright.workflow.compared import Compared


def changes_said(both: Compared) -> str:
    """How many answers and numbers are others with the readings."""
    answers = sum(one.is_of_status for one in both.changes)
    return tell(said("measure.changes", n=answers, numbers=len(both.numbers)))


def answers_said(both: Compared) -> Iterator[str]:
    """Each answer that appears, goes or changes, the gravest first."""
    unit = both.before.job.unit
    for one in both.changes:
        if one.is_of_status:
            was, now = (finding.status if finding else Status.PASS for finding in (one.old, one.new))
            told = told_text(one.shown, unit)
            yield tell(said("measure.change", was=was, now=now, code=one.shown.code, what=told), unit)


def number_tables(both: Compared) -> tuple[MadeTable, ...]:
    """Every number that is another with the readings, a table for each kind."""
    states = said("measure.heading.drawn"), said("measure.heading.made")
    return tuple(
        beside_tables(both.before.job, both.numbers, states, lambda group: said(f"measure.group.{group}"))
    )
