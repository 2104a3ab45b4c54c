"""R802, R803, R808, R810: length, reach, torque and size of the cover's screws."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from hatchwright.errors import TableError
from hatchwright.finding import Finding
from hatchwright.judged import FLOAT_NOISE, Status, judge_at_least
from hatchwright.layout.gaps import gaps_to_points
from hatchwright.layout.survey import Survey, points_of
from hatchwright.register import Shelf
from hatchwright.rules.answer import against, in_words
from hatchwright.rules.cover import ScrewedCover, screwed_cover
from hatchwright.rules.rule import rule
from hatchwright.rules.wording import holes_named, inch, short_text, thousandths, thousandths_at_most
from hatchwright.tables.catalog import AC43_TABLE_7_1, SCREW_SIZES
from hatchwright.tables.cited import Cited
from hatchwright.tables.instructions import instruction
from hatchwright.tables.screws import screw_size, torque
from hatchwright.units import decimal_inch
from hatchwright.words.tell import tell
from hatchwright.workings import Grade, Quantity, Source

_GRIP = Cited(0.0, "in", Source("GEOMETRY", "sheets that a screw goes through"), Grade.COMPUTED)
_BEHIND = Cited(0.0, "in", Source("PRACTICE", "screws against moving parts"), Grade.PRACTICE)


@rule(
    "R802",
    Shelf.SETTLE,
    limits=("thread_protrusion",),
    rests_on=(_GRIP, SCREW_SIZES),
    reads=("parts",),
    marks_holes=True,
    step="cover",
)
def screw_length(survey: Survey) -> Iterator[Finding]:
    """R802: length of cover screws."""
    found = screwed_cover(survey)
    if found is None:
        return
    thread = survey.limit("thread_protrusion")
    thickness = {part.name: part.thickness_in for part in survey.layout.parts}
    grip_in = sum(thickness[name] for name in found.holes[0].stack)
    one_thread_in = thread.value * screw_size(found.screws.size, survey.shop).one_thread_in
    length, nut = found.screws.length, found.screws.nut_height
    nut_in = nut.inch if nut else 0.0
    needed_in = grip_in + nut_in + one_thread_in
    if length is None:
        rest = "" if nut else ", and the height of the nut"
        yield against(
            "R802",
            Status.UNKNOWN,
            f"the length of the {found.screws.size} cover screws is not given",
            value=None,
            limit=needed_in,
            unit="in",
            cited=_GRIP,
            advice=f"Enter it: {thousandths(needed_in)} in for grip{', nut' if nut else ''} and one thread{rest}.",
        )
        return
    over_in = length.inch - needed_in
    if length.inch < grip_in + nut_in - FLOAT_NOISE or (nut is None and over_in <= FLOAT_NOISE):
        status = Status.STOP
        advice = (
            f"{short_text(-over_in)} It does not reach through the nut." if nut else "Too short for any nut."
        )
    elif nut is None:
        yield _room_for_the_nut(found, grip_in, one_thread_in, thread)
        return
    else:
        status = judge_at_least(length.inch, needed_in, short=Status.CAUTION)
        advice = (
            ""
            if status is Status.PASS
            else f"{short_text(-over_in)} One thread is to stand out beyond the nut."
        )
    yield against(
        "R802",
        status,
        f"{found.screws.size} x {length.text} through {inch(grip_in)} in",
        value=length.inch,
        limit=needed_in,
        unit="in",
        cited=thread if status is Status.CAUTION else _GRIP,
        formula="length >= grip + nut + one thread",
        values=(
            Quantity("grip", grip_in, "in"),
            *((Quantity("nut", nut_in, "in"),) if nut else ()),
            Quantity("one thread", one_thread_in, "in"),
            Quantity("over", over_in, "in"),
        ),
        advice=advice,
        shortfall=-over_in,
    )


def _room_for_the_nut(found: ScrewedCover, grip_in: float, one_thread_in: float, thread: Cited) -> Finding:
    """What is left of the screw for a nut whose height is not entered; there is nothing to hold it against yet."""
    assert found.screws.length is not None  # asked before
    room_in = found.screws.length.inch - grip_in - one_thread_in
    most = thousandths_at_most(room_in)
    return against(
        "R802",
        Status.CAUTION,
        f"{found.screws.size} x {found.screws.length.text} through {inch(grip_in)} in leaves {most} in for the nut",
        value=room_in,
        limit=None,
        unit="in",
        cited=thread,
        formula="left for the nut = length - grip - one thread",
        values=(
            Quantity("length", found.screws.length.inch, "in"),
            Quantity("grip", grip_in, "in"),
            Quantity("one thread", one_thread_in, "in"),
        ),
        advice=f"The nut may be no higher than {most} in: measure it, and enter cover.screws.nut_height.",
    )


@rule("R803", Shelf.BEHIND, rests_on=(_BEHIND,), reads=("bay",), marks_holes=True)
def screw_depth(survey: Survey) -> Iterator[Finding]:
    """R803: cover screws and what lies behind."""
    found = screwed_cover(survey)
    if found is None or found.screws.length is None:
        return
    outside_in = found.part.thickness_in if found.cover.fit == "lapped" else 0.0
    reach_in = found.screws.length.inch - outside_in
    points = points_of(found.holes)
    for keep_out in survey.layout.job.bay.keep_outs:
        depth_in, depth = (keep_out.depth.inch, keep_out.depth.text) if keep_out.depth else (0.0, "0")
        beside = gaps_to_points(keep_out, points)
        at = int(np.argmin(beside))
        nearest, beside_in = found.holes[at], float(beside[at])
        margin_in = depth_in - reach_in
        strikes = beside_in <= nearest.diameter_in and margin_in <= 0.0
        yield against(
            "R803",
            Status.STOP if strikes else Status.PASS,
            f"{keep_out.name}: screws reach {inch(reach_in)} in behind the skin, it lies {depth} deep and "
            f"{decimal_inch(beside_in, 2)} beside {holes_named(nearest)}",
            value=margin_in,
            limit=0.0,
            unit="in",
            cited=_BEHIND,
            formula="margin = depth - reach",
            values=(Quantity("depth", depth_in, "in"), Quantity("reach", reach_in, "in")),
            advice="The screw reaches it: shorter screws, or move them." if strikes else "",
            holes=(nearest.number,) if strikes else (),
            shortfall=-margin_in,
        )


@rule(
    "R808",
    Shelf.SETTLE,
    rests_on=(AC43_TABLE_7_1, instruction("torque_when_no_maker_value")),
    marks_holes=True,
    step="cover",
)
def screw_torque(survey: Survey) -> Iterator[Finding]:
    """R808: torque of cover screws."""
    found = screwed_cover(survey)
    if found is None:
        return
    try:
        known = torque(found.screws.size, shop=survey.shop)
    except TableError as error:
        yield in_words(
            "R808",
            Status.UNKNOWN,
            tell(error.what),
            instruction("torque_when_no_maker_value"),
            advice="Take the maker's figure; none can be read out of the circular for this size.",
        )
        return
    yield against(
        "R808",
        Status.PASS,
        f"{found.screws.size}: {known.least_in_lbf:g} to {known.greatest_in_lbf:g} in-lbf and the drag of the nut",
        value=known.greatest_in_lbf,
        limit=known.limit_in_lbf,
        unit="in-lbf",
        cited=Cited(known.greatest_in_lbf, "in-lbf", known.source, known.grade),
        formula="table torque + drag of the nut <= limit",
        values=(
            Quantity("least", known.least_in_lbf, "in-lbf"),
            Quantity("greatest", known.greatest_in_lbf, "in-lbf"),
        ),
        advice="Only where the maker gives none; measured for steel bolts, not for screws in thin countersunk sheet.",
    )


@rule("R810", Shelf.KNOW, limits=("primary_structure_screw_min",), reads=("skin",), marks_holes=True)
def primary_screws(survey: Survey) -> Iterator[Finding]:
    """R810: screws in primary structure."""
    found = screwed_cover(survey)
    if found is None or not survey.layout.job.skin.stressed:
        return
    least = survey.limit("primary_structure_screw_min")
    size = screw_size(found.screws.size, survey.shop)
    status = judge_at_least(size.major_diameter_in, least.value, short=Status.CAUTION)
    yield against(
        "R810",
        status,
        f"{size.thread} screws in a cover on stressed skin",
        value=size.major_diameter_in,
        limit=least.value,
        unit="in",
        cited=least,
        formula="major diameter >= limit",
        values=(Quantity("major diameter", size.major_diameter_in, "in"),),
        advice=""
        if status is Status.PASS
        else f"{short_text(least.value - size.major_diameter_in)} Let the doubler carry the load and the cover "
        "none, or use No. 10 screws.",
        shortfall=least.value - size.major_diameter_in,
    )
