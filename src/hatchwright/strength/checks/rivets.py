"""S2xx: the rivets on each side of the opening."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Mapping
from functools import partial

from hatchwright.ground import Ground
from hatchwright.layout.cut_side import CountReading, CutSide
from hatchwright.remedy import ASK
from hatchwright.said import Amount, Numbered, Said, inch, said
from hatchwright.strength.comparison import strength_code
from hatchwright.strength.drawn_load import NOT_RUN, Load, PickUps, drawn_load
from hatchwright.strength.factors import Factors
from hatchwright.strength.family import Family
from hatchwright.strength.load_case import Case
from hatchwright.strength.load_sharing import Strip, capacity, flexibility, peak_factor, shares
from hatchwright.strength.margin import Level, Margin
from hatchwright.strength.rivet_joint import RivetJoint
from hatchwright.strength.site import Site
from hatchwright.strength.worked import Worked, inputs, work_out
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
    Method: docs/theory/rivet.md, eq. 4 to 9; docs/theory/load_sharing.md.
    """
    if site.doubler is None:
        subject, why = said("S201.no_doubler_subject"), (said("S201.no_doubler"),)
        without = [Margin(S201, subject, case.name, Level.ULTIMATE, None, None, why) for case in cases]
        yield Family("rivets", lambda: without)
        return
    for side in site.sides:
        own = [joints[hole.number] for hole in side.rivets]
        for case in cases:
            if case.along(side.axis).value or case.q.value:
                yield Family("rivets", partial(_side_margins, site, side, own, case, factors, picked_up))


def _side_margins(
    site: Site, side: CutSide, joints: list[RivetJoint], case: Case, factors: Factors, picked_up: PickUps
) -> Iterator[Margin]:
    subject = said(
        "S201.subject",
        side=side.name,
        n=len(side.rivets),
        cut=inch(side.cut_in),
        reading=reading_called(side.reading),
    )
    counted = [joint for joint in joints if joint.ultimate and joint.at_yield]
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
    strengths = [joint.ultimate for joint in counted if joint.ultimate]
    weakest = min(strengths, key=lambda one: one.value)
    joint_strength = _in_few_rows(site, side, capacity(strengths))
    if load.value > joint_strength.value:
        needed = rivets_for_load(load_lbf=load.value, one=weakest)
        advice = (said("S201.needed", n=round(needed.value)), *advice, ASK)
    numbers = tuple(joint.hole.number for joint in counted)
    yield Margin(S201, subject, case.name, Level.ULTIMATE, load, joint_strength, advice, numbers)
    softest = min(counted, key=lambda joint: joint.at_yield.value if joint.at_yield else math.inf)
    peak = worst_sharing(site, side)
    alike = _sharing_alike(side, counted)
    if alike.value <= 0.0:
        why = (said("S202.no_rivet_at_the_load"),)
        yield Margin(S202, subject, case.name, Level.LIMIT, None, None, why, numbers)
        return
    safety = factors.of_safety
    limit_lbf = load.value / alike.value * peak.value / safety.value
    at_limit = work_out(limit_lbf, "P limit = P / n peak / f [lbf]", load, alike, peak, safety)
    hardest, number = said("S202.subject", side=side.name), softest.hole.number
    yield Margin(S202, hardest, case.name, Level.LIMIT, at_limit, softest.at_yield, (), (number,))


def _sharing_alike(side: CutSide, counted: list[RivetJoint]) -> Worked:
    """How many rivets that share alike would each be worked as hard as the hardest here, rows not yet looked at.

    Ahead of a straight edge that is all of them; round a half each works square to the edge.
    """
    if side.reading is CountReading.AHEAD:
        return work_out(float(len(counted)), "n", note=said("working.ahead_of_the_edge"))
    own = {joint.hole.number for joint in counted}
    squareness = [
        cosine for hole, cosine in zip(side.rivets, side.squareness, strict=True) if hole.number in own
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
    equation = f"P joint = P joint {most.value:g} / rows [lbf]"
    return work_out(whole.value * most.value / rows, equation, whole, *inputs("", rows=float(rows)), by=most)


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
