"""R6xx: number of rivets on each side of the cut, by the circular's tables."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from hatchwright.errors import TableError
from hatchwright.finding import Finding, Grade, Quantity, Source, Status, Working
from hatchwright.job.job import Job
from hatchwright.layout.layout import Hole, Layout
from hatchwright.layout.survey import Survey
from hatchwright.rules.rule import rule
from hatchwright.tables.cited import Cited
from hatchwright.tables.rivets import parse_rivet
from hatchwright.tables.rivets_per_inch import lap_note, rivets_per_inch, table_conflict, tables_for


@dataclass(frozen=True, slots=True)
class CutSide:
    """One side of the cut and the rivets beyond it.

    Args:
        name: the side, by the axis and the way it lies, such as "X+".
        cut_in: width of the metal cut away, square to the load [in].
        rivets: the rivets that lie beyond the opening's edge on that side.
    """

    name: str
    cut_in: float
    rivets: tuple[Hole, ...]


def sides_of_cut(layout: Layout) -> tuple[CutSide, ...]:
    """The four sides of the opening with the rivets beyond each.

    A load along X is carried round the opening by the rivets beyond its X edges, over the cut along Y; and the other
    way round. A rivet beyond a corner counts for both.

    Args:
        layout: with rivets.
    Returns:
        tuple: X+, X-, Y+ and Y-.
    """
    x_min, y_min, x_max, y_max = layout.wanted.bounds
    rivets = layout.holes_of("rivet")
    width_in, height_in = x_max - x_min, y_max - y_min
    return (
        CutSide("X+", height_in, tuple(hole for hole in rivets if hole.x_in > x_max)),
        CutSide("X-", height_in, tuple(hole for hole in rivets if hole.x_in < x_min)),
        CutSide("Y+", width_in, tuple(hole for hole in rivets if hole.y_in > y_max)),
        CutSide("Y-", width_in, tuple(hole for hole in rivets if hole.y_in < y_min)),
    )


@dataclass(frozen=True, slots=True)
class _Reading:
    name: str
    per_inch: Cited
    note: Cited | None

    def needed(self, cut_in: float) -> int:
        """Rivets for a cut, rounded up [-]."""
        share = self.note.value if self.note else 1.0
        return math.ceil(cut_in * self.per_inch.value * share - 1e-9)

    def working(self, cut_in: float) -> Working:
        values = [Quantity("cut", cut_in, "in"), Quantity("n", self.per_inch.value, "per in")]
        if self.note:
            values.append(Quantity("note c", self.note.value, ""))
        return Working(
            f"{self.name}: cut x n{' x note c' if self.note else ''}, rounded up",
            tuple(values),
            Quantity("rivets", self.needed(cut_in), ""),
            self.per_inch.source,
            self.per_inch.grade,
        )


def _readings(job: Job, diameter_in: float) -> list[_Reading]:
    """Every reading of the circular for the skin, the default first."""
    skin = job.skin
    found = []
    for table in tables_for(skin.alloy, skin.temper, skin.clad):
        per_inch = rivets_per_inch(table, thickness_in=skin.thickness.inch, diameter_in=diameter_in)
        found += [
            _Reading(f"table {table}, no reduction", per_inch, None),
            _Reading(f"table {table}, note c", per_inch, lap_note(table)),
        ]
    if not found:
        raise TableError(f"the circular has no table for {skin.alloy}-{skin.temper}")
    return found


@dataclass(frozen=True, slots=True)
class NeededSide:
    """What one side of the cut asks for: its name, cut [in], number of rivets and the reading that gives it."""

    name: str
    cut_in: float
    needed: int
    reading: str


def needed_each_side(layout: Layout) -> tuple[NeededSide, ...]:
    """How many rivets each side asks for, by the chosen reading or the default.

    Args:
        layout: with rivets.
    Returns:
        tuple: X+, X-, Y+ and Y-; empty when the circular gives no number.
    """
    rivets = layout.holes_of("rivet")
    if not rivets:
        return ()
    try:
        readings = _readings(layout.job, min(hole.diameter_in for hole in rivets))
    except TableError:
        return ()
    choice = layout.job.choice("R601")
    judged = next((r for r in readings if choice and r.name == choice.reading), readings[0])
    return tuple(
        NeededSide(side.name, side.cut_in, judged.needed(side.cut_in), judged.name)
        for side in sides_of_cut(layout)
    )


def _cannot_tell(subject: str, advice: str) -> Finding:
    return Finding(
        code="R601",
        status=Status.UNKNOWN,
        subject=subject,
        value=None,
        limit=None,
        unit="rivets",
        source=Source("AC43.13-1B", "tables 4-9 to 4-11"),
        grade=Grade.PUBLISHED,
        advice=advice,
    )


@rule("R601", "Rivets on each side of the cut")
def rivets_each_side(survey: Survey) -> Iterator[Finding]:
    """Each side of the cut holds the rivets per inch that the circular's tables give for the skin. Clad 2024-T3 stands
    in two tables that differ, and note c allows three quarters for a lap of sheets; the first table without reduction
    is the default, the other readings stand beside it, and the user's choice is kept with its reason."""
    layout = survey.layout
    rivets = layout.holes_of("rivet")
    if not rivets or layout.part("doubler") is None:
        return
    try:
        readings = _readings(layout.job, min(hole.diameter_in for hole in rivets))
    except TableError as error:
        yield _cannot_tell(error.what, "No number of rivets can be given; ask the holder of the data.")
        return
    choice = layout.job.choice("R601")
    chosen = next((reading for reading in readings if choice and reading.name == choice.reading), None)
    if choice and not chosen:
        names = "; ".join(reading.name for reading in readings)
        yield _cannot_tell(f"'{choice.reading}' is not one of the readings", f"Choose one of: {names}.")
    is_flush = any(parse_rivet(hole.fastener).is_flush for hole in rivets)
    for side in sides_of_cut(layout):
        found = _side(side, readings, chosen, choice.reason if choice else "", _conflict(layout.job))
        yield _for_flush(found) if is_flush else found


