"""What records and fleet file tell of a job at the moment when its papers are made."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from hatchwright.documents.recorded import Recorded
from hatchwright.errors import RecordError
from hatchwright.workflow.examine import Examination
from hatchwright.workflow.hold_points import hold_state
from hatchwright.workflow.job_folder import WholeJob
from hatchwright.workflow.record import store_of
from hatchwright.workflow.record_facts import recorded_of
from hatchwright.workflow.revision import revision_in
from hatchwright.workflow.sign import looked_at


def recorded_now(examination: Examination, folder: Path, name: str, *, on: date) -> Recorded:
    """Gather it; looking makes no store, and where there is none the papers bear no head and every hold is open.

    Args:
        folder: of the job, its fleet files and its records.
        name: of the job file.
        on: day for which the next due is told.
    Raises:
        RecordError: there are records and they can't be read: then no paper is printed without their head.
    """
    job, store = examination.job, store_of(folder)
    if store is None:
        return recorded_of(folder, name, job, None, on=on)
    whole = WholeJob(name, (folder / name).read_bytes(), ())
    state = hold_state(store, looked_at(revision_in(folder, whole), examination).plan)
    return recorded_of(folder, name, job, state, on=on, head=store.head())


def recorded_mark(folder: Path, name: str) -> str:
    """A few letters that change with what the records say of a job; what they say of others changes no paper of it."""
    try:
        store = store_of(folder)
        return "" if store is None else str(store.newest_seq(name))
    except RecordError:
        return "unread"
