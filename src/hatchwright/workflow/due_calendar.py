"""What is due as a calendar: last days, what has none, and what is due now."""

from __future__ import annotations

import hashlib
import os
from collections.abc import Iterable, Iterator
from datetime import date, datetime
from pathlib import Path

from hatchwright.airworthiness.due.line import DueLine
from hatchwright.documents.calendar_file import Event, calendar_bytes
from hatchwright.errors import JobError
from hatchwright.job.text_file import save_bytes
from hatchwright.said import Said, said
from hatchwright.words.tell import tell
from hatchwright.workflow.due import AircraftDue, FleetDue
from hatchwright.workflow.due_said import about_said, limits_said, state_said, title_said


def calendar_events(report: Iterable[FleetDue]) -> Iterator[Event]:
    """One event for each last day; what holds an aircraft back, and what has no day, stands on the day that was asked
    about, so that nothing is missing."""
    for fleet in report:
        for of in fleet.aircraft:
            for line in of.lines:
                if (line.state.is_open and line.limits is not None) or line.state.holds_back:
                    yield from _events(line, of, fleet.on)


def _events(line: DueLine, of: AircraftDue, on: date) -> Iterator[Event]:
    told = " ".join(map(_sentence, (*limits_said(line, on), *about_said(line, of.aircraft, on))))

    def event(kind: str, day: date, id: str) -> Event:
        words = said(id, state=state_said(line), registration=line.registration, title=title_said(line))
        return Event(_uid(line, kind), day, tell(words), told)

    if line.state.holds_back:
        yield event("now", on, "due.calendar.now")
        return
    if line.due_date is not None:
        yield event("day", line.due_date, "due.calendar.last_day")
    else:
        yield event("day", on, "due.calendar.no_day")
    if line.estimate is not None:
        yield event("estimate", line.estimate, "due.calendar.estimate")


def _sentence(what: Said) -> str:
    text = tell(what)
    return text if text.endswith((".", "!")) else f"{text}."


def _uid(line: DueLine, kind: str) -> str:
    """The same at every writing, whatever the dates have become."""
    part = (line.part.name, line.part.serial) if line.part else ()
    found = (line.found.date.isoformat(), line.found.what) if line.found else ()
    names = (line.registration, line.serial, line.mandate.number, line.action.paragraph, *part, *found, kind)
    return f"{hashlib.sha256(repr(names).encode()).hexdigest()[:32]}@hatchwright"


def calendar_of(report: Iterable[FleetDue], *, now: datetime) -> bytes:
    """The calendar file."""
    return calendar_bytes(calendar_events(report), now=now, name=tell(said("due.calendar.name")))


def write_calendar(report: Iterable[FleetDue], path: Path, *, now: datetime, overwrite: bool = False) -> None:
    """Write the calendar file.

    Raises:
        JobError: the file is there and may not be replaced, or its folder can't be written.
    """
    raw = calendar_of(report, now=now)
    if os.path.lexists(path) and not overwrite:
        raise JobError.about("file", "command.due.file_there", str(path))
    try:
        save_bytes(path, raw)
    except OSError as error:
        raise JobError.about("file", "job.unwritten", str(path), why=error.strerror or "") from None
