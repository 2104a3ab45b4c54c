"""The board of a fleet in words: each side of each aircraft with its verdict, where the work stands, and the hours."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from datetime import date

from msgspec import Struct

from hatchwright.errors import Fault, HatchwrightError
from hatchwright.job.fleet.fleet import Fleet
from hatchwright.job.fleet.pasted_aircraft import stock_rows
from hatchwright.page.due_sheet import DueSheet, due_sheet
from hatchwright.page.job_line import Head, JobLine
from hatchwright.said import said
from hatchwright.words.tell import tell
from hatchwright.workflow.fleet_folder import FleetFolder
from hatchwright.workflow.fleet_hours import STEPS, StepHours, hours_by_step
from hatchwright.workflow.fleet_lines import FleetLine, fleet_lines
from hatchwright.workflow.fleet_pattern import pattern_changes
from hatchwright.workflow.job_folder import JobFolder, version_of
from hatchwright.workflow.signed_jobs import signed_jobs


class BoardRow(Struct, frozen=True):
    """One side of one aircraft.

    Args:
        key: what tells it from others.
        job: file name, "" where it has none yet.
        is_first: whether it is the first row of its aircraft, and rows: how many that has.
        heads: the verdict of its job; empty where it is not there or still being checked.
        is_awaited: whether it is still being checked.
        points: how many points are open; worst: the first of them.
    """

    key: str
    registration: str
    serial: str
    side: str
    job: str
    is_first: bool
    rows: int
    heads: tuple[Head, ...]
    is_awaited: bool
    is_signed: bool
    points: int
    worst: str
    step: str
    step_word: str
    who: str
    waiting_for: str
    hours: str


class HoursRow(Struct, frozen=True):
    """Hours of one step, in words; "" where nobody noted any."""

    step: str
    noted: str
    total: str
    last: str
    ahead: str


class Board(Struct, frozen=True):
    """All that the page of a fleet shows.

    Args:
        counts: how many aircraft, sides and signed jobs, in words.
        lacking: lines that have no job yet.
        asking: jobs that the pattern changes, or is in conflict with.
        signed_asking: signed jobs of which it says otherwise.
        pattern_faults: why that can't be told.
        steps: that may be picked, each with its word.
        stock: what is on hand, as it may be pasted again.
        due: what is due on each aircraft.
    """

    title: str
    pattern: str
    version: str
    counts: str
    rows: tuple[BoardRow, ...]
    lacking: int
    asking: int
    signed_asking: int
    pattern_faults: tuple[Fault, ...]
    steps: tuple[tuple[str, str], ...]
    hours: tuple[HoursRow, ...]
    stock: str
    can_undo: bool
    awaited: int
    due: DueSheet


def board(
    fleets: FleetFolder, jobs: JobFolder, name: str, lines: Mapping[str, JobLine | None], on: date
) -> Board:
    """The board of a fleet.

    Args:
        lines: what is known of each of its jobs, None for what is still being checked.
        on: the day that what is due is told for.
    Raises:
        JobError: the fleet file is not sound.
        RecordError: the store can't be asked what is signed.
    """
    text = fleets.read(name)
    fleet = fleets.fleet(name)
    signed = signed_jobs(jobs.folder)
    rows = tuple(_row(one, lines, signed) for one in fleet_lines(fleet))
    asking, signed_asking, faults = 0, 0, tuple[Fault, ...]()
    try:
        found = pattern_changes(fleets, jobs, name, only_newer=True)
        asking, signed_asking = len(found.is_open), len(found.signed)
    except HatchwrightError as error:
        faults = error.as_faults("pattern")
    is_signed = sum(row.is_signed for row in rows)
    counts = said("page.fleet.counts", aircraft=len(fleet.aircraft), sides=len(rows), signed=is_signed)
    return Board(
        title=fleet.title,
        pattern=fleet.pattern or "",
        version=version_of(text),
        counts=tell(counts),
        rows=rows,
        lacking=sum(not row.job for row in rows),
        asking=asking,
        signed_asking=signed_asking,
        pattern_faults=faults,
        steps=tuple((step, step_word(step)) for step in STEPS),
        hours=tuple(map(_hours, hours_by_step(fleet))),
        stock=stock_rows(fleet.stock),
        can_undo=fleets.can_undo(name),
        awaited=sum(row.is_awaited for row in rows),
        due=due_sheet(fleet, on),
    )


def step_word(step: str) -> str:
    """A step of the work in words."""
    return tell(said(f"fleet.step.{step.replace(' ', '_')}")) if step else ""


def job_names(fleet: Fleet, jobs: JobFolder) -> tuple[str, ...]:
    """The jobs of a fleet that are there."""
    there = set(jobs.names())
    return tuple(line.job for _, line in fleet.lines if line.job in there)


def _row(one: FleetLine, lines: Mapping[str, JobLine | None], signed: Collection[str]) -> BoardRow:
    job = one.line.job if one.line.job in lines else ""
    known = lines.get(job or "")
    points = known.points if known else ()
    first = one.aircraft.lines[0]
    return BoardRow(
        key=one.key,
        registration=one.aircraft.registration,
        serial=one.aircraft.serial,
        side=tell(said(f"fleet.side.{one.line.side}")),
        job=job or "",
        is_first=one.line is first,
        rows=len(one.aircraft.lines),
        heads=known.heads if known else (),
        is_awaited=bool(job) and (known is None or known.lacks_strength),
        is_signed=one.line.job in signed,
        points=len(points) + (known.more if known else 0),
        worst=points[0][1] if points else "",
        step=one.line.step or "",
        step_word=step_word(one.line.step or ""),
        who=one.line.who,
        waiting_for=one.line.waiting_for,
        hours=_h(sum((note.hours for note in one.line.hours), start=0)) if one.line.hours else "",
    )


def _hours(one: StepHours) -> HoursRow:
    if one.last is None or one.on is None or one.ahead is None:
        return HoursRow(step_word(one.step), "", "", "", "")
    last = said("page.fleet.last", hours=_h(one.last), line=one.of, date=one.on.isoformat())
    ahead = said("page.fleet.ahead", each=_h(one.last), n=one.left, all=_h(one.ahead))
    return HoursRow(
        step_word(one.step), str(one.noted), _h(one.total), tell(last), tell(ahead) if one.left else ""
    )


def _h(hours: object) -> str:
    """Hours as they were typed, none rounded."""
    return f"{hours}"
