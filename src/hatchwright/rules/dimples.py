"""R409 to R411: dimpled sheets, what dimpling makes of the hole, and room for the die."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from hatchwright.errors import TableError
from hatchwright.finding import Finding
from hatchwright.judged import Status, judge_at_least, judge_at_most
from hatchwright.layout.gaps import gaps_to_points
from hatchwright.layout.survey import Survey, points_of
from hatchwright.register import Shelf
from hatchwright.rules.answer import against, in_words
from hatchwright.rules.flush_rows import flush_rows
from hatchwright.rules.readings import Reading, by_readings, choose, reading
from hatchwright.rules.rule import rule
from hatchwright.rules.wording import holes_named, inch, over_text, short_text
from hatchwright.tables.catalog import DIMPLE_SPREAD, RIVET_HOLE_RANGES
from hatchwright.tables.cited import Cited
from hatchwright.tables.countersink import dimple_spread
from hatchwright.tables.drills import nearest_drill
from hatchwright.tables.instructions import instruction
from hatchwright.tables.rivets import hole_range
from hatchwright.workings import Quantity, Working

DIMPLE_READINGS = ("handbook", "1940s manual")


@rule(
    "R409",
    Shelf.HOLDS,
    limits=("dimple_best_max_thickness", "dimple_max_1940s"),
    readings=DIMPLE_READINGS,
    marks_holes=True,
)
def dimpled_sheet(survey: Survey) -> Iterator[Finding]:
    """R409: dimpled sheet."""
    most = dict(
        zip(
            DIMPLE_READINGS,
            (survey.limit("dimple_best_max_thickness"), survey.limit("dimple_max_1940s")),
            strict=True,
        )
    )
    for row in flush_rows(survey):
        for part, thickness_in in row.takes("dimple"):
            readings = [
                reading(
                    name,
                    cited.value,
                    f"t <= {inch(cited.value)} in",
                    (Quantity("t", thickness_in, "in"),),
                    Quantity("t", thickness_in, "in"),
                    cited.source,
                    cited.grade,
                )
                for name, cited in most.items()
            ]

            def judge(one: Reading, thickness_in: float = thickness_in) -> Status:
                return judge_at_most(thickness_in, one.limit, over=Status.UNKNOWN)

            judged = choose(survey.layout.job, "R409", readings, judge)
            fits = judged.status is Status.PASS
            yield by_readings(
                "R409",
                f"row '{row.name}', dimpled {part} {inch(thickness_in)} in",
                judged,
                value=thickness_in,
                unit="in",
                advice=""
                if fits
                else "Too thick to dimple well: countersink this sheet if it is thick enough for that.",
                holes=() if fits else row.numbers,
                shortfall=thickness_in - judged.by.limit,
            )


@rule(
    "R410",
    Shelf.SETTLE,
    rests_on=(DIMPLE_SPREAD, RIVET_HOLE_RANGES, instruction("dimple_cracks")),
    marks_holes=True,
    step="dimple",
)
def hole_after_dimpling(survey: Survey) -> Iterator[Finding]:
    """R410: hole after dimpling."""
    for row in flush_rows(survey):
        if not row.takes("dimple") or row.hole.kind != "rivet":
            continue
        if row.pilot_in is None:
            yield in_words(
                "R410",
                Status.UNKNOWN,
                f"row '{row.name}': the hole before dimpling is not given",
                instruction("dimple_cracks"),
                advice="Enter pilot, the drill before dimpling; a hole at final size ends too large.",
                holes=row.numbers,
            )
            continue
        drill = nearest_drill(row.pilot_in)
        try:
            after = dimple_spread(drill.name, survey.shop)
            allowed = hole_range(row.hole.diameter_in, survey.shop)
        except TableError as error:
            yield in_words(
                "R410",
                Status.UNKNOWN,
                f"row '{row.name}': {error.what}",
                instruction("dimple_cracks"),
                advice="Dimple a trial piece and measure what the hole becomes.",
                holes=row.numbers,
            )
            continue
        status = judge_at_most(after.value, allowed.greatest_in, over=Status.UNKNOWN)
        fits = status is Status.PASS
        stack = ", ".join(
            f"{part} {inch(thickness_in)} in dimpled" for part, thickness_in in row.takes("dimple")
        )
        yield against(
            "R410",
            status,
            f"row '{row.name}', {stack}: drill {drill} becomes {after.value:.3f} in when dimpled ({after.note})",
            value=after.value,
            limit=allowed.greatest_in,
            unit="in",
            cited=Cited(allowed.greatest_in, "in", allowed.source, allowed.grade),
            formula="hole after dimpling <= greatest hole",
            values=(Quantity("drill", drill.diameter_in, "in"), Quantity("after", after.value, "in")),
            more=(
                Working(
                    f"spread of drill {drill}",
                    (Quantity("before", drill.diameter_in, "in"),),
                    Quantity("after", after.value, "in"),
                    after.source,
                    after.grade,
                ),
            ),
            advice=""
            if fits
            else f"{over_text(after.value - allowed.greatest_in)} A smaller pilot, then dimple, then open to final; or "
            "have it accepted by the holder of the data.",
            holes=() if fits else row.numbers,
            shortfall=after.value - allowed.greatest_in,
        )


@rule(
    "R411",
    Shelf.SETTLE,
    limits=("dimple_flange_distance_min", "dimple_flange_distance"),
    reads=("bay",),
    marks_holes=True,
    step="dimple",
)
def die_room(survey: Survey) -> Iterator[Finding]:
    """R411: room for the dimple die."""
    least, usual = survey.limit("dimple_flange_distance_min"), survey.limit("dimple_flange_distance")
    flanges = survey.layout.job.bay.flanges
    for row in flush_rows(survey):
        if not row.takes("dimple") or not flanges:
            continue
        gaps = np.stack([gaps_to_points(flange, points_of(row.holes)) for flange in flanges])
        at, nearest = np.unravel_index(int(np.argmin(gaps)), gaps.shape)
        hole, gap_in = row.holes[nearest], float(gaps[at, nearest])
        status = judge_at_least(gap_in, usual.value, short=Status.CAUTION)
        if judge_at_least(gap_in, least.value) is not Status.PASS:
            status = Status.STOP
        yield against(
            "R411",
            status,
            f"{holes_named(hole)} to {flanges[at].name}, dimpled",
            value=gap_in,
            limit=usual.value,
            unit="in",
            cited=usual,
            formula=f"gap >= {inch(usual.value)} in, {inch(least.value)} with a tight die",
            values=(Quantity("gap", gap_in, "in"),),
            advice=""
            if status is Status.PASS
            else f"{short_text(usual.value - gap_in)} The die does not sit flat here: move the hole."
            if status is Status.STOP
            else f"{short_text(usual.value - gap_in)} Only with a tight die, tried on scrap.",
            holes=() if status is Status.PASS else (hole.number,),
            place=(hole.x_in, hole.y_in),
            shortfall=usual.value - gap_in,
        )
