"""R917, R919 to R923: what a mounted antenna or other base needs of the skin."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from hatchwright.finding import Finding
from hatchwright.job.mount import Mount
from hatchwright.judged import FLOAT_NOISE, Status, judge_at_least
from hatchwright.layout.gaps import gap_to_row
from hatchwright.layout.survey import Survey, points_of
from hatchwright.register import Shelf
from hatchwright.rules.answer import against, in_words
from hatchwright.rules.rule import rule
from hatchwright.rules.scope import MEMBERS
from hatchwright.rules.wording import inch, short_text
from hatchwright.shapes.distance import distances
from hatchwright.shapes.profile import Profile
from hatchwright.tables.cited import Cited
from hatchwright.tables.instructions import Instruction, instruction
from hatchwright.tables.screws import screw_size
from hatchwright.workings import Grade, Quantity, Source

NEAR_MEMBER_IN = 0.5
"""A doubler that ends nearer to a frame or stringer than this makes a hard edge; common practice, no source [in]."""


_MANUALS = Cited(0.0, "in", Source("PRACTICE", "manuals of both antennas, as entered"), Grade.PRACTICE)
_HARD_EDGE = Cited(NEAR_MEMBER_IN, "in", Source("PRACTICE", "doubler edges"), Grade.PRACTICE)
_BONDING = Instruction("bonding", Source("AVIONICS-MANUAL", "bonding"), Grade.RESTATED)


def _antenna(survey: Survey) -> Mount | None:
    mount = survey.layout.job.mount
    return mount if mount and mount.kind == "antenna" else None


@rule("R917", Shelf.KNOW, rests_on=(_BONDING,), reads=("mount",), step="mount")
def bonding(survey: Survey) -> Iterator[Finding]:
    """R917: antenna: bonding against paint."""
    mount = _antenna(survey)
    if mount is None:
        return
    if mount.bonded is None:
        subject, status = "it is not said whether the base is bonded", Status.UNKNOWN
        advice = "Look in the antenna's manual, and enter it."
    elif mount.bonded:
        subject, status = "bonding against paint", Status.CAUTION
        advice = (
            "Mask the contact, paint the rest, seal round it, and measure (under 3 milliohm in one manual)."
        )
    else:
        subject, status, advice = "the base is not bonded, as entered", Status.PASS, ""
    yield in_words("R917", status, subject, _BONDING, advice=advice)


@rule("R919", Shelf.KNOW, rests_on=(instruction("rivets_not_watertight"),), reads=("mount",), step="mount")
def sealing(survey: Survey) -> Iterator[Finding]:
    """R919: antenna: sealing and drain."""
    mount = _antenna(survey)
    if mount is None:
        return
    if mount.sealed is None:
        status, subject = Status.UNKNOWN, "it is not said whether the base is sealed"
    else:
        status = Status.PASS if mount.sealed else Status.CAUTION
        subject = f"the base is {'' if mount.sealed else 'not '}sealed, as entered"
    yield in_words(
        "R919",
        status,
        subject,
        instruction("rivets_not_watertight"),
        advice="Leave a drain path at the low point." if mount.sealed else "Seal it, and leave a drain path.",
    )


@rule("R920", Shelf.SETTLE, rests_on=(_MANUALS,), reads=("mount",), step="mount")
def next_antenna(survey: Survey) -> Iterator[Finding]:
    """R920: antenna: distance to the next."""
    mount = _antenna(survey)
    if mount is None:
        return
    given, least = mount.nearest_antenna, mount.least_distance
    least_in = least.inch if least else None
    if given is None:
        subject, status = "the distance to the next antenna is not given", Status.UNKNOWN
        advice = "Enter it, and the least distance in the manuals of both."
    elif least is None:
        subject, status = f"the next antenna is {given.text} away", Status.CAUTION
        advice = "Compare it with the least distance in the manuals of both, and enter that."
    else:
        subject, status = f"the next antenna is {given.text} away", judge_at_least(given.inch, least.inch)
        advice = "" if status is Status.PASS else f"{short_text(least.inch - given.inch)} Move one of them."
    yield against(
        "R920",
        status,
        subject,
        value=given.inch if given else None,
        limit=least_in,
        unit="in",
        cited=replace(_MANUALS, grade=Grade.SHOP) if least else _MANUALS,
        formula="distance >= the larger of both manuals" if least else "",
        values=(Quantity("distance", given.inch, "in"),) if given else (),
        advice=advice,
        shortfall=least_in - given.inch if least_in and given else 0.0,
    )


@rule("R921", Shelf.KNOW, rests_on=(instruction("antenna_doubler"),), reads=("bay", "mount", "parts"))
def drag_load(survey: Survey) -> Iterator[Finding]:
    """R921: antenna: drag load."""
    if _antenna(survey) is None:
        return
    layout = survey.layout
    doubler = layout.part("doubler")
    reached = [
        row.name
        for row in layout.job.bay.rows
        if doubler and row.member in MEMBERS and gap_to_row(doubler.edges[0].loop, row)[0] <= 0.0
    ]
    yield in_words(
        "R921",
        Status.PASS if reached else Status.CAUTION,
        f"drag load: the doubler reaches {', '.join(reached) or 'no member that was entered'}",
        instruction("antenna_doubler"),
        advice=""
        if reached
        else "Let the drag load reach a frame or stringer, or show that the skin carries it.",
    )


@rule("R922", Shelf.KNOW, rests_on=(_HARD_EDGE,), reads=("bay", "mount", "parts"))
def hard_edge(survey: Survey) -> Iterator[Finding]:
    """R922: hard edge beside a member."""
    doubler = survey.layout.part("doubler")
    if survey.layout.job.mount is None or doubler is None:
        return
    for row in survey.layout.job.bay.rows:
        gap_in, place = gap_to_row(doubler.edges[0].loop, row)
        near = gap_in > 0.0 and judge_at_least(gap_in, NEAR_MEMBER_IN) is not Status.PASS
        yield against(
            "R922",
            Status.CAUTION if near else Status.PASS,
            f"doubler edge to {row.name}",
            value=gap_in,
            limit=NEAR_MEMBER_IN,
            unit="in",
            cited=_HARD_EDGE,
            formula=f"gap >= {inch(NEAR_MEMBER_IN)} in, or the row is picked up",
            values=(Quantity("gap", gap_in, "in"),),
            advice="Take the doubler to the member and pick up its row, or end it well clear."
            if near
            else "",
            place=place,
            shortfall=NEAR_MEMBER_IN - gap_in,
        )


@rule(
    "R923",
    Shelf.KNOW,
    limits=("cover_screw_edge_distance", "new_to_existing_spacing"),
    reads=("holes", "mount", "opening", "parts"),
)
def base_screws(survey: Survey) -> Iterator[Finding]:
    """R923: screws of a mounted base."""
    layout, mount = survey.layout, survey.layout.job.mount
    if mount is None:
        return
    if mount.screw_pattern is None or not mount.screw_size:
        yield against(
            "R923",
            Status.UNKNOWN,
            "the screws of the mounted base are not given",
            value=None,
            limit=None,
            unit="in",
            cited=survey.limit("cover_screw_edge_distance"),
            advice="Enter mount.screw_size and mount.screw_pattern.",
        )
        return
    diameter_in = screw_size(mount.screw_size, survey.shop).major_diameter_in
    half = np.array([length.inch / 2.0 for length in mount.screw_pattern])
    points = np.array(layout.center_in) + half * np.array([[1, 1], [1, -1], [-1, -1], [-1, 1]])
    to_edge, to_rivet = survey.limit("cover_screw_edge_distance"), survey.limit("new_to_existing_spacing")
    for part in layout.parts:
        for edge in part.edges:
            if part.name == "cover" or (part.name == "doubler" and edge.loop == layout.opening):
                continue
            found = distances(Profile((edge.loop,)), points)
            signed = np.where(found.inside == edge.metal_inside, found.distance_in, -found.distance_in)
            limit_in, e_in = to_edge.value * diameter_in, float(signed.min())
            is_cut = bool(found.distance_in.min() < diameter_in / 2.0 - FLOAT_NOISE)
            in_air = part.name == "skin" and e_in < 0.0
            yield _apart(
                f"{edge.name} ({part.name})", e_in, limit_in, diameter_in, to_edge, broken=is_cut or in_air
            )
    rivets = layout.holes_of("rivet")
    if rivets:
        off = points[:, None, :] - points_of(rivets)[None, :, :]
        apart_in = float(np.hypot(off[..., 0], off[..., 1]).min())
        larger_in = max(diameter_in, *(hole.diameter_in for hole in rivets))
        yield _apart(
            "the nearest rivet",
            apart_in,
            to_rivet.value * larger_in,
            larger_in,
            to_rivet,
            broken=apart_in < larger_in - FLOAT_NOISE,
        )


def _apart(
    what: str, distance_in: float, limit_in: float, diameter_in: float, cited: Cited, *, broken: bool
) -> Finding:
    """Judge the least distance of the base's screws; `broken` where a hole has no metal all round."""
    status = Status.STOP if broken else judge_at_least(distance_in, limit_in, short=Status.CAUTION)
    return against(
        "R923",
        status,
        f"screws of the base to {what}",
        value=distance_in,
        limit=limit_in,
        unit="in",
        cited=cited,
        formula=f"distance >= {cited.value:g} D",
        values=(Quantity("D", diameter_in, "in"), Quantity("distance", distance_in, "in")),
        advice=""
        if status is Status.PASS
        else f"{short_text(limit_in - distance_in)} Shift the base, or the rivets.",
        shortfall=limit_in - distance_in,
    )
