"""R815: the size of the cover's screw holes as drilled."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from hatchwright.finding import Finding
from hatchwright.judged import Bound, Judgement, Measure, Status
from hatchwright.layout.layout import Hole
from hatchwright.layout.survey import Survey
from hatchwright.register import Shelf
from hatchwright.remedy import ASK
from hatchwright.rules.answer import held, stated
from hatchwright.rules.rule import rule
from hatchwright.rules.wording import numbered
from hatchwright.said import Said, said
from hatchwright.tables.cited import Cited
from hatchwright.tables.screws import SCREW_CLEARANCE_DRILLS, SCREW_SIZES, clearance_drills, screw_size
from hatchwright.workings import Grade, Source

CLOSE, LOOSE = "general close", "general loose"
"""The fits that a screw hole passes by, and that it stops beyond."""

_NOT_LISTED = Cited(0.0, "in", Source("PRACTICE", "clearance holes of screws"), Grade.PRACTICE)


@rule(
    "R815",
    Shelf.HOLDS,
    rests_on=(SCREW_CLEARANCE_DRILLS, SCREW_SIZES, _NOT_LISTED),
    reads=("holes",),
    marks_holes=True,
)
def screw_hole_size(survey: Survey) -> Iterator[Finding]:
    """R815: size of screw holes; each bad one speaks for itself, the largest good one for the others."""
    drilled = tuple(hole for hole in survey.layout.holes_of("screw") if hole.hole_in is not None)
    for thread in dict.fromkeys(hole.fastener for hole in drilled):
        yield from _of_thread(survey, thread, tuple(hole for hole in drilled if hole.fastener == thread))


def _of_thread(survey: Survey, thread: str, holes: tuple[Hole, ...]) -> Iterator[Finding]:
    screw, drills = screw_size(thread, survey.shop), clearance_drills(thread, survey.shop)
    if CLOSE not in drills or LOOSE not in drills:
        yield from (_not_listed(hole) for hole in holes)
        return
    close, loose = drills[CLOSE], drills[LOOSE]
    d = Measure(
        "d",
        np.array([hole.hole_in or 0.0 for hole in holes]),
        np.array([hole.uncertainty_in for hole in holes]),
    )
    major = Bound(screw.major_diameter_in, screw.source, screw.grade, "screw")
    judged = (
        Judgement(d, (Bound(loose.diameter_in, loose.source, loose.grade, "loose fit"),), at_least=False),
        Judgement(d, (major,), fails_as=Status.CAUTION),
        Judgement(
            d,
            (Bound(close.diameter_in, close.source, close.grade, "close fit"),),
            at_least=False,
            fails_as=Status.CAUTION,
        ),
    )
    advice: tuple[tuple[Said, ...], ...] = (
        (said("screw_hole.too_large", size=thread), ASK),
        (said("screw_hole.open_it"),),
        (said("screw_hole.looser_fit"),),
    )
    ranks = np.array([one.ranks() for one in judged])
    good = np.flatnonzero(ranks.max(axis=0) == 0)
    largest = {int(good[np.argmax(np.asarray(d.value)[good])])} if len(good) else set()
    for i in (*np.flatnonzero(ranks.max(axis=0)).tolist(), *largest):
        at = int(np.argmax(ranks[:, i] > 0)) if i not in largest else len(judged) - 1
        hole = holes[i]
        yield held(
            judged[at].at(i),
            said("screw_hole.one", screw=numbered(hole), size=thread),
            *advice[at],
            holes=(hole.number,),
            place=hole.place,
        )


def _not_listed(hole: Hole) -> Finding:
    return stated(
        Status.UNKNOWN,
        said("screw_hole.one", screw=numbered(hole), size=hole.fastener),
        _NOT_LISTED,
        said("screw_hole.no_drills", size=hole.fastener),
        value=hole.hole_in,
        unit="in",
        uncertainty=hole.uncertainty_in,
        holes=(hole.number,),
        place=hole.place,
    )
