"""R205: new holes beside fasteners that are there already."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import numpy.typing as npt

from hatchwright.finding import Finding
from hatchwright.judged import Judgement, Measure, Status, bound
from hatchwright.layout.layout import Hole
from hatchwright.layout.survey import Survey
from hatchwright.register import Shelf
from hatchwright.remedy import ASK, Change
from hatchwright.rules.answer import held, stated
from hatchwright.rules.rule import rule
from hatchwright.rules.wording import numbered
from hatchwright.said import Said, said
from hatchwright.tables.cited import Cited
from hatchwright.tables.rivets import rivet_diameters

Array = npt.NDArray[np.float64]


@rule(
    "R205",
    Shelf.HOLDS,
    limits=("new_to_existing_spacing",),
    reads=("bay", "holes"),
    marks_holes=True,
    remedies=(Change.ROW_DISTANCE, Change.ROW_PLACE, Change.ROW_PITCH, Change.DOUBLER_SIZE),
)
def spacing_to_existing(survey: Survey) -> Iterator[Finding]:
    """R205: spacing to existing fasteners; one finding for each row, one for all that were entered singly."""
    holes, bay, least = survey.layout.holes, survey.layout.job.bay, survey.limit("new_to_existing_spacing")
    if not holes:
        return
    points = survey.points
    for row in bay.rows:
        if row.diameter:
            apart = np.abs(points[:, row.axis] - row.at_in)
            diameters_in = np.full(len(holes), row.diameter.inch)
            named = [said("existing.row", row=row.name)] * len(holes)
            yield _closest(holes, apart, diameters_in, named, least)
    if bay.existing:
        there = np.array([(one.at[0].inch, one.at[1].inch) for one in bay.existing])
        sizes_in = np.array([one.diameter.inch for one in bay.existing])
        apart, nearest = _nearest(holes, points, there, sizes_in, least.value)
        named = [said("existing.fastener", number=k + 1) for k in nearest.tolist()]
        yield _closest(holes, apart, sizes_in[nearest], named, least)
    yield from _rows_of_unknown_size(survey, points, least)


def _nearest(
    holes: tuple[Hole, ...], points: Array, there: Array, sizes_in: Array, times: float
) -> tuple[Array, npt.NDArray[np.intp]]:
    """Of each new hole its distance to the old fastener that leaves it the least room, and which one that is."""
    apart = np.hypot(points[:, None, 0] - there[None, :, 0], points[:, None, 1] - there[None, :, 1])
    ours_in = np.array([hole.diameter_in for hole in holes])
    room = apart - times * np.maximum(ours_in[:, None], sizes_in[None, :])
    nearest = np.argmin(room, axis=1)
    return apart[np.arange(len(holes)), nearest], nearest


def _closest(
    holes: tuple[Hole, ...], apart: Array, sizes_in: Array, named: list[Said], least: Cited
) -> Finding:
    """The worst new hole beside some old fasteners, which speaks for all that do not pass."""
    larger_in = np.maximum([hole.diameter_in for hole in holes], sizes_in)
    p = Measure("p", apart, np.array([hole.uncertainty_in for hole in holes]), per=("D", larger_in, "in"))
    every = Judgement(p, (bound(least, larger_in, "D"),))
    i = every.worst()
    hole, judged, short = holes[i], every.at(i), [i]
    if judged.status is not Status.PASS:
        ranks, margins_in = every.ranks(), every.margins()
        short = sorted(np.flatnonzero(ranks).tolist(), key=lambda k: (k != i, -int(ranks[k]), margins_in[k]))
    subject = said(
        "R205.closest" if len(short) > 1 else "R205.one", hole=numbered(hole), there=named[i], n=len(short)
    )
    numbers = tuple(holes[k].number for k in short)
    return held(judged, subject, ASK, holes=numbers, place=hole.place)


def _rows_of_unknown_size(survey: Survey, points: Array, least: Cited) -> Iterator[Finding]:
    """Rows so near to a new hole that the largest of rivets would be too near, whose own diameter was not entered."""
    largest_in = least.value * rivet_diameters()[-1].value
    for index, row in enumerate(survey.layout.job.bay.rows):
        apart = np.abs(points[:, row.axis] - row.at_in)
        nearest = int(np.argmin(apart))
        if row.diameter is None and apart[nearest] < largest_in:
            hole = survey.layout.holes[nearest]
            yield stated(
                Status.UNKNOWN,
                said("R205.one", hole=numbered(hole), there=said("existing.row", row=row.name), n=1),
                least,
                said("existing.enter_diameter"),
                value=float(apart[nearest]),
                unit="in",
                holes=(hole.number,),
                place=hole.place,
                cause="diameter",
                enter=(f"bay.rows.{index}.diameter",),
            )
