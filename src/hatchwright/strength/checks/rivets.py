"""S2xx: the rivets on each side of the opening."""

from __future__ import annotations

import itertools
import math
from collections.abc import Collection, Iterator, Mapping
from functools import partial

from hatchwright.ground import Ground
from hatchwright.layout.cut_side import CountReading, CutSide
from hatchwright.remedy import ASK
from hatchwright.said import Amount, Numbered, Said, inch, said
from hatchwright.strength.comparison import strength_code
from hatchwright.strength.corner_rivets import Shares, worked_by_both
from hatchwright.strength.drawn_load import NOT_RUN, Load, PickUps, drawn_load
from hatchwright.strength.factors import Factors
from hatchwright.strength.family import Family
from hatchwright.strength.load_case import Case
from hatchwright.strength.load_sharing import Strip, capacity, flexibility, peak_factor, shares
from hatchwright.strength.margin import Level, Margin
from hatchwright.strength.rivet_joint import RivetJoint
from hatchwright.strength.site import Site
from hatchwright.strength.worked import Worked, at_both_ends, inputs, work_out
from hatchwright.tables.strength_values import strength_value
from hatchwright.words.readings import reading_called
from hatchwright.workings import Quantity

Joints = Mapping[int, RivetJoint]

S201 = strength_code("S201", "rows", "opening", "edges", theory="rivet", cause="rivets_of_a_side")
S202 = strength_code("S202", "rows", "opening", "edges", theory="load_sharing", cause="rivets_of_a_side")

_NAMED_SINGLY = 4
"""Rivets that are named one by one; more are told from the first to the last."""

RIVET_MODULUS_PSI = 10.3e6
"""Modulus of aluminum rivets, as in the worked numbers of the flexibility formulas [psi]."""


def rivet_margins(
    site: Site, joints: Joints, cases: tuple[Case, ...], factors: Factors, picked_up: PickUps = NOT_RUN
) -> Iterator[Family[Margin]]:
    """Margins of the rivets on each side, by equal sharing at ultimate load and by elastic sharing at limit load.

    Args:
        picked_up: what the doubler carries by the finite elements.
    Yields:
        Family: S201 at ultimate load, S202 at limit load against yield.
    Method: docs/theory/rivet.md, eq. 4 to 11; docs/theory/load_sharing.md.
    """
    if site.doubler is None:
        subject, why = said("S201.no_doubler_subject"), (said("S201.no_doubler"),)
        without = [Margin(S201, subject, case.name, Level.ULTIMATE, None, None, why) for case in cases]
        yield Family("rivets", lambda: without)
        return
    for side in site.sides:
        for case in cases:
            if case.along(side.axis).value or case.q.value:
                yield Family("rivets", partial(_side_margins, site, side, joints, case, factors, picked_up))


def _side_margins(
    site: Site, side: CutSide, of_all: Joints, case: Case, factors: Factors, picked_up: PickUps
) -> Iterator[Margin]:
    joints = [of_all[hole.number] for hole in side.rivets]
    subject = said(
        "S201.subject",
        side=side.name,
        n=len(side.rivets),
        cut=inch(side.cut_in),
        reading=reading_called(side.reading),
    )
    counted = _counted(side, of_all)
    left_out = [joint for joint in joints if not joint.ultimate]
    advice = _left_out(left_out)
    if not counted:
        why = advice or (said("S201.no_rivet"),)
        enter_ = tuple(dict.fromkeys(entry for joint in left_out for entry in joint.enter))
        for code, level in ((S201, Level.ULTIMATE), (S202, Level.LIMIT)):
            yield Margin(
                code,
                subject,
                case.name,
                level,
                None,
                None,
                why,
                tuple(one.hole.number for one in joints),
                enter_,
            )
        return
    load = side_load(site, side, case, factors, picked_up)
    others = [other for other in site.sides if other is not side]
    both = worked_by_both(_evenly(side, of_all), [_evenly(other, of_all) for other in others], case)
    strengths = [joint.ultimate for joint in counted if joint.ultimate]
    weakest = min(strengths, key=lambda one: one.value)
    joint_strength = _in_few_rows(site, side, _left_for(counted, both, capacity(strengths)))
    if load.value > joint_strength.value:
        needed = rivets_for_load(load_lbf=load.value, one=weakest)
        advice = (said("S201.needed", n=round(needed.value)), *advice, ASK)
    numbers = tuple(joint.hole.number for joint in counted)
    yield Margin(S201, subject, case.name, Level.ULTIMATE, load, joint_strength, advice, numbers)
    softest = min(counted, key=lambda joint: joint.at_yield.value if joint.at_yield else math.inf)
    peak = worst_sharing(site, side)
    alike = sharing_alike(side, numbers)
    if alike.value <= 0.0:
        why = (said("S202.no_rivet_at_the_load"),)
        yield Margin(S202, subject, case.name, Level.LIMIT, None, None, why, numbers)
        return
    safety = factors.of_safety
    limit_lbf = load.value / alike.value * peak.value / safety.value
    at_limit = work_out(limit_lbf, "P limit = P / n peak / f [lbf]", load, alike, peak, safety)
    corners = _corners(site, side, others, of_all, case) if both else 1.0
    if corners > 1.0:
        at_limit = work_out(
            limit_lbf * corners,
            "P limit = P / n peak corners / f [lbf]",
            load,
            alike,
            peak,
            *inputs("", corners=corners),
            safety,
            note=said("working.both_sides"),
        )
    hardest, number = said("S202.subject", side=side.name), softest.hole.number
    yield Margin(S202, hardest, case.name, Level.LIMIT, at_limit, softest.at_yield, (), (number,))


