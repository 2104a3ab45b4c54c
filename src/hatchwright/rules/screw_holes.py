"""R815: the size of the cover's screw holes as drilled."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.finding import Finding
from hatchwright.judged import Status, judge_at_least, judge_at_most
from hatchwright.layout.layout import Hole
from hatchwright.layout.survey import Survey
from hatchwright.register import Shelf
from hatchwright.rules.answer import against
from hatchwright.rules.rule import rule
from hatchwright.rules.wording import holes_named, over_text, short_text
from hatchwright.tables.catalog import SCREW_CLEARANCE_DRILLS, SCREW_SIZES
from hatchwright.tables.cited import Cited
from hatchwright.tables.screws import clearance_drills, screw_size
from hatchwright.tables.table import ShopTables
from hatchwright.workings import Grade, Quantity, Source

CLOSE, LOOSE = "general close", "general loose"
"""The fits that a screw hole passes by, and that it stops beyond."""

_NOT_LISTED = Cited(0.0, "in", Source("PRACTICE", "clearance holes of screws"), Grade.PRACTICE)


@rule(
    "R815",
    Shelf.SETTLE,
    rests_on=(SCREW_CLEARANCE_DRILLS, SCREW_SIZES, _NOT_LISTED),
    reads=("holes",),
    marks_holes=True,
    step="cover",
)
def screw_hole_size(survey: Survey) -> Iterator[Finding]:
    """R815: size of screw holes."""
    good: list[Hole] = []
    for hole in survey.layout.holes_of("screw"):
        if hole.hole_in is None:
            continue
        found = _judged(hole, hole.hole_in, survey.shop)
        if found.status is Status.PASS:
            good.append(hole)
        else:
            yield found
    if good:
        largest = max(good, key=lambda hole: hole.hole_in or 0.0)
        yield _judged(largest, largest.hole_in or 0.0, survey.shop)


def _judged(hole: Hole, size_in: float, shop: ShopTables | None) -> Finding:
    screw, drills = screw_size(hole.fastener, shop), clearance_drills(hole.fastener, shop)
    if CLOSE not in drills or LOOSE not in drills:
        return _answer(
            hole,
            size_in,
            Status.UNKNOWN,
            None,
            _NOT_LISTED,
            f"No clearance drills are listed for {hole.fastener}: take its maker's, or enter them in the shop's own "
            "tables.",
        )
    close, loose, u_in = drills[CLOSE], drills[LOOSE], hole.uncertainty_in
    too_large = judge_at_most(size_in, loose.diameter_in, uncertainty=u_in)
    large = judge_at_most(size_in, close.diameter_in, uncertainty=u_in, over=Status.CAUTION)
    small = judge_at_least(size_in, screw.major_diameter_in, uncertainty=u_in, short=Status.CAUTION)
    by_close = Cited(close.diameter_in, "in", close.source, close.grade)
    if too_large is not Status.PASS:
        by_loose = Cited(loose.diameter_in, "in", loose.source, loose.grade)
        said = over_text(size_in - loose.diameter_in, u_in)
        advice = f"{said} Too large for any fit of {hole.fastener}: ask the holder of the data."
        return _answer(hole, size_in, too_large, loose.diameter_in, by_loose, advice)
    if small is not Status.PASS:
        by_screw = Cited(screw.major_diameter_in, "in", screw.source, screw.grade)
        advice = f"{short_text(screw.major_diameter_in - size_in, u_in)} Open it to the final drill."
        return _answer(hole, size_in, small, screw.major_diameter_in, by_screw, advice)
    advice = ""
    if large is not Status.PASS:
        said = over_text(size_in - close.diameter_in, u_in)
        advice = f"{said} A looser fit: see that the head bears all round, and that the holes share the load."
    return _answer(hole, size_in, large, close.diameter_in, by_close, advice)


def _answer(
    hole: Hole, size_in: float, status: Status, limit_in: float | None, cited: Cited, advice: str
) -> Finding:
    return against(
        "R815",
        status,
        f"hole of {holes_named(hole)} for {hole.fastener}",
        value=size_in,
        limit=limit_in,
        unit="in",
        cited=cited,
        formula="screw <= hole <= clearance drill",
        values=(Quantity("hole", size_in, "in"), Quantity("u", hole.uncertainty_in, "in")),
        advice=advice,
        holes=(hole.number,),
        place=(hole.x_in, hole.y_in),
        shortfall=abs(size_in - limit_in) if limit_in is not None else 0.0,
        uncertainty=hole.uncertainty_in,
    )
