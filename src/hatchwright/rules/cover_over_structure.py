"""R814: a cover that lies over internal structure."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from hatchwright.finding import Finding
from hatchwright.judged import OFF, Judgement, Measure, Status, bound
from hatchwright.layout.gaps import gap_to_row
from hatchwright.layout.survey import Survey, points_of
from hatchwright.register import Shelf
from hatchwright.rules.answer import held
from hatchwright.rules.cover import screwed_cover
from hatchwright.rules.rule import rule
from hatchwright.rules.scope import MEMBERS
from hatchwright.rules.wording import numbered
from hatchwright.said import said
from hatchwright.tables.cited import Cited
from hatchwright.tables.instructions import instruction
from hatchwright.workings import Grade, Source

_ON_THE_ROW = Cited(1.0, "D", Source("PRACTICE", "screws on a member's row"), Grade.PRACTICE)


@rule(
    "R814",
    Shelf.HOLDS,
    rests_on=("door_over_structure", _ON_THE_ROW),
    reads=("bay", "cover", "holes", "parts"),
    marks_holes=True,
)
def cover_over_structure(survey: Survey) -> Iterator[Finding]:
    """R814: cover over structure; of each member's row the nearest screw speaks."""
    found = screwed_cover(survey)
    if found is None:
        return
    asked = instruction("door_over_structure")
    for row in survey.layout.job.bay.rows:
        if row.member not in MEMBERS or gap_to_row(found.part.edges[0].loop, row)[0] > 0.0:
            continue
        off_in = np.abs(points_of(found.holes)[:, row.axis] - row.at_in)
        nearest = found.holes[int(np.argmin(off_in))]
        judged = Judgement(
            Measure(OFF, float(off_in.min()), per=("D", nearest.diameter_in, "in")),
            (bound(_ON_THE_ROW, nearest.diameter_in, "D"),),
            at_least=False,
            fails_as=Status.CAUTION,
        )
        yield held(
            judged,
            said("cover_over.row", row=row.name, screw=numbered(nearest)),
            said("cover_over.screws_into_member", source=str(asked.source), grade=asked.grade),
            holes=() if judged.status is Status.PASS else (nearest.number,),
            place=(nearest.x_in, nearest.y_in),
            cause=row.name,
        )
