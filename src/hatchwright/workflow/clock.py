"""The way out where a record bears a time that has not come yet: somebody signs that the clock was wrong then."""

from __future__ import annotations

from datetime import datetime

from hatchwright.errors import RecordError
from hatchwright.records.entry import CLOCK_WAS, Entered
from hatchwright.records.kinds import Kind
from hatchwright.records.manifest import utc
from hatchwright.records.store import Store
from hatchwright.said import Said, said
from hatchwright.workflow.people import Signer


def clock_said(store: Store, now: datetime) -> Said:
    """What is signed for: the time from which it goes on, and that of the newest record.

    Raises:
        RecordError: the newest record is no later than the clock.
    """
    last = store.last()
    if last is None or last.at <= utc(now):
        raise RecordError.saying(
            "clock.not_ahead", where="--clock", now=utc(now), last=last.at if last else "-"
        )
    return said("clock.statement", now=utc(now), last=last.at, seq=last.seq)


def set_clock(store: Store, *, by: Signer, now: datetime) -> Entered:
    """Sign that the newest record bears a wrong time; what follows bears times from `now` on.

    Raises:
        RecordError: of `clock_said`, or the store refuses.
    """
    clock_said(store, now)
    last = store.last()
    was = last.at if last else ""
    return store.add(Kind.STORE, "", {CLOCK_WAS: was}, author=by.person.name, now=now, key=by.key)
