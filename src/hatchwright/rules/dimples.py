"""R409 to R411: dimpled sheets, what dimpling makes of the hole, and room for the die."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import numpy as np

from hatchwright.errors import TableError
from hatchwright.finding import Finding
from hatchwright.judged import Bound, Chosen, Judgement, Measure, Status, bound, lengths
from hatchwright.layout.gaps import gaps_to_points
from hatchwright.layout.layout import points_of
from hatchwright.layout.survey import Survey
from hatchwright.register import Shelf
from hatchwright.remedy import ASK, Change
from hatchwright.rules.answer import held, stated
from hatchwright.rules.flush_heads import FlushRow, flush_rows, sheet_said
from hatchwright.rules.rule import judged_by, mended_by, rule
from hatchwright.rules.wording import numbered
from hatchwright.said import Listed, Said, inch, said
from hatchwright.tables.cited import Cited
from hatchwright.tables.countersink import DIMPLE_SPREAD, dimple_spread
from hatchwright.tables.drills import Drill, nearest_drill
from hatchwright.tables.instructions import instruction
from hatchwright.tables.rivets import RIVET_HOLE_RANGES, HoleRange, hole_range
from hatchwright.workings import Quantity, Working

DIMPLE_READINGS = ("handbook", "1940s manual")


@rule("R409", Shelf.HOLDS, reads=("cover", "holes", "parts", "rows"), marks_holes=True)
@judged_by(limits=("dimple_best_max_thickness", "dimple_max_1940s"), readings=DIMPLE_READINGS)
@mended_by(Change.ROW_PREPARATION)
def dimpled_sheet(survey: Survey) -> Iterator[Finding]:
    """R409: dimpled sheet."""
    for row in flush_rows(survey):
        for part, thickness_in in row.takes("dimple"):
            judged = dimple_held(thickness_in, survey.limit, chosen=survey.chosen("R409"))
            subject = said("dimple.sheet", row=row.name, sheet=sheet_said(part, thickness_in))
            numbers = () if judged.status is Status.PASS else row.numbers
            yield held(judged, subject, said("dimple.too_thick"), ASK, holes=numbers, cause=row.name)


def dimple_held(
    thickness_in: float, limit: Callable[[str], Cited], *, chosen: Chosen | None = None
) -> Judgement:
    """Hold a sheet that is dimpled to the thickest that each document dimples.

    Args:
        limit: one limit of the tables by its name.
    """
    most = (limit("dimple_best_max_thickness"), limit("dimple_max_1940s"))
    bounds = tuple(
        Bound(cited.value, cited.source, cited.grade, reading=name)
        for name, cited in zip(DIMPLE_READINGS, most, strict=True)
    )
    measure = Measure("t", thickness_in)
    return Judgement(measure, bounds, at_least=False, fails_as=Status.UNKNOWN, chosen=chosen)


@rule("R410", Shelf.SETTLE, reads=("holes", "cover", "parts", "rows"), marks_holes=True, step="drill")
@judged_by(DIMPLE_SPREAD, RIVET_HOLE_RANGES, "dimple_cracks")
@mended_by(Change.ROW_PREPARATION)
def hole_after_dimpling(survey: Survey) -> Iterator[Finding]:
    """R410: hole after dimpling."""
    for row in flush_rows(survey):
        if not row.takes("dimple") or row.hole.kind != "rivet":
            continue
        if row.pilot_in is None:
            yield _not_known(
                row,
                said("dimple.pilot_not_entered", row=row.name),
                said("dimple.enter_pilot"),
                enter=(f"{row.entry}.pilot",),
            )
            continue
        drill = nearest_drill(row.pilot_in)
        try:
            after = dimple_spread(drill.name, survey.shop)
        except TableError:
            subject = said("dimple.spread_not_listed", row=row.name, drill=str(drill))
            yield _not_known(row, subject, said("dimple.try_on_scrap"))
            continue
        try:
            allowed = hole_range(row.hole.diameter_in, survey.shop)
        except TableError:
            subject = said("dimple.no_range", row=row.name, diameter=inch(row.hole.diameter_in))
            yield _not_known(row, subject, ASK)
            continue
        judged = dimpled_hole_held(after, drill, allowed)
        sheets = Listed(tuple(sheet_said(*sheet) for sheet in row.takes("dimple")))
        opens_to = inch(after.value, beside_in=allowed.greatest_in)
        subject = said("dimple.hole", row=row.name, sheets=sheets, drill=str(drill), after=opens_to)
        numbers = () if judged.status is Status.PASS else row.numbers
        yield held(judged, subject, ASK, holes=numbers, cause=row.name)


def dimpled_hole_held(after: Cited, drill: Drill, allowed: HoleRange) -> Judgement:
    """Hold a hole as dimpling leaves it to the greatest that its rivet fills.

    Args:
        after: the hole that is left [in].
        drill: of the hole that was dimpled.
    """
    opened, drilled = Quantity("d", after.value, "in"), Quantity("drill", drill.diameter_in, "in")
    spread = Working.resting_on(after, "hole after dimpling", opened, drilled)
    measure = Measure("d", after.value, with_=lengths(drill=drill.diameter_in))
    bounds = (Bound(allowed.greatest_in, allowed.source, allowed.grade, "greatest hole"),)
    return Judgement(measure, bounds, at_least=False, fails_as=Status.UNKNOWN, more=(spread,))


def _not_known(row: FlushRow, subject: Said, advice: Said, *, enter: tuple[str, ...] = ()) -> Finding:
    return stated(
        Status.UNKNOWN,
        subject,
        instruction("dimple_cracks"),
        advice,
        holes=row.numbers,
        cause=row.name,
        enter=enter,
    )


@rule("R411", Shelf.SETTLE, reads=("bay", "cover", "holes", "parts", "rows"), marks_holes=True, step="drill")
@judged_by(limits=("dimple_flange_distance_min", "dimple_flange_distance"))
@mended_by(Change.ROW_DISTANCE, Change.ROW_PLACE, Change.ROW_PITCH, Change.ROW_PREPARATION)
def die_room(survey: Survey) -> Iterator[Finding]:
    """R411: room for the dimple die; a tight one goes nearer, and nearer than that none sits flat."""
    least, usual = survey.limit("dimple_flange_distance_min"), survey.limit("dimple_flange_distance")
    flanges = survey.layout.job.bay.flanges
    for row in flush_rows(survey):
        if not row.takes("dimple") or not flanges:
            continue
        gaps = np.stack([gaps_to_points(flange, points_of(row.holes)) for flange in flanges])
        at, nearest = np.unravel_index(int(np.argmin(gaps)), gaps.shape)
        hole, gap = row.holes[nearest], Measure("gap", float(gaps[at, nearest]))
        sits_flat = Judgement(gap, (bound(least),))
        judged = sits_flat
        if sits_flat.status is Status.PASS:
            judged = Judgement(gap, (bound(usual),), fails_as=Status.CAUTION)
        subject = said("dimple.to_flange", hole=numbered(hole), flange=flanges[at].name)
        advice = (said("dimple.no_room"), ASK) if judged is sits_flat else (said("dimple.tight_die"),)
        numbers = () if judged.status is Status.PASS else (hole.number,)
        yield held(judged, subject, *advice, holes=numbers, place=hole.place, cause=flanges[at].name)
