"""S806: the rivets at ultimate load, where those at their strength leave the rest to the others."""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import partial

import numpy as np

from hatchwright.errors import SolveError
from hatchwright.fem.curve import Array
from hatchwright.fem.yielding import yielding
from hatchwright.remedy import ASK
from hatchwright.said import Numbered, inch, said
from hatchwright.strength.checks.rivets import Joints
from hatchwright.strength.comparison import strength_code
from hatchwright.strength.factors import Factors
from hatchwright.strength.family import told_of
from hatchwright.strength.fastener_load import FastenerLoad
from hatchwright.strength.margin import Level, Margin
from hatchwright.strength.opening_analysis import CaseAnalysis
from hatchwright.strength.rivet_load import rivet_doubt, rivet_load
from hatchwright.strength.site import Site
from hatchwright.strength.worked import READ_OFF, Worked, at_both_ends, inputs, looked_up, work_out
from hatchwright.tables.strength_values import strength_value

S806 = strength_code("S806", "bay", "opening", "rows", "skin", "doubler", theory="load_sharing")


def rivets_at_ultimate(site: Site, found: CaseAnalysis, joints: Joints, factors: Factors) -> Margin:
    """S806: how far the ultimate load may grow before the rivets no longer share it.

    Up to the load at which the first rivet is at its strength nothing has to be shared, and the margin is that to this
    load. Beyond, rivets at their strength slip on under it until one has slipped as far as a joint may.

    Method: docs/theory/load_sharing.md, eq. 6 to 9.
    """
    load = work_out(1.0, "load", *found.case.loads, note=said("working.case_at_ultimate"))
    strengths = [joints[rivet.number].ultimate for rivet in found.rivets]
    known = [one for one in strengths if one is not None]
    if not known or len(known) < len(strengths):
        lacking = [rivet.number for rivet, one in zip(found.rivets, strengths, strict=True) if one is None]
        why = joints[lacking[0]].refusal if lacking else (said("S801.no_rivet"),)
        enter = joints[lacking[0]].enter if lacking else ()
        subject = said("S806.unknown")
        return Margin(S806, subject, found.name, Level.ULTIMATE, load, None, why, tuple(lacking), enter)
    first = at_both_ends(partial(_first, found, factors), *known)
    if first.value >= 1.0:
        number = _hardest(found, known)[0].number
        subject = said("S806.elastic", rivet=Numbered("rivet", (number,)))
        return Margin(S806, subject, found.name, Level.ULTIMATE, load, first, (), (number,))
    try:
        return _evened_out(site, found, known, load, factors)
    except SolveError as error:
        subject = said("S806.unknown")
        return Margin(S806, subject, found.name, Level.ULTIMATE, load, None, told_of(error))


def _hardest(found: CaseAnalysis, strengths: Sequence[Worked]) -> tuple[FastenerLoad, Worked]:
    """The rivet whose elastic load comes nearest to its strength."""
    pairs = zip(found.rivets, strengths, strict=True)
    return max(pairs, key=lambda pair: pair[0].greater_lbf / pair[1].value)


def _first(found: CaseAnalysis, factors: Factors, *strengths: Worked) -> Worked:
    """So many times the load until the first rivet is at its strength."""
    rivet, strength = _hardest(found, strengths)
    peak = rivet_load(found, rivet, factors)
    growth = strength.value / peak.value if peak.value else math.inf
    return work_out(growth, "growth = P one / P rivet", strength, peak)


def _evened_out(
    site: Site, found: CaseAnalysis, strengths: Sequence[Worked], load: Worked, factors: Factors
) -> Margin:
    """By the formula with which the rivets slip the sooner."""
    slip = strength_value("rivet_slip_at_ultimate", site.shop)
    (grid, holes), times = rivet_doubt(found), factors.joint.value
    diameters_in = _of_all(found, [_diameter_in(site, rivet.number) for rivet in found.rivets])
    held = [
        yielding(
            response, _of_all(found, [one.value for one in strengths]), times=times * (1.0 + grid + holes)
        )
        for response in (found.response, found.swift)
    ]
    most_in = slip.value * diameters_in[found.response.unit.model.working]
    growth, by = min(((one.growth_until(most_in), one) for one in held), key=lambda pair: pair[0])
    now = by.at(1.0)
    numbers = tuple(
        rivet.number for rivet, full in zip(found.rivets, now.at_strength.tolist(), strict=False) if full
    )
    rivet, strength = _hardest(found, strengths)
    allowed = work_out(
        growth,
        "growth = load at the slip / ultimate load",
        *found.case.loads,
        looked_up(slip, "D", "slip", said("working.slip_of_a_rivet", note=slip.note)),
        strength,
        *rivet.put_in,
        *inputs("", grid=grid, holes=holes, at_strength=float(len(numbers)), rivets=float(len(strengths))),
        *inputs("in", slip_at_ultimate=float(now.slip_in.max())),
        factors.joint,
        by=READ_OFF,
        note=said("working.rivets_evened_out"),
    )
    subject = said(
        "S806.subject",
        n=len(numbers),
        of=len(strengths),
        slip=inch(float(now.slip_in.max()), fine=True),
    )
    advice = () if growth >= 1.0 else (said("S806.slips", rivets=Numbered("rivet", numbers)), ASK)
    return Margin(S806, subject, found.name, Level.ULTIMATE, load, allowed, advice, numbers)


def _of_all(found: CaseAnalysis, of_rivets: Sequence[float]) -> Array:
    """Values of the rivets, which come first in the model, and infinite ones of the screws behind them."""
    values = np.full(len(found.response.unit.model.fasteners), np.inf)
    values[: len(of_rivets)] = of_rivets
    return values


def _diameter_in(site: Site, number: int) -> float:
    return next(hole.diameter_in for hole in site.layout.holes if hole.number == number)
