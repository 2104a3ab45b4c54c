"""R926: the bends of a mount's bracket."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.finding import Finding
from hatchwright.judged import Status, judge_at_least
from hatchwright.layout.survey import Survey
from hatchwright.register import Shelf
from hatchwright.rules.answer import against
from hatchwright.rules.rule import rule
from hatchwright.rules.wording import short_text
from hatchwright.tables.bends import bend_radius
from hatchwright.tables.catalog import AC43_TABLE_4_6
from hatchwright.tables.cited import Cited
from hatchwright.workings import Quantity


@rule("R926", Shelf.HOLDS, rests_on=(AC43_TABLE_4_6,), reads=("mount",))
def bracket_bends(survey: Survey) -> Iterator[Finding]:
    """R926: bend radius of the mount's bracket."""
    mount = survey.layout.job.mount
    bracket = mount.bracket if mount else None
    if bracket is None:
        return
    thickness_in, radius_in = bracket.thickness.inch, bracket.radius.inch
    asked = bend_radius(bracket.alloy, bracket.temper, thickness_in=thickness_in, shop=survey.shop)
    status = judge_at_least(radius_in, asked.least_in)
    if status is Status.PASS:
        status = judge_at_least(radius_in, asked.greatest_in, short=Status.CAUTION)
    advice = {
        Status.PASS: "",
        Status.CAUTION: "Some batches crack at this radius: bend a trial piece of the same sheet first.",
    }.get(status, f"{short_text(asked.least_in - radius_in)} Take a larger radius.")
    is_sharper = bracket.angle > 90.0
    if is_sharper and status is Status.PASS:
        status, advice = (
            Status.CAUTION,
            "The table is for 90 degrees: bend a trial piece of the same sheet first.",
        )
    yield against(
        "R926",
        status,
        f"bend of {bracket.angle:g} degrees in {bracket.alloy}-{bracket.temper} of {thickness_in:.3f} in",
        value=radius_in,
        limit=asked.least_in if status is Status.STOP else asked.greatest_in,
        unit="in",
        cited=Cited(asked.least_in, "in", asked.source, asked.grade, asked.note),
        formula=f"R >= {asked.least_ratio:g} t at least, {asked.greatest_ratio:g} t for every batch",
        values=(Quantity("t", thickness_in, "in"), Quantity("R", radius_in, "in")),
        advice=advice,
        shortfall=(asked.least_in if status is Status.STOP else asked.greatest_in) - radius_in,
    )
