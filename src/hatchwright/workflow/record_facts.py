"""What is known of a job beside itself for its records: from the chain, and from the fleet file that names it."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from pathlib import Path

from hatchwright.documents.record_facts import NOBODY, NOT_DUE, Signing
from hatchwright.documents.recorded import Recorded as Recorded
from hatchwright.job.fleet.times import Done
from hatchwright.job.job import Job
from hatchwright.workflow.hold_points import HoldState
from hatchwright.workflow.in_fleet import in_fleet


def recorded_of(
    folder: Path,
    name: str,
    job: Job,
    state: HoldState | None,
    *,
    on: date,
    head: str = "",
    signing: Signing = NOBODY,
) -> Recorded:
    """Gather it.

    Args:
        folder: of the job and of the fleet files beside it.
        name: of the job file.
        state: of its holds and counts; None where there are no records.
        on: day for which the next due is told.
        head: of the chain.
    """
    found, sides = in_fleet(folder, name, job), state.sides if state else ()
    return Recorded(
        head=head,
        aircraft=found.aircraft if found else None,
        mandate=found.mandate if found else None,
        done=found.done if found and found.done and not _is_earlier(found.done, state) else None,
        next_due=found.next_due(on) if found else NOT_DUE,
        balance=found.balance() if found else "",
        signing=signing,
        entered=found.fleet.record_facts(found.aircraft) if found else {},
        plan=state.called if state else "",
        initials=tuple(one for side in sides for one in side.initials),
        counted=tuple(one for side in sides for one in side.counted),
    )


def _is_earlier(done: Done, state: HoldState | None) -> bool:
    """Whether what was done was done before this job's plan was signed, so that it was an earlier time than this one.

    A day is left for the difference between a local day and that of the records.
    """
    plan = state.signed_plan if state else None
    return bool(plan and done.date < datetime.fromisoformat(plan.at).date() - timedelta(days=1))
