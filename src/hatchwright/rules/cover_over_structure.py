"""R814: a cover that lies over internal structure."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.finding import Finding
from hatchwright.job.bay import LandmarkRow
from hatchwright.judged import Status, judge_at_most
from hatchwright.layout.gaps import gap_to_row
from hatchwright.layout.layout import Hole
from hatchwright.layout.survey import Survey
from hatchwright.register import Shelf
from hatchwright.rules.answer import against
from hatchwright.rules.cover import screwed_cover
from hatchwright.rules.rule import rule
from hatchwright.rules.scope import MEMBERS
from hatchwright.rules.wording import holes_named, over_text
from hatchwright.tables.cited import Cited
from hatchwright.tables.instructions import instruction
from hatchwright.workings import Grade, Quantity, Source

_ON_THE_ROW = Cited(1.0, "D", Source("PRACTICE", "screws on a member's row"), Grade.PRACTICE)


@rule(
    "R814",
    Shelf.HOLDS,
    rests_on=(instruction("door_over_structure"), _ON_THE_ROW),
    reads=("bay",),
    marks_holes=True,
)
def cover_over_structure(survey: Survey) -> Iterator[Finding]:
    """R814: cover over structure."""
    found = screwed_cover(survey)
    if found is None:
        return
    for row in survey.layout.job.bay.rows:
        if row.member not in MEMBERS or gap_to_row(found.part.edges[0].loop, row)[0] > 0.0:
            continue
        asked = instruction("door_over_structure")
        off_in = {hole: _off(row, hole) for hole in found.holes}
        nearest = min(off_in, key=lambda hole: off_in[hole])
        most_in = _ON_THE_ROW.value * nearest.diameter_in
        status = judge_at_most(off_in[nearest], most_in, over=Status.CAUTION)
        yield against(
            "R814",
            status,
            f"the cover lies over {row.name}: {holes_named(nearest)} to its row",
            value=off_in[nearest],
            limit=most_in,
            unit="in",
            cited=_ON_THE_ROW,
            formula=f"off <= {_ON_THE_ROW.value:g} D",
            values=(Quantity("D", nearest.diameter_in, "in"), Quantity("off", off_in[nearest], "in")),
            advice=""
            if status is Status.PASS
            else f"{over_text(off_in[nearest] - most_in)} {asked.text[:1].upper()}{asked.text[1:]} "
            f"[{asked.source}; {asked.grade}].",
            holes=(nearest.number,),
            place=(nearest.x_in, nearest.y_in),
            shortfall=off_in[nearest] - most_in,
        )


def _off(row: LandmarkRow, hole: Hole) -> float:
    """How far a screw stands off the line of a row [in]."""
    if row.x is not None:
        return abs(hole.x_in - row.x.inch)
    assert row.y is not None  # a row gives x or y
    return abs(hole.y_in - row.y.inch)
