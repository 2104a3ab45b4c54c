"""R602: which rivets count on each side of the cut."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from hatchwright.finding import Finding, Quantity, Status
from hatchwright.layout.count_reading import COUNT_RULE, CountReading
from hatchwright.layout.cut_side import CutSide, sides_of_cut
from hatchwright.layout.survey import Survey
from hatchwright.rules.readings import Reading, by_readings, choose, reading
from hatchwright.rules.rule import rule


def count_readings_of(side: CutSide) -> tuple[Reading, ...]:
    """The number of rivets on a side by each reading.

    Args:
        side: of the cut.
    Returns:
        tuple: the default first.
    """
    return tuple(_count(side, one) for one in side.readings)


def _count(side: CutSide, one: CountReading) -> Reading:
    number = len(side.counted(one))
    line = "the middle of the opening" if one is CountReading.HALF else "the edge of the opening"
    return reading(
        one,
        number,
        f"rivets beyond {line}, load along {side.name[0]}",
        (Quantity("cut", side.cut_in, "in"),),
        Quantity("rivets", number, ""),
        one.basis.source,
        one.basis.grade,
    )


@rule(
    "R602",
    "Rivets that count on each side of the cut",
    readings=tuple(CountReading),
    rests_on=tuple(one.basis for one in CountReading),
)
def counted_rivets(survey: Survey) -> Iterator[Finding]:
    """A load is carried round the opening by the rivets of each half, beyond its middle. Where a straight edge lies
    across the load, within 45 degrees, the tables' rivets an inch are read as those ahead of that edge, and this
    stricter count is the default; the job may choose the half with a reason, which cautions. Where no straight edge
    lies across the load, as on a round opening or the end of an obround, there is no edge to be ahead of and all of the
    half counts. A rivet within .00001 in of the line counts for neither side. R601 and the strength of the rivets go by
    this count."""
    if survey.layout.part("doubler") is None:
        return
    for side in sides_of_cut(survey.layout):
        if side.half:
            yield _counted(survey, side)


def _counted(survey: Survey, side: CutSide) -> Finding:
    status = Status.CAUTION if side.is_relaxed else Status.PASS
    judged = choose(survey.layout.job, COUNT_RULE, count_readings_of(side), lambda _: status)
    found = by_readings(
        COUNT_RULE,
        f"side {side.name}: {len(side.rivets)} rivets count, {side.reading}; "
        f"{len(side.ahead)} lie ahead of the edge, {len(side.half)} in the half",
        judged,
        value=float(len(side.rivets)),
        unit="rivets",
        advice=_why(side),
    )
    return replace(found, limit=None)


def _why(side: CutSide) -> str:
    if side.is_relaxed:
        return "A straight edge lies across the load: rivets beside it carry less than those ahead of it."
    if side.reading is not side.readings[0]:
        return ""
    if side.has_straight_edge:
        return "A straight edge lies across the load, so only the rivets ahead of it count."
    return "No straight edge lies across the load, so all of the half counts."
