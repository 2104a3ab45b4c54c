"""R104: rows too far from an edge."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from hatchwright.finding import Finding
from hatchwright.judged import Judgement, Measure, Status, bound
from hatchwright.layout.survey import EdgeDistances, Survey
from hatchwright.register import Shelf
from hatchwright.remedy import ASK, Change
from hatchwright.rules.answer import held
from hatchwright.rules.rule import rule
from hatchwright.rules.wording import edge_named, numbered, part_named
from hatchwright.said import said


@rule(
    "R104",
    Shelf.KNOW,
    limits=("edge_max",),
    reads=("distinct_edges", "mount"),
    marks_holes=True,
    remedies=(Change.ROW_DISTANCE, Change.ROW_PLACE, Change.DOUBLER_SIZE, Change.OPENING_SIZE),
    needs_every_hole=True,
)
def longest_edge_distance(survey: Survey) -> Iterator[Finding]:
    """R104: edge distance, longest."""
    if survey.layout.job.mount:
        return
    most = survey.limit("edge_max")
    for every in survey.distinct_edges:
        row = every.of(np.array([hole.kind == "rivet" for hole in every.holes], dtype=bool))
        if not row.holes or row.edge.name == "doubler inner edge" or _is_clamped(every):
            continue
        i = int(np.argmin(row.distance_in))
        e = Measure("e", row.distance_in, row.uncertainty_in, per=("D", row.diameter_in, "in"))
        judged = Judgement(
            e, (bound(most, row.diameter_in, "D"),), at_least=False, fails_as=Status.CAUTION
        ).at(i)
        hole = row.holes[i]
        yield held(
            judged,
            said("R104.nearest", edge=edge_named(row.edge), part=part_named(row.part), hole=numbered(hole)),
            said("R104.lifts"),
            ASK,
            holes=(hole.number,),
            place=hole.place,
            cause=row.edge.name,
        )


def _is_clamped(row: EdgeDistances) -> bool:
    """Whether the screws of a cover hold the sheet down along the opening: that edge cannot lift."""
    return row.edge.name == "opening edge" and any(hole.kind == "screw" for hole in row.holes)
