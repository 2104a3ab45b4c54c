"""R209: holes that run into each other, or into a hole that is there already."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import numpy.typing as npt

from hatchwright.errors import TableError
from hatchwright.finding import Finding
from hatchwright.judged import Judgement, Measure, Status, bound, lengths
from hatchwright.layout.layout import Hole
from hatchwright.layout.survey import Survey
from hatchwright.register import Shelf
from hatchwright.remedy import ASK
from hatchwright.rules.answer import held, stated
from hatchwright.rules.rule import judged_by, rule
from hatchwright.rules.wording import numbered
from hatchwright.said import Said, said
from hatchwright.tables.cited import Cited
from hatchwright.tables.rivets import hole_drill
from hatchwright.tables.screws import clearance_drill
from hatchwright.tables.table import ShopTables
from hatchwright.workings import Grade, Source

Array = npt.NDArray[np.float64]

_PRACTICE = Cited(0.0, "in", Source("PRACTICE", "overlapping holes"), Grade.PRACTICE)


def usual_hole_in(diameter_in: float, shop: ShopTables | None) -> float:
    """The hole of a rivet by its usual final drill, its own diameter when none is listed [in]."""
    try:
        return hole_drill(diameter_in, shop=shop).diameter_in
    except TableError:
        return diameter_in


def _finished_in(hole: Hole, shop: ShopTables | None) -> float:
    """The same for any new fastener [in]."""
    if hole.kind == "rivet":
        return usual_hole_in(hole.diameter_in, shop)
    try:
        return clearance_drill(hole.fastener, shop=shop).diameter_in
    except TableError:
        return hole.diameter_in


@rule("R209", Shelf.HOLDS, reads=("bay", "holes", "near"), marks_holes=True)
@judged_by(_PRACTICE)
def overlapping_holes(survey: Survey) -> Iterator[Finding]:
    """R209: holes that run into each other."""
    holes = survey.layout.holes
    if not holes:
        return
    drilled = {
        fastener: _finished_in(hole, survey.shop)
        for fastener, hole in {hole.fastener: hole for hole in holes}.items()
    }
    finished_in = {hole.number: hole.hole_in or drilled[hole.fastener] for hole in holes}
    found = [*_new_to_new(survey, finished_in), *_new_to_old(survey, finished_in)]
    yield from found
    if not found:
        subject = said("R209.none", n=len(holes))
        yield stated(Status.PASS, subject, _PRACTICE)


def _new_to_new(survey: Survey, finished_in: dict[int, float]) -> Iterator[Finding]:
    near = survey.near
    if not near:
        return
    judged = _metal(
        np.array([pair.distance_in for pair in near]),
        np.array([finished_in[pair.first.number] for pair in near]),
        np.array([finished_in[pair.second.number] for pair in near]),
        np.array([pair.uncertainty_in for pair in near]),
    )
    for i in np.flatnonzero(judged.ranks()).tolist():
        pair = near[i]
        yield _overlap(
            judged.at(i),
            said("R209.pair", holes=numbered(pair.first, pair.second)),
            (pair.first.number, pair.second.number),
            pair.middle,
        )


def _new_to_old(survey: Survey, finished_in: dict[int, float]) -> Iterator[Finding]:
    """New holes and fasteners that were entered singly, then rows, whose rivets may stand anywhere on their line."""
    holes, bay = survey.layout.holes, survey.layout.job.bay
    points = survey.points
    ours_in = np.array([finished_in[hole.number] for hole in holes])
    u_in = np.array([hole.uncertainty_in for hole in holes])
    old = [
        (
            said("existing.fastener", number=k),
            np.hypot(points[:, 0] - one.at[0].inch, points[:, 1] - one.at[1].inch),
            one.diameter.inch,
            Status.STOP,
        )
        for k, one in enumerate(bay.fasteners, start=1)
    ]
    for row in bay.rows:
        if row.diameter:
            apart = np.abs(points[:, row.axis] - row.at_in)
            old.append((said("existing.row", row=row.name), apart, row.diameter.inch, Status.UNKNOWN))
    for there, apart, diameter_in, fails_as in old:
        old_in = usual_hole_in(diameter_in, survey.shop)
        if np.all(apart - ours_in / 2.0 - u_in > old_in):
            continue  # not even near, as most of a bay's fasteners are
        theirs_in = np.full(len(holes), old_in)
        judged = _metal(apart, ours_in, theirs_in, u_in, fails_as=fails_as)
        for i in np.flatnonzero(judged.ranks()).tolist():
            hole = holes[i]
            subject = said("R209.into_old", hole=numbered(hole), there=there)
            yield _overlap(judged.at(i), subject, (hole.number,), hole.place)


def _metal(
    apart_in: Array, first_in: Array, second_in: Array, u_in: Array, *, fails_as: Status = Status.STOP
) -> Judgement:
    metal = Measure(
        "metal",
        apart_in - (first_in + second_in) / 2.0,
        u_in,
        with_=lengths(distance=apart_in, first_hole=first_in, second_hole=second_in),
    )
    return Judgement(metal, (bound(_PRACTICE),), strict=True, fails_as=fails_as)


def _overlap(judged: Judgement, subject: Said, holes: tuple[int, ...], place: tuple[float, float]) -> Finding:
    advice = (said("R209.leave_it"), ASK)
    return held(judged, subject, *advice, holes=holes, place=place)
