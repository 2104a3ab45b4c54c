"""R601: number of rivets on each side of the cut, by the circular's tables."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from hatchwright.errors import TableError
from hatchwright.finding import Finding, stated
from hatchwright.judged import FLOAT_NOISE, Status
from hatchwright.layout.count_reading import COUNT_RULE, CountReading
from hatchwright.layout.cut_side import CutSide, sides_of_cut
from hatchwright.layout.survey import Survey
from hatchwright.register import Shelf
from hatchwright.rules.answer import against
from hatchwright.rules.counted_rivets import count_workings
from hatchwright.rules.readings import Judged, Reading, by_readings, choose_at_least, reading
from hatchwright.rules.rule import rule
from hatchwright.rules.wording import is_flush
from hatchwright.tables.catalog import AC43_TABLE_4_9, AC43_TABLE_4_10, AC43_TABLE_4_11, AC43_TABLE_NOTES
from hatchwright.tables.cited import Cited
from hatchwright.tables.rivets_per_inch import lap_note, rivets_per_inch, tables_for
from hatchwright.workings import Grade, Quantity, Source

TABLE_READINGS = tuple(
    f"table {table}, {note}" for table in ("4-9", "4-10", "4-11") for note in ("no reduction", "note c")
)


@dataclass(frozen=True, slots=True)
class JudgedSide:
    """One side of the cut with the number of rivets that each reading asks for."""

    side: CutSide
    judged: Judged

    @property
    def needed(self) -> int:
        """Rivets asked for by the reading that is gone by [-]."""
        return int(self.judged.by.limit)


def judged_sides(survey: Survey) -> tuple[JudgedSide, ...]:
    """How many rivets each side asks for, by every reading, and whether it has them.

    Returns:
        tuple: X+, X-, Y+ and Y-; empty without rivets.
    Raises:
        TableError: the circular gives no number for the skin or the rivet.
    """
    rivets = survey.layout.holes_of("rivet")
    if not rivets:
        return ()
    asked = _asked(survey, min(hole.diameter_in for hole in rivets))

    def judged(side: CutSide) -> Judged:
        readings = [one.reading(side.cut_in) for one in asked]
        return choose_at_least(survey.layout.job, "R601", readings, len(side.rivets), differ=Status.UNKNOWN)

    return tuple(JudgedSide(side, judged(side)) for side in sides_of_cut(survey.layout))


@dataclass(frozen=True, slots=True)
class _Asked:
    """What one reading of the circular asks for an inch of cut."""

    name: str
    per_inch: Cited
    note: Cited | None

    def reading(self, cut_in: float) -> Reading:
        share = self.note.value if self.note else 1.0
        needed = math.ceil(cut_in * self.per_inch.value * share - FLOAT_NOISE)
        values = [Quantity("cut", cut_in, "in"), Quantity("n", self.per_inch.value, "per in")]
        if self.note:
            values.append(Quantity("note c", self.note.value, ""))
        return reading(
            self.name,
            needed,
            f"cut x n{' x note c' if self.note else ''}, rounded up",
            tuple(values),
            Quantity("rivets", needed, ""),
            self.per_inch.source,
            self.per_inch.grade,
        )


def _asked(survey: Survey, diameter_in: float) -> list[_Asked]:
    """Every reading of the circular for the skin, the default first."""
    skin = survey.layout.job.skin
    found = []
    for table in tables_for(skin.alloy, skin.temper, skin.clad):
        per_inch = rivets_per_inch(
            table, thickness_in=skin.thickness.inch, diameter_in=diameter_in, shop=survey.shop
        )
        found.append(_Asked(f"table {table}, no reduction", per_inch, None))
        found.append(_Asked(f"table {table}, note c", per_inch, lap_note(table)))
    if not found:
        raise TableError(
            f"the circular has no table for {skin.alloy}-{skin.temper}",
            where="tables 4-9 to 4-11",
            remedy="Ask the holder of the data",
        )
    return found


@rule(
    "R601",
    Shelf.HOLDS,
    readings=TABLE_READINGS,
    rests_on=(AC43_TABLE_4_9, AC43_TABLE_4_10, AC43_TABLE_4_11, AC43_TABLE_NOTES),
    reads=("holes", "parts", "skin"),
    marks_holes=True,
)
def rivets_each_side(survey: Survey) -> Iterator[Finding]:
    """R601: rivets on each side of the cut."""
    if survey.layout.part("doubler") is None:
        return
    try:
        sides = judged_sides(survey)
    except TableError as error:
        yield stated(
            code="R601",
            status=Status.UNKNOWN,
            subject=error.what,
            value=None,
            limit=None,
            unit="rivets",
            source=Source("AC43.13-1B", "tables 4-9 to 4-11"),
            grade=Grade.PUBLISHED,
            advice="No number of rivets can be given; ask the holder of the data.",
        )
        sides = ()
    if not sides:
        yield from (_bare(side) for side in sides_of_cut(survey.layout) if not side.rivets)
    flush = any(is_flush(hole) for hole in survey.layout.holes_of("rivet"))
    for found in sides:
        side, judged = found.side, found.judged
        has, short = len(side.rivets), found.needed - len(side.rivets)
        if flush and judged.status is Status.PASS:
            judged = replace(judged, status=Status.UNKNOWN)
        advice = (
            "Flush heads carry less than the tables' protruding ones: ask for data." if flush else "",
            f"{short} more on this side: closer pitch, a further row, or larger rivets." if short > 0 else "",
            _other_count(found) if short > 0 else "",
        )
        yield by_readings(
            "R601",
            f"side {side.name}, cut {side.cut_in:.3f} in: {has} rivets, {found.needed} by {judged.by.name}",
            judged,
            value=float(has),
            unit="rivets",
            more=count_workings(side),
            advice=" ".join(filter(None, advice)),
            holes=tuple(hole.number for hole in side.rivets) if judged.status is not Status.PASS else (),
            shortfall=float(short),
        )


def _other_count(found: JudgedSide) -> str:
    """Where only the stricter count falls short, what the other would give and how it is chosen."""
    side = found.side
    if side.reading is CountReading.HALF or len(side.half) < found.needed:
        return ""
    return (
        f"Only rivets ahead of the edge count here; the half has {len(side.half)}. "
        f"Choose that count under {COUNT_RULE} with a reason, or ask the design approval holder."
    )


def _bare(side: CutSide) -> Finding:
    """A side on which nothing holds the doubler, where no table gives a number."""
    return against(
        "R601",
        Status.STOP,
        f"side {side.name}, cut {side.cut_in:.3f} in: no rivet joins the doubler to the skin",
        value=0.0,
        limit=None,
        unit="rivets",
        cited=Cited(0.0, "rivets", Source("AC43.13-1B", "tables 4-9 to 4-11"), Grade.PUBLISHED),
        advice="Enter the rows of rivets on this side: without them the doubler carries nothing round the opening.",
    )
