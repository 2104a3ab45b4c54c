"""Which accomplishments count: those to the mandate's own data, and earlier ones only as far as its words credit them.

Source: "unless already accomplished" in stored texts of ADs 77-18-05, 70-25-09 and 91-13-08; from when an earlier one
counts is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date

from hatchwright.job.fleet.mandates import FleetMandate
from hatchwright.job.fleet.times import Applies, Done
from hatchwright.said import Said, said


def binds_from(mandate: FleetMandate, answer: Applies | None) -> date | None:
    """The day that its limits count from: the effective date, or that of actual notice where it is earlier."""
    days = [day for day in (mandate.effective, answer.notice if answer else None) if day is not None]
    return min(days, default=None)


def counts(mandate: FleetMandate, one: Done) -> bool:
    """Whether an accomplishment counts; see `why_not`."""
    return why_not(mandate, one) is None


def why_not(mandate: FleetMandate, one: Done) -> Said | None:
    """Why an accomplishment does not count, None where it does."""
    is_early = mandate.effective is not None and one.date < mandate.effective
    on = one.date.isoformat()
    if is_early and not mandate.unless_done:
        return said("due.note.no_credit", on=on)
    credited = (mandate.data_revision, *(mandate.credit if is_early else ()))
    if mandate.data_revision and (one.revision or is_early) and one.revision not in credited:
        id = "due.note.other_revision" if one.revision else "due.note.no_revision"
        return said(id, on=on, revision=one.revision, wanted=mandate.data_revision)
    return None


def notes_on(mandate: FleetMandate, done: Sequence[Done]) -> Iterator[Said]:
    """Why what was done does not count."""
    for one in done:
        if (why := why_not(mandate, one)) is not None:
            yield why
