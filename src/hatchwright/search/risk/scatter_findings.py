"""T901: with the shop's own scatter, how likely a hole that is still to be drilled falls short of its edge distance."""

from __future__ import annotations

import math

import numpy as np

from hatchwright.finding import Finding, held
from hatchwright.ground import computed, practice
from hatchwright.judged import Measure, Status
from hatchwright.layout.layout import Layout
from hatchwright.making.making import Making
from hatchwright.making.unlisted import unlisted_findings
from hatchwright.register import Entry, Shelf, enter
from hatchwright.rules.edge_distance import EDGE_CODES
from hatchwright.said import Amount, Listed, Numbered, Said, said
from hatchwright.search.risk.chances import missing_from
from hatchwright.search.risk.errors import CULPRITS, Lack, errors_of
from hatchwright.search.risk.gaps import Gaps
from hatchwright.search.risk.judged_gaps import gaps_of
from hatchwright.search.risk.play import play_of
from hatchwright.workings import Quantity, Working

NOTICED = 0.01
"""Chance of one hole that is worth a change of the layout [-]. Own choice, no source."""

_THEORY = "docs/theory/edge_chance.md"
_FORM = computed(_THEORY)
_PRACTICE = practice(f"chance of one short hole; {_THEORY}")

T901 = enter(Entry("T901", Shelf.SETTLE, step="drill", reads=("edges", "holes", "scatter"), theory=_THEORY))


def scatter_findings(layout: Layout, making: Making | None = None) -> tuple[Finding, ...]:
    """Judge the scatter of a job's holes: one finding on the hole that is most likely short, of those that
    are still to be drilled and long enough as drawn, and one that is not shown where the size of some is not
    known; empty without the shop's scatter."""
    scatter = layout.job.scatter
    if scatter is None:
        return ()
    errors = errors_of(scatter, play_of(making))
    gaps = gaps_of(layout, errors)
    asked = (
        not short and one.code in EDGE_CODES and not one.hole.is_made
        for one, short in zip(gaps.between, gaps.is_short_as_drawn.tolist(), strict=True)
    )
    undrilled = gaps.taken(np.fromiter(asked, dtype=bool, count=gaps.count))
    lacking = unlisted_findings(T901, [hole for hole in layout.holes if not hole.is_made])
    return ((_finding(undrilled, missing_from(layout, errors)),) if undrilled.count else ()) + lacking


def _finding(gaps: Gaps, missing: tuple[Lack, ...]) -> Finding:
    chances = gaps.short().tolist()
    worst = max(range(gaps.count), key=lambda at: chances[at])
    between = gaps.between[worst]
    hole = between.hole
    assert between.edge is not None  # of a hole and an edge
    assert between.part is not None
    numbers = {one.hole.number for one in gaps.between}
    likely = {one.hole.number for one, chance in zip(gaps.between, chances, strict=True) if chance > NOTICED}
    sizes = {"limit": float(gaps.limit_in[worst]), "e": float(gaps.measured_in[worst])}
    sizes |= {"bend": float(gaps.bent_in[worst].sum()), "s": float(gaps.deviation_in[worst])}
    put_in = (Quantity(symbol, size_in, "in") for symbol, size_in in sizes.items())
    chance = chances[worst]
    working = _FORM.working("P = Phi((limit - e - bend) / s)", Quantity("P", chance, "-"), *put_in)
    measure = Measure("P", chance, unit="-")
    found = _PRACTICE.at_most(measure, NOTICED, _deviation(gaps, worst), working, fails_as=Status.CAUTION)
    named = said(f"edge.{between.edge.name.replace(' ', '_')}")
    edge = said("T901.edge", edge=named, part=said(f"part.{between.part.name}"))
    subject = said("T901.subject", hole=Numbered("hole", (hole.number,)), edge=edge, n=len(numbers))
    told = said("T901.chance", likely=len(likely), of=len(numbers), chance=Amount(100.0 * NOTICED, "%"))
    expected = said("T901.expected", short=Amount(math.fsum(chances), ""))
    not_entered = (lacking_said(missing),) if missing else ()
    return held("T901", found, subject, told, expected, *not_entered, said("T901.do"), place=hole.place)


def lacking_said(missing: tuple[Lack, ...]) -> Said:
    """What is not entered, so that every chance is told too small."""
    named = Listed(tuple(said(f"risk.lack.{one.value}") for one in missing), ";")
    return said("risk.missing", what=named, n=len(missing))


def _deviation(gaps: Gaps, at: int) -> Working:
    """How the standard deviation of one gap comes about: the root of the squares of what moves it, each as a length."""
    parts = zip(CULPRITS, gaps.variance_in2[at].tolist(), strict=False)
    moved = {culprit.value: math.sqrt(variance) for culprit, variance in parts if variance > 0.0}
    formula = f"s = sqrt({' + '.join(f'{name}^2' for name in moved)})"
    return _FORM.lengths(formula, s=float(gaps.deviation_in[at]), **moved)