def _for_flush(found: Finding) -> Finding:
    """The tables are headed for protruding heads; with flush ones their number is a least, and nothing passes by it."""
    status = Status.STOP if found.status is Status.STOP else Status.UNKNOWN
    advice = (
        f"The tables are for protruding heads only; flush rivets carry less, so ask for data. {found.advice}"
    )
    return replace(found, status=status, advice=advice.strip())


def _conflict(job: Job) -> str:
    return table_conflict(job.skin.alloy, job.skin.temper, job.skin.clad)


def _side(
    side: CutSide, readings: list[_Reading], chosen: _Reading | None, reason: str, conflict: str
) -> Finding:
    judged = chosen or readings[0]
    has, needed = len(side.rivets), judged.needed(side.cut_in)
    status = _status(has, [reading.needed(side.cut_in) for reading in readings], needed if chosen else None)
    return Finding(
        code="R601",
        status=status,
        subject=f"side {side.name}, cut {side.cut_in:.3f} in: {has} rivets, {needed} by {judged.name}",
        value=float(has),
        limit=float(needed),
        unit="rivets",
        source=judged.per_inch.source,
        grade=judged.per_inch.grade,
        working=tuple(reading.working(side.cut_in) for reading in readings),
        advice=_advice(status, has, needed, judged, reason if chosen else "", conflict),
        holes=tuple(hole.number for hole in side.rivets) if status is not Status.PASS else (),
        shortfall=float(max(0, needed - has)),
    )


def _status(has: int, all_needed: list[int], chosen: int | None) -> Status:
    """With a choice it decides; without one, readings that differ in their answer leave it open."""
    if chosen is not None:
        return Status.PASS if has >= chosen else Status.STOP
    if has >= max(all_needed):
        return Status.PASS
    return Status.STOP if has < min(all_needed) else Status.UNKNOWN


def _advice(status: Status, has: int, needed: int, judged: _Reading, reason: str, conflict: str) -> str:
    if status is Status.PASS:
        return f"Chosen: {judged.name}. {reason}" if reason else ""
    if status is Status.UNKNOWN:
        return (
            f"The readings differ in their answer. {conflict} Add rivets, or choose a reading and give your reason; a "
            "question for the holder of the data."
        )
    return f"{needed - has} more on this side: closer pitch, a further row, or larger rivets."
