"""Hold points of a job, and the count in and out: which there are, and which are open given what was initialed.

Common practice, no source; the hidden area with controls behind it is looked at by two: Canadian Standard 571.10(d).
Final inspection and release: [14CFR43], 43.5.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Literal

from msgspec import Struct

from hatchwright.layout.layout import Layout
from hatchwright.said import Listed, Said, said

HoldName = Literal[
    "data", "pilot", "opening", "inspection", "doubler", "fasteners", "hidden", "final", "release"
]
HOLDS: tuple[HoldName, ...] = (
    "data", "pilot", "opening", "inspection", "doubler", "fasteners", "hidden", "final", "release",
)  # fmt: skip
"""In the order of the work."""

_BY_INSPECTOR: frozenset[HoldName] = frozenset({"final"})
"""Passed by who may approve the work for return to service. Source: [14CFR65], 65.95(a)(1), seen only restated."""


class Hold(Struct, frozen=True):
    """A place where work stops until somebody has looked and initialed.

    Args:
        by_inspector: whether an inspector has to pass it.
        people: how many different people have to [-].
    """

    name: HoldName
    by_inspector: bool = False
    people: int = 1


class Initials(Struct, frozen=True):
    """Somebody passed a hold point.

    Args:
        side: of the aircraft that was looked at.
        by: name of the person, as the records name it.
        is_inspector: whether that person was an inspector then.
        revision: what was looked at, by the revision of the job or the mark of its plan.
        at: when, as the records tell it.
        letters: the initials themselves.
    """

    hold: str
    side: str
    by: str
    is_inspector: bool
    revision: str
    at: str = ""
    letters: str = ""


class Counted(Struct, frozen=True):
    """One thing that was counted.

    Args:
        side: of the aircraft that it was counted for.
        went_in, came_out: how many; None while nobody has counted them [-].
    """

    item: str
    side: str
    went_in: int | None
    came_out: int | None = None


class Open(Struct, frozen=True):
    """A hold or a count that is open, and why."""

    name: str
    why: Said


def holds_of(layout: Layout) -> tuple[Hold, ...]:
    """The hold points of one side of a job, in the order of the work; a question left open counts as yes."""
    job = layout.job
    lacks: set[HoldName] = set()
    if job.mandate.kind == "owner":
        lacks.add("inspection")
    if len(layout.parts) < 2:
        lacks.add("doubler")
    if not layout.holes:
        lacks.add("fasteners")
    by_two = job.gate.fuel_or_controls_behind is not False or job.gate.movable_surface is not False
    return tuple(
        Hold(name, name in _BY_INSPECTOR, 2 if name == "hidden" and by_two else 1)
        for name in HOLDS
        if name not in lacks
    )


def open_holds(holds: Sequence[Hold], initials: Iterable[Initials], *, revision: str) -> tuple[Open, ...]:
    """The hold points that are open, in the order of the work, each with the reason.

    Args:
        revision: of the job now, or the mark of its plan; initials for another one hold nothing closed.
    """
    given = tuple(initials)
    return tuple(Open(one.name, why) for one in holds if (why := _why_open(one, given, revision)))


def _why_open(hold: Hold, given: Iterable[Initials], revision: str) -> Said | None:
    own = [one for one in given if one.hold == hold.name]
    current = [one for one in own if one.revision == revision]
    called = said(f"forms.hold.{hold.name}")
    if not current:
        if own:
            return said("record.hold.revised", hold=called, was=own[-1].revision, now=revision)
        return said("record.hold.open", hold=called)
    people = tuple(dict.fromkeys(one.by for one in current))
    if hold.by_inspector and not any(one.is_inspector for one in current):
        return said("record.hold.no_inspector", hold=called, by=Listed(people))
    if len(people) < hold.people:
        return said("record.hold.second", hold=called, by=Listed(people))
    return None


def before(name: str, holds: Sequence[Hold], initials: Iterable[Initials], *, revision: str) -> Open | None:
    """The first hold point before another that is still open, None where that one may be passed now."""
    names = [one.name for one in holds]
    earlier = holds[: names.index(name)] if name in names else holds
    return next(iter(open_holds(earlier, initials, revision=revision)), None)


def open_counts(counted: Iterable[Counted]) -> tuple[Open, ...]:
    """What is open of the count: nothing counted at all, something not counted, or not as much out as went in."""
    lines = tuple(counted)
    if not lines:
        return (Open("count", said("record.count.none")),)
    return tuple(Open(one.item, why) for one in lines for why in _why_uneven(one))


def _why_uneven(one: Counted) -> Iterator[Said]:
    if one.went_in is None:
        yield said("record.count.not_in", item=one.item)
    elif one.came_out is None:
        yield said("record.count.not_out", item=one.item, n=one.went_in)
    elif one.came_out < one.went_in:
        yield said("record.count.lost", item=one.item, n=one.went_in, out=one.came_out)
    elif one.came_out > one.went_in:
        yield said("record.count.more", item=one.item, n=one.went_in, out=one.came_out)
