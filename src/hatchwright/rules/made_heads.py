"""R421: shop heads as measured, held to what documents say of the rivet."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

import numpy as np

from hatchwright.errors import TableError
from hatchwright.finding import Finding
from hatchwright.job.hole_readings import MadeHead
from hatchwright.judged import Bound, Judgement, Measure, Status
from hatchwright.layout.layout import Hole
from hatchwright.layout.survey import Survey
from hatchwright.register import Shelf
from hatchwright.remedy import ASK
from hatchwright.rules.answer import held, stated, worse
from hatchwright.rules.rule import judged_by, rule
from hatchwright.rules.wording import numbered
from hatchwright.said import said
from hatchwright.tables.cited import Cited
from hatchwright.tables.driven_heads import DRIVEN_HEAD_RATIOS, DRIVEN_HEADS, DrivenHead, driven_head_limits
from hatchwright.tables.rivet_part import parse_rivet
from hatchwright.workings import Grade, Source

_HEADS = Cited(0.0, "in", Source("PRACTICE", "driven rivet heads"), Grade.PRACTICE)

_ENDS = ("head_min_in", "head_max_in", "height_min_in", "height_max_in")


@rule("R421", Shelf.HOLDS, reads=("holes",), marks_holes=True)
@judged_by(DRIVEN_HEADS, DRIVEN_HEAD_RATIOS, _HEADS)
def shop_heads(survey: Survey) -> Iterator[Finding]:
    """R421: shop heads as measured; a published limit stops, one seen only restated cautions."""
    made = survey.layout.job.as_made
    if made is None or not made.heads:
        return
    read = {head.number: head for head in made.heads}
    kinds: dict[str, list[Hole]] = defaultdict(list)
    for hole in survey.layout.holes_of("rivet"):
        if hole.number in read and hole.is_fitted:
            kinds[hole.fastener].append(hole)
    for name, holes in kinds.items():
        try:
            said_of = driven_head_limits(
                holes[0].diameter_in, letters=parse_rivet(name).letters, shop=survey.shop
            )
        except TableError:
            numbers = tuple(hole.number for hole in holes)
            subject = said("R421.not_listed", holes=numbered(*holes))
            yield stated(Status.UNKNOWN, subject, _HEADS, ASK, holes=numbers, cause=name)
            continue
        yield from _of_rivet(survey, holes, [read[hole.number] for hole in holes], said_of)


def _of_rivet(
    survey: Survey, holes: list[Hole], heads: list[MadeHead], said_of: tuple[DrivenHead, ...]
) -> Iterator[Finding]:
    """Each head that does not pass; of those that do the one that is least sure speaks for all."""
    made = survey.layout.job.as_made
    assert made is not None
    u_in = np.array([made.u_in(head) for head in heads])
    across = Measure("head", np.array([head.diameter.inch for head in heads]), u_in)
    high = Measure("height", np.array([head.height.inch for head in heads]), u_in)
    judged = [
        Judgement(
            across if end.startswith("head") else high,
            (Bound(limit_in, one.source, one.grade, one.document),),
            at_least=end.endswith("min_in"),
            fails_as=Status.STOP if one.grade is Grade.PUBLISHED else Status.CAUTION,
        )
        for one in said_of
        for end in _ENDS
        if (limit_in := getattr(one, end)) is not None
    ]
    ranks = np.array([one.ranks() for one in judged])
    margins = np.array([one.margins() for one in judged]) - u_in
    worst = ranks.max(axis=0)
    passing = np.flatnonzero(worst == 0)
    closest = {int(passing[np.argmin(margins.min(axis=0)[passing])])} if passing.size else set()
    for i in (*np.flatnonzero(worst).tolist(), *closest):
        told = worse(*sorted((one.at(i) for one in judged), key=lambda one: float(one.margins()[0])))
        advice = (said("R421.replace"), ASK) if told.status.holds_back else (said("R421.compare"),)
        subject = said("R421.head", hole=numbered(holes[i]), rivet=holes[i].fastener)
        yield held(told, subject, *advice, holes=(holes[i].number,), place=holes[i].place)
