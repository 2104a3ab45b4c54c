"""The tables of a survey's drawing: what to tape to the center, and what lies behind with how deep a drill may go."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.drawings.table import Table
from hatchwright.ground import practice
from hatchwright.job.job import Job
from hatchwright.job.site import SiteHazard
from hatchwright.layout.behind_skin import BEFORE_IN, kept_from
from hatchwright.layout.site.center import Center, Tape
from hatchwright.layout.site.hazards import as_keep_out
from hatchwright.layout.site.thickness import skin_in
from hatchwright.said import Value, inch, missing, room, said
from hatchwright.units import Unit
from hatchwright.words.tell import tell

_TAPE_HEADS = ("from", "expected", "u", "taped", "off")
_HAZARD_HEADS = ("number", "what", "seen", "depth", "drill", "moves", "photo")
_BEFORE = practice("drill stop")


def tapes_table(center: Center, unit: Unit) -> Iterator[Table]:
    """What a helper tapes to the marked center, with what was taped; none where there is no center."""
    if center.tapes:
        rows = [_tape(tape, unit) for tape in center.tapes]
        yield Table.told(said("site_view.tapes_title"), _heads(_TAPE_HEADS), rows, unit)


def hazards_table(job: Job) -> Iterator[Table]:
    """What was found behind the skin by its number on the drawing, with how deep a drill's point may go before it;
    none where nothing was found."""
    if job.site and job.site.hazards:
        rows = [_hazard(job, number, one) for number, one in enumerate(job.site.hazards, start=1)]
        yield Table.told(said("site_view.hazards"), _heads(_HAZARD_HEADS), rows, job.unit)


def _heads(names: tuple[str, ...]) -> list[str]:
    return [f"site_view.head.{name}" for name in names]


def _tape(tape: Tape, unit: Unit) -> tuple[str, ...]:
    off, taped = tape.off, tape.taped
    cells: tuple[Value, ...] = (
        said("site_view.corner", letter=tape.landmark) if tape.axis is None else tape.landmark,
        inch(tape.expected.value),
        missing(tape.expected.u),
        inch(taped.value) if taped else "",
        inch(off.value) if off else "",
    )
    return tuple(tell(cell, unit) for cell in cells)


def _hazard(job: Job, number: int, one: SiteHazard) -> tuple[str, ...]:
    cells: tuple[Value, ...] = (
        str(number),
        one.name,
        said(f"site_view.seen.{one.found_from}") if one.found_from else "",
        inch(one.depth.inch) if one.depth else "",
        _drill(job, one),
        "" if one.moves is None else said("site_paper.yes" if one.moves else "site_paper.no"),
        one.photo,
    )
    return tuple(tell(cell, job.unit) for cell in cells)


def _drill(job: Job, one: SiteHazard) -> Value:
    """How far from the outer face a drill's point may go at most, its u taken off; rounded down."""
    assert job.site is not None  # it has hazards
    skin = skin_in(job)
    there = as_keep_out(one, skin, job.unit)
    if there.depth is None:
        return said("site_view.no_depth")
    kept_in = kept_from(there, _BEFORE.bound(BEFORE_IN)).limit
    most_in = float(there.depth.inch - job.site.u_in(one.u) - kept_in)
    return room(most_in) if most_in > skin else said("site_view.no_drill")