def _counted(side: CutSide, joints: Joints) -> list[RivetJoint]:
    """The rivets of a side that have a strength."""
    own = (joints[hole.number] for hole in side.rivets)
    return [joint for joint in own if joint.ultimate and joint.at_yield]


def _evenly(side: CutSide, joints: Joints) -> Shares:
    """At ultimate load a ductile rivet that serves two sides may part its strength as it will: here as their loads are,
    however many rivets share them, so that one that is missing never leaves more to another side."""
    return Shares(side, {joint.hole.number: 1.0 for joint in _counted(side, joints)})


def _left_for(counted: list[RivetJoint], both: Mapping[int, float], whole: Worked) -> Worked:
    """What the rivets of a side have left for it where some serve another side too, each with its part of the load."""
    if not both:
        return whole
    pairs = [(joint.hole.number, joint.ultimate.value) for joint in counted if joint.ultimate]
    left = sum(value / both.get(number, 1.0) for number, value in pairs) / sum(value for _, value in pairs)
    values = inputs("", left=left, serving_both=float(len(both)))
    note = said("working.both_sides")
    return at_both_ends(
        lambda joint: work_out(joint.value * left, "P joint = P joint left [lbf]", joint, *values, note=note),
        whole,
    )


def _corners(site: Site, side: CutSide, others: list[CutSide], joints: Joints, case: Case) -> float:
    """By how much a rivet that serves both sides is worked harder, at limit load, than the hardest of this side [-]."""
    own, *of_others = (_elastic(site, one, joints) for one in (side, *others))
    worked = worked_by_both(own, of_others, case)
    most = max(own.part.values(), default=0.0)
    return max((own.part[number] * times / most for number, times in worked.items()), default=1.0)


def _elastic(site: Site, side: CutSide, joints: Joints) -> Shares:
    """At limit load as square as each works to the edge, and as hard as the hardest row.

    Ahead of a straight edge a hole that lost its rivet counts, since what it served is handed over beside it.
    """
    counted = [joint.hole.number for joint in _counted(side, joints)]
    alike = sharing_alike(side, counted).value if counted else 0.0
    if alike <= 0.0:
        return Shares(side, {})
    part = worst_sharing(site, side).value / alike
    if side.reading is CountReading.AHEAD:
        return Shares(side, {hole.number: part for hole in side.holes(side.reading)})
    squareness = zip(side.rivets, side.squareness, strict=True)
    return Shares(
        side, {hole.number: part * max(cosine, 0.0) for hole, cosine in squareness if hole.number in counted}
    )


