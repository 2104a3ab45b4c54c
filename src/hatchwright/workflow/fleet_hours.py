"""Hours by step as they were noted: nothing is made up where nobody noted any."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from decimal import Decimal
from typing import get_args

from msgspec import Struct

from hatchwright.job.fleet.fleet import Fleet
from hatchwright.job.fleet.line import Line, WorkStep
from hatchwright.workflow.fleet_lines import FleetLine, fleet_lines

STEPS: tuple[WorkStep, ...] = get_args(WorkStep)
"""In the order of the work."""


class StepHours(Struct, frozen=True):
    """One step over all lines.

    Args:
        noted: lines that somebody noted hours for.
        total: of all of them [h].
        last: of the line that was noted last, all its notes of this step together, and what the next one is expected
            to take; None where nobody noted any [h].
        of: what that line is called, "" without.
        on: its last day.
        left: lines with no hours of this step that don't stand at a later one.
    """

    step: WorkStep
    noted: int
    total: Decimal
    last: Decimal | None
    of: str
    on: date | None
    left: int

    @property
    def ahead(self) -> Decimal | None:
        """What the lines that are left are expected to take, each as the last one did; None where nobody knows [h]."""
        return None if self.last is None else self.last * self.left


def hours_by_step(fleet: Fleet) -> tuple[StepHours, ...]:
    """What was noted of each step, and what that says of the next aircraft."""
    lines = fleet_lines(fleet)
    return tuple(_step(lines, step) for step in STEPS)


def _step(lines: Sequence[FleetLine], step: WorkStep) -> StepHours:
    noted = [one for one in lines if any(note.step == step for note in one.line.hours)]
    total = sum((_hours(one.line, step) for one in noted), Decimal(0))
    left = sum(one not in noted and not _is_past(one.line, step) for one in lines)
    if not noted:
        return StepHours(step, 0, total, None, "", None, left)
    last = max(enumerate(noted), key=lambda pair: (_last_day(pair[1].line, step), pair[0]))[1]
    return StepHours(
        step, len(noted), total, _hours(last.line, step), last.called, _last_day(last.line, step), left
    )


def _is_past(line: Line, step: WorkStep) -> bool:
    return line.step is not None and STEPS.index(line.step) > STEPS.index(step)


def _hours(line: Line, step: WorkStep) -> Decimal:
    return sum((note.hours for note in line.hours if note.step == step), Decimal(0))


def _last_day(line: Line, step: WorkStep) -> date:
    return max(note.date for note in line.hours if note.step == step)
