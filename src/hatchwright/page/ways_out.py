"""The ways out of one deviation as the page shows them, and one of them entered into the job's text."""

from __future__ import annotations

import msgspec
from msgspec import Struct

from hatchwright.errors import JobError
from hatchwright.job.changed_text import changed_text
from hatchwright.job.file import read_job
from hatchwright.layout.lay_out import lay_out
from hatchwright.page.screen import Asked
from hatchwright.remedy import EntryChange, PartChange
from hatchwright.search.rescue import LEAVE, WayOut, deviations, rescue
from hatchwright.units import Unit
from hatchwright.verdict import Line
from hatchwright.words.tell import tell
from hatchwright.workflow.examine import examine_layout
from hatchwright.workflow.rescue import beside_said, effects_said

STEP = "way-out"
"""What the step of undo is called that enters one."""


class Changes(Struct, frozen=True):
    """What a way out enters, as the page sends it back."""

    entries: tuple[EntryChange, ...]
    parts: tuple[PartChange, ...]


class ShownWay(Struct, frozen=True):
    """One way out: its sentence, what it does, and what is sent to enter it."""

    told: str
    effects: tuple[str, ...]
    changes: str


class WaysOut(Struct, frozen=True):
    """Those of one line; `leave` is the last one, `beside` says what was not tried."""

    ways: tuple[ShownWay, ...]
    leave: str
    beside: tuple[str, ...]


class LineName(Struct, frozen=True):
    """By what a line is asked for: code and cause of its worst finding, and its first hole, 0 for none."""

    code: str
    cause: str
    hole: int


def line_name(line: Line) -> LineName:
    """What a line is asked for by."""
    return LineName(line.worst.code, line.worst.cause, line.holes[0] if line.holes else 0)


def ways_out(asked: Asked, name: LineName) -> WaysOut | None:
    """The ways out of one line of a job as it is shown; None where the job has no such line.

    Raises:
        JobError: the job is not sound.
    """
    layout = lay_out(asked.shown(), asked.shop)
    found = examine_layout(layout, with_strength=False)
    lines = [one for one in deviations(layout, found.verdict.open_lines) if line_name(one) == name]
    if not lines:
        return None
    (one,) = rescue(layout, found.judged, lines[:1])
    unit = layout.job.unit
    beside = tuple(tell(told, unit) for told in beside_said(one))
    return WaysOut(tuple(_shown(way, unit) for way in one.ways), tell(LEAVE, unit), beside)


def _shown(way: WayOut, unit: Unit) -> ShownWay:
    changes = Changes(way.remedy.entries, way.remedy.parts)
    effects = tuple(tell(one, unit) for one in effects_said(way.effects))
    return ShownWay(tell(way.remedy.told, unit), effects, msgspec.json.encode(changes).decode())


def with_way_out(text: str, changes: str, asked: Asked) -> str:
    """Enter a way out into a job's text.

    Args:
        changes: as `ShownWay` has them.
    Raises:
        JobError: they can't be read, or the job with them would not be sound; nothing is entered then.
    """
    try:
        read = msgspec.json.decode(changes, type=Changes)
    except (msgspec.MsgspecError, UnicodeError):
        raise JobError.about("way", "page.fault.no_way") from None
    new = changed_text(text, read.entries, read.parts)
    lay_out(read_job(new, folder=asked.folder, name=asked.name), asked.shop)
    return new
