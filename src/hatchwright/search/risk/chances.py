"""The risk of a job in closed form: what each hole, each rule and the job come to, and by what.

Method: docs/theory/risk.md, eq. 6 to 8.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import combinations

import numpy as np
import numpy.typing as npt
from msgspec.structs import replace

from hatchwright.job.scatter import Scatter
from hatchwright.layout.layout import Layout
from hatchwright.metrology.deviation_limit import deviation_limit
from hatchwright.metrology.shared_normal import any_below
from hatchwright.search.risk.errors import CULPRITS, Errors, Lack, Order, Play, errors_of
from hatchwright.search.risk.gaps import Gaps
from hatchwright.search.risk.judged_gaps import COVERAGE, gaps_of
from hatchwright.search.risk.values import (
    Chance,
    Gain,
    HoleChance,
    LeftOut,
    OrderChance,
    Risk,
    RuleChance,
    UpTo,
)

Floats = npt.NDArray[np.float64]
Integers = npt.NDArray[np.intp]

PER = 100.0
"""Spoilt holes are told for so many jobs [-]."""

HALVED = 0.5
"""What a tolerance is multiplied by to see what it gains [-]."""


def risk_of(layout: Layout, scatter: Scatter, play: Play | None = None) -> Risk:
    """The risk of a layout by the shop's scatter, without a simulation.

    Args:
        play: of the template's pins, where it is known.
    """
    errors = errors_of(scatter, play)
    gaps = gaps_of(layout, errors)
    counted = gaps.taken(gaps.counts)
    live = counted.taken(counted.is_live)
    short = counted.short()
    return Risk(
        errors=errors,
        missing=missing_from(layout, errors),
        job=min(1.0, any_short(live) + left_out(counted).bound),
        is_bound=len(tied(live)) > 0,
        spoilt_per_hundred=PER * math.fsum(short.tolist()),
        judged_per_hundred=_judged_per_hundred(counted, errors),
        up_to=_up_to(layout, scatter, play),
        holes=tuple(_holes(layout, gaps, errors)),
        rules=tuple(_rules(gaps)),
        gains=gains(counted),
        orders=tuple(_orders(layout, errors)),
        left_out=left_out(counted),
        held=int(np.count_nonzero(gaps.is_held)),
        unlisted=sum(hole.nominal_in is None for hole in layout.holes),
        is_one_of_two=layout.job.aircraft.both_sides,
    )


def hole_chances(layout: Layout, scatter: Scatter, play: Play | None = None) -> tuple[HoleChance, ...]:
    """Every hole that a gap is about, the likeliest short first; no integral is needed for them."""
    errors = errors_of(scatter, play)
    gaps = gaps_of(layout, errors)
    return tuple(_holes(layout, gaps, errors))


def missing_from(layout: Layout, errors: Errors) -> tuple[Lack, ...]:
    """What counts as nothing though this job has it: one without a ring lacks no place of it, a filed opening is
    measured, and so may be every edge of the other sheets."""
    edges = [edge for part in layout.parts for edge in part.edges if edge.own_u is None]
    needless = set[Lack]()
    if layout.part("doubler") is None:
        needless |= {Lack.RING_PLACE, Lack.RING_TURN}
    if not any(edge.loop == layout.opening for edge in edges):
        needless |= {Lack.OFFSET, Lack.FILING}
    if all(edge.loop == layout.opening for edge in edges):
        needless.add(Lack.EDGE)
    return tuple(lack for lack in errors.missing if lack not in needless)


def any_short(gaps: Gaps, *, measuring_in: float = 0.0, beyond_in: float = 0.0) -> float:
    """Chance that any of some gaps ends short; see `any_below` where some hang together.

    Args:
        measuring_in, beyond_in: see `Gaps.short`.
    """
    own = np.bincount(gaps.gap, weights=gaps.coefficient**2, minlength=gaps.count)[: gaps.count]
    by_itself = np.sqrt(own + gaps.known_in**2 + measuring_in**2)
    return any_below(gaps.mean_in - beyond_in, by_itself, gaps.common, tied(gaps))


def tied(gaps: Gaps) -> Integers:
    """Pairs of gaps that one hole wanders in, so that they hang together whatever is shared, shape (q, 2)."""
    of_hole: dict[int, set[int]] = {}
    for gap, source in zip(gaps.gap.tolist(), gaps.source.tolist(), strict=True):
        of_hole.setdefault(source // 2, set()).add(gap)
    pairs = {pair for some in of_hole.values() for pair in combinations(sorted(some), 2)}
    return np.array(sorted(pairs), dtype=np.intp).reshape(-1, 2)


def left_out(counted: Gaps) -> LeftOut:
    """What is too wide to be simulated: no more than the sum of its chances."""
    dead = counted.taken(~counted.is_live)
    return LeftOut(dead.count, math.fsum(dead.short().tolist()))


def gains(counted: Gaps) -> tuple[Gain, ...]:
    """What each tolerance has to do with it, the greatest gain first; those that scatter nothing are left out.

    Method: docs/theory/risk.md, eq. 8.
    """
    live = counted.taken(counted.is_live)
    whole = math.fsum(counted.short().tolist())
    variance = live.variance_in2
    found = []
    for at, culprit in enumerate(CULPRITS):
        if not counted.variance_in2[:, at].any():
            continue
        scales = np.ones(len(CULPRITS))
        scales[at] = HALVED
        saved = whole - math.fsum(counted.short(scales).tolist())
        share = float(np.mean(variance[:, at] / variance.sum(axis=1))) if live.count else 0.0
        found.append(Gain(culprit, share, PER * saved))
    return tuple(sorted(found, key=lambda one: (-one.gain, -one.share)))


def _judged(gaps: Gaps, errors: Errors) -> tuple[Floats, Floats]:
    """Chance of each gap to be measured short beyond doubt, and that it can't be shown, each of shape (n,) [-]."""
    u_in = COVERAGE * errors.measuring_in
    surely = gaps.short(measuring_in=errors.measuring_in, beyond_in=-u_in)
    return surely, gaps.short(measuring_in=errors.measuring_in, beyond_in=u_in) - surely


