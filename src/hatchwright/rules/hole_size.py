"""R404 to R406: drilled hole sizes, and how many of them call for oversize rivets."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.errors import TableError
from hatchwright.finding import Finding
from hatchwright.judged import FLOAT_NOISE, Status, judge_at_least, judge_at_most
from hatchwright.layout.layout import Hole, is_closed
from hatchwright.layout.survey import Survey, points_of
from hatchwright.register import Shelf
from hatchwright.rules.answer import against
from hatchwright.rules.rule import rule
from hatchwright.rules.wording import holes_named, over_text, short_text
from hatchwright.tables.catalog import RIVET_HOLE_RANGES
from hatchwright.tables.cited import Cited
from hatchwright.tables.rivets import hole_range
from hatchwright.tables.table import ShopTables
from hatchwright.workings import Grade, Quantity, Source


def _measured(survey: Survey) -> list[Hole]:
    return [hole for hole in survey.layout.holes_of("rivet") if hole.hole_in is not None]


def is_oversize(hole: Hole, shop: ShopTables | None = None) -> bool:
    """Whether a measured hole is larger than its rivet allows, its uncertainty left aside.

    Returns:
        bool: false for a hole that was not measured, or whose rivet is not in the table.
    """
    if hole.hole_in is None:
        return False
    try:
        return hole.hole_in > hole_range(hole.diameter_in, shop).greatest_in + FLOAT_NOISE
    except TableError:
        return False


_RANGE = Cited(0.0, "in", Source("PRACTICE", "range of a hole"), Grade.PRACTICE)


@rule("R404", Shelf.HOLDS, rests_on=(RIVET_HOLE_RANGES, _RANGE), reads=("holes",), marks_holes=True)
def hole_size(survey: Survey) -> Iterator[Finding]:
    """R404: size of drilled holes."""
    good: list[Hole] = []
    for hole in _measured(survey):
        found = _one_hole(hole, survey.shop)
        if found.status is Status.PASS:
            good.append(hole)
        else:
            yield found
    for hole in {hole.fastener: hole for hole in good}.values():
        yield _one_hole(hole, survey.shop)


def _one_hole(hole: Hole, shop: ShopTables | None) -> Finding:
    assert hole.hole_in is not None  # measured holes have a diameter
    try:
        allowed = hole_range(hole.diameter_in, shop)
    except TableError as error:
        return against(
            "R404",
            Status.UNKNOWN,
            f"{holes_named(hole)}: {error.what}",
            value=hole.hole_in,
            limit=None,
            unit="in",
            cited=_RANGE,
            advice="Take the range of the rivet's own standard.",
            holes=(hole.number,),
        )
    u_in = hole.uncertainty_in
    large = judge_at_most(hole.hole_in, allowed.greatest_in, uncertainty=u_in)
    small = judge_at_least(hole.hole_in, allowed.least_in, uncertainty=u_in, short=Status.CAUTION)
    is_large = large is not Status.PASS
    status = large if is_large else small
    bound_in = allowed.greatest_in if is_large else allowed.least_in
    missing_in = hole.hole_in - bound_in if is_large else bound_in - hole.hole_in
    if status is Status.PASS:
        advice = ""
    elif is_large:
        said = over_text(missing_in, u_in)
        advice = f"{said} Next size only if edge distance and spacing hold for it (R105, R214); else ask."
    else:
        advice = f"{short_text(missing_in, u_in)} Open it to the final drill."
    return against(
        "R404",
        status,
        f"hole of {holes_named(hole)}, {allowed.least_in:.3f} to {allowed.greatest_in:.3f} in",
        value=hole.hole_in,
        limit=bound_in,
        unit="in",
        cited=Cited(bound_in, "in", allowed.source, allowed.grade),
        formula="least <= hole <= greatest",
        values=(Quantity("hole", hole.hole_in, "in"), Quantity("u", u_in, "in")),
        advice=advice,
        holes=(hole.number,),
        place=(hole.x_in, hole.y_in),
        shortfall=missing_in,
        uncertainty=u_in,
    )


@rule(
    "R405",
    Shelf.HOLDS,
    limits=("oversize_repair_limit_fraction", "oversize_repair_limit_count"),
    reads=("holes",),
    marks_holes=True,
)
def oversize_count(survey: Survey) -> Iterator[Finding]:
    """R405: number of oversize rivets."""
    measured = _measured(survey)
    if not measured:
        return
    oversize = [hole for hole in measured if is_oversize(hole, survey.shop)]
    share, count = (
        survey.limit("oversize_repair_limit_fraction"),
        survey.limit("oversize_repair_limit_count"),
    )
    pattern = len(survey.layout.holes_of("rivet"))
    most = min(int(share.value * pattern + FLOAT_NOISE), int(count.value))
    over = len(oversize) > most
    yield against(
        "R405",
        Status.STOP if over else Status.PASS,
        f"{len(oversize)} of {pattern} rivets need the next size",
        value=float(len(oversize)),
        limit=float(most),
        unit="rivets",
        cited=share if share.value * pattern < count.value else count,
        formula=f"n <= lesser of {share.value:g} of the pattern and {count.value:g}",
        values=(Quantity("pattern", float(pattern), ""), Quantity("n", float(len(oversize)), "")),
        advice="More than a standard repair: ask the holder of the data." if over else "",
        holes=tuple(hole.number for hole in oversize) if over else (),
        shortfall=float(len(oversize) - most),
    )


@rule("R406", Shelf.HOLDS, limits=("oversize_adjacent_limit",), reads=("holes", "rows"), marks_holes=True)
def oversize_side_by_side(survey: Survey) -> Iterator[Finding]:
    """R406: oversize rivets side by side."""
    if not _measured(survey):
        return
    most = survey.limit("oversize_adjacent_limit")
    longest: list[Hole] = []
    for holes in survey.rows.values():
        run: list[Hole] = []
        for hole in holes * 2 if is_closed(points_of(holes)) else holes:
            run = [*run, hole] if is_oversize(hole, survey.shop) else []
            longest = max(longest, run[: len(holes)], key=len)
    over = len(longest) > most.value
    yield against(
        "R406",
        Status.STOP if over else Status.PASS,
        f"longest run of oversize holes in a row: {len(longest)}",
        value=float(len(longest)),
        limit=most.value,
        unit="rivets",
        cited=most,
        formula="run <= limit",
        values=(Quantity("run", float(len(longest)), ""),),
        advice="More than a standard repair: ask the holder of the data." if over else "",
        holes=tuple(hole.number for hole in longest) if over else (),
        shortfall=float(len(longest)) - most.value,
    )
