"""R926: the bends of a mount's bracket."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.finding import Finding
from hatchwright.judged import Bound, Judgement, Measure, Status
from hatchwright.layout.survey import Survey
from hatchwright.register import Shelf
from hatchwright.remedy import ASK, Change
from hatchwright.rules.answer import held, held_as
from hatchwright.rules.rule import rule
from hatchwright.said import Amount, inch, said
from hatchwright.tables.bends import AC43_TABLE_4_6, bend_radius

TABLE_DEG = 90.0
"""The bend that the table is for [deg]. Source: [AC43.13-1B], table 4-6."""


@rule("R926", Shelf.HOLDS, rests_on=(AC43_TABLE_4_6,), reads=("mount",), remedies=(Change.BEND_RADIUS,))
def bracket_bends(survey: Survey) -> Iterator[Finding]:
    """R926: bend radius of the mount's bracket."""
    mount = survey.layout.job.mount
    bracket = mount.bracket if mount else None
    if bracket is None:
        return
    thickness_in = bracket.thickness.inch
    asked = bend_radius(bracket.alloy, bracket.temper, thickness_in=thickness_in, shop=survey.shop)
    radius = Measure("R", bracket.radius.inch, per=("t", thickness_in, "in"))
    least, greatest = (
        Bound(ratio * thickness_in, asked.source, asked.grade, f"{ratio:g} t")
        for ratio in (asked.least_ratio, asked.greatest_ratio)
    )
    any_batch = Judgement(radius, (least,))
    judged = Judgement(radius, (greatest,), fails_as=Status.CAUTION, more=any_batch.working)
    subject = said(
        "bracket.bend",
        angle=Amount(bracket.angle, "deg"),
        alloy=bracket.alloy,
        temper=bracket.temper,
        thickness=inch(thickness_in),
    )
    if any_batch.status is not Status.PASS:
        yield held(any_batch, subject, said("bracket.cracks"), ASK)
    elif judged.status is Status.PASS and bracket.angle > TABLE_DEG:
        past = said("bracket.past_the_table", angle=Amount(TABLE_DEG, "deg"))
        yield held_as(judged, Status.CAUTION, subject, past)
    else:
        yield held(judged, subject, said("bracket.some_batches"))