def _judged_per_hundred(counted: Gaps, errors: Errors) -> tuple[float, float]:
    short, not_shown = _judged(counted, errors)
    return PER * math.fsum(short.tolist()), PER * math.fsum(not_shown.tolist())


def _holes(layout: Layout, gaps: Gaps, errors: Errors) -> Iterator[HoleChance]:
    """Every hole that a gap is about, with the sum of the chances of its gaps: first those that don't pass already,
    then the likeliest."""
    held, counted = gaps.taken(gaps.is_held), gaps.taken(gaps.counts)
    of_held, of_counted = _of_holes(held), _of_holes(counted)
    short, (surely, not_shown) = counted.short(), _judged(counted, errors)
    by_number = {hole.number: hole for hole in layout.holes}
    found = []
    for number in of_held.keys() | of_counted.keys():
        some, is_held = of_counted.get(number, []), number in of_held
        sums = (min(1.0, float(each[some].sum())) for each in (short, surely, not_shown))
        if is_held:
            of, worst = held, min(of_held[number], key=lambda at: held.drawn_in[at])
        else:
            of, worst = counted, max(some, key=lambda at: short[at])
        between, gap_in = of.between[worst], float(of.drawn_in[worst])
        found.append(HoleChance(by_number[number], Chance(*sums), between, gap_in, is_held))
    order = sorted(found, key=lambda one: (not one.is_held, -round(one.chance.short, 12), one.hole.number))
    return iter(order)


def _of_holes(gaps: Gaps) -> dict[int, list[int]]:
    """Number of each hole to the gaps that are about it."""
    found: dict[int, list[int]] = {}
    for at, between in enumerate(gaps.between):
        for hole in filter(None, (between.hole, between.other)):
            found.setdefault(hole.number, []).append(at)
    return found


def _rules(gaps: Gaps) -> Iterator[RuleChance]:
    kinds = [*zip((one.code for one in gaps.between), gaps.holds_back.tolist(), strict=True)]
    for code, holds_back in sorted(set(kinds)):
        chosen = np.array([kind == (code, holds_back) for kind in kinds])
        own = gaps.taken(chosen & gaps.is_open)
        live, dead = own.taken(own.is_live), left_out(own)
        yield RuleChance(
            code=code,
            distances=own.count,
            chance=min(1.0, any_short(live) + dead.bound),
            spoilt_per_hundred=PER * math.fsum(own.short().tolist()),
            holds_back=holds_back,
            held=int(np.count_nonzero(chosen & gaps.is_held)),
        )


def _orders(layout: Layout, errors: Errors) -> Iterator[OrderChance]:
    if layout.part("doubler") is None:
        return
    for order in Order:
        gaps = gaps_of(layout, errors, order)
        counted = gaps.taken(gaps.counts)
        live = counted.taken(counted.is_live)
        spoilt = PER * math.fsum(counted.short().tolist())
        yield OrderChance(order, spoilt, min(1.0, any_short(live) + left_out(counted).bound))


def _up_to(layout: Layout, scatter: Scatter, play: Play | None) -> UpTo | None:
    """The same where each scatter is as large as its readings leave it; None without degrees of freedom."""
    largest = at_most(scatter, errors_of(scatter, play))
    if largest is None:
        return None
    gaps = gaps_of(layout, largest)
    counted = gaps.taken(gaps.counts)
    live = counted.taken(counted.is_live)
    spoilt = PER * math.fsum(counted.short().tolist())
    return UpTo(largest, spoilt, min(1.0, any_short(live) + left_out(counted).bound))


def at_most(scatter: Scatter, errors: Errors) -> Errors | None:
    """How large each scatter may really be by its degrees of freedom; None where none are entered.

    Method: docs/theory/risk.md, eq. 10.
    """
    if scatter.freedom is None:
        return None
    behind = {
        "square_in": "drill",
        "along_in": "drill",
        "place_in": "" if errors.place_from_pins else "placement",
        "turn_rad": "" if errors.turn_from_pins else "placement",
        "offset_in": "offset",
        "filing_in": "" if scatter.filing is None else "filing",
        "ring_place_in": "placement" if scatter.ring_place is None else "ring",
        "ring_turn_rad": "placement" if scatter.ring_turn is None else "ring",
    }
    larger = {
        field: deviation_limit(getattr(errors, field), count)
        for field, entry in behind.items()
        if entry and (count := getattr(scatter.freedom, entry))
    }
    return replace(errors, **larger) if larger else None