def sharing_alike(side: CutSide, counted: Collection[int]) -> Worked:
    """How many rivets that share alike would each be worked as hard as the hardest here, rows not yet looked at.

    Ahead of a straight edge that is all of them; round a half each works square to the edge.

    Args:
        counted: numbers of the side's rivets that share.
    """
    if side.reading is CountReading.AHEAD:
        return work_out(float(len(counted)), "n", note=said("working.ahead_of_the_edge"))
    squareness = [
        cosine for hole, cosine in zip(side.rivets, side.squareness, strict=True) if hole.number in counted
    ]
    n = sum(cosine**2 for cosine in squareness)
    return work_out(n, "n = sum(cos^2)", *inputs("", rivets=float(len(counted))), note=said("working.half"))


def _left_out(joints: list[RivetJoint]) -> tuple[Said | str, ...]:
    if not joints:
        return ()
    numbers = [joint.hole.number for joint in joints]
    if len(numbers) > _NAMED_SINGLY:
        which = said("S201.not_counted_many", n=len(numbers), first=min(numbers), last=max(numbers))
    else:
        which = said("S201.not_counted", rivets=Numbered("rivet", tuple(numbers)))
    return (which, *joints[0].refusal)


def side_load(site: Site, side: CutSide, case: Case, factors: Factors, picked_up: PickUps) -> Worked:
    """Ultimate load that the rivets of a side hand over, direct and shear together, with the special factor [lbf].

    Args:
        site: with a doubler.
        picked_up: what the doubler carries by the finite elements.
    Method: docs/theory/rivet.md, eq. 4.
    """
    return drawn_load(
        site, side.axis, case, Load.BOTH, cut_in=side.cut_in, picked_up=picked_up, special=factors.joint
    )


def _in_few_rows(site: Site, side: CutSide, whole: Worked) -> Worked:
    """Past four rows in line the load no longer spreads to all; the share of the further rows is not counted."""
    most = strength_value("equal_sharing_rows_max", site.shop)
    rows = len(side.rows)
    if rows <= most.value:
        return whole
    equation, counted = f"P joint = P joint {most.value:g} / rows [lbf]", inputs("", rows=float(rows))
    return at_both_ends(
        lambda joint: work_out(joint.value * most.value / rows, equation, joint, *counted, by=most), whole
    )


def worst_sharing(site: Site, side: CutSide) -> Worked:
    """The larger of the peak factors of the rows of a side by both flexibility formulas, with both workings [-].

    Method: docs/theory/load_sharing.md, eq. 4.
    """
    rows = side.rows[::-1]
    doubler = site.doubler
    if len(rows) < 2 or doubler is None:
        return work_out(1.0, "peak = 1", note=said("working.one_row"))
    pitch_in = min((row.pitch_in for row in rows if row.pitch_in), default=side.cut_in)
    skin_strip = Strip(site.skin.thickness_in, pitch_in, site.skin.allowed.e_psi)
    doubler_strip = Strip(doubler.thickness_in, pitch_in, doubler.allowed.e_psi)
    gaps = [max(a.offset_in - b.offset_in, 0.0) for a, b in itertools.pairwise(rows)]
    peaks = []
    for formula in ("huth", "swift"):
        slides = [
            flexibility(
                formula,
                skin_strip,
                doubler_strip,
                diameter_in=row.holes[0].diameter_in,
                fastener_modulus_psi=RIVET_MODULUS_PSI,
            )
            for row in rows
        ]
        found = shares(
            flexibilities_in_per_lbf=[slide.value for slide in slides],
            gaps_in=gaps,
            giving_lbf=skin_strip.stiffness_lbf,
            taking_lbf=doubler_strip.stiffness_lbf,
        )
        peaks.append(peak_factor(found, slides[0]))
    worst = max(peaks, key=lambda peak: peak.value)
    low, high = Amount(min(peak.value for peak in peaks), ""), Amount(worst.value, "", toward="up")
    band = said("working.band", low=low, high=high)
    return work_out(worst.value, "peak = max(peak, peak)", *peaks, by=Ground(worst.source), note=band)


def rivets_for_load(*, load_lbf: float, one: Worked) -> Worked:
    """Whole rivets, rounded up, that a load with its factors asks for where one carries so much [lbf].

    Method: docs/theory/rivet.md, eq. 4.
    """
    equation = "n = ceil(P / P one) [rivets]"
    return work_out(
        float(math.ceil(load_lbf / one.value - 1e-9)), equation, Quantity("P", load_lbf, "lbf"), one
    )
