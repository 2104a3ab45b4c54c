"""T901: with the shop's own scatter, how likely a hole that is still to be drilled falls short of its edge distance."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np
from msgspec import Struct

from hatchwright.finding import Finding, held
from hatchwright.ground import computed, practice
from hatchwright.job.scatter import Scatter
from hatchwright.judged import FLOAT_NOISE, Measure, Status
from hatchwright.layout.layout import Hole, Layout
from hatchwright.layout.survey import EdgeDistances, survey
from hatchwright.making.unlisted import unlisted_findings
from hatchwright.metrology.edge_chance import edge_deviation_in, short_chance
from hatchwright.register import Entry, Shelf, enter
from hatchwright.said import Amount, Numbered, Said, said
from hatchwright.tables.rivet_part import parse_rivet
from hatchwright.workings import Quantity

NOTICED = 0.01
"""Chance of one hole that is worth a change of the layout [-]. Own choice, no source."""

_THEORY = "docs/theory/edge_chance.md"
_FORM = computed(_THEORY)
_PRACTICE = practice(f"chance of one short hole; {_THEORY}")

T901 = enter(Entry("T901", Shelf.SETTLE, step="drill", reads=("edges", "holes", "scatter"), theory=_THEORY))

_LEAST_IN = 1e-9


class _Judged(Struct, frozen=True):
    hole: Hole
    edge: Said
    nominal_in: float
    limit_in: float
    lever_in: float
    deviation_in: float
    chance: float


def scatter_findings(layout: Layout) -> tuple[Finding, ...]:
    """Judge the scatter of a job's holes: one finding on the hole that is most likely short, of those that
    are still to be drilled and long enough as drawn, and one that is not shown where the size of some is not
    known; empty without the shop's scatter."""
    scatter = layout.job.scatter
    if scatter is None:
        return ()
    judged = [one for row in survey(layout).distinct_edges for one in _judged(layout, row, scatter)]
    lacking = unlisted_findings(T901, [hole for hole in layout.holes if not hole.is_made])
    return ((_finding(judged),) if judged else ()) + lacking


def _judged(layout: Layout, row: EdgeDistances, scatter: Scatter) -> Iterator[_Judged]:
    """Every hole of a part that is still to be drilled, against one edge; of what is short as drawn the rules speak."""
    center = np.array(layout.center_in)
    for hole, distance, foot in zip(row.holes, row.distance_in.tolist(), row.foot_in, strict=True):
        if hole.is_made or hole.nominal_in is None:
            continue
        place = np.array([hole.x_in, hole.y_in])
        arm, out = place - center, foot - place
        length = float(np.hypot(*out))
        across = abs(float(arm[0] * out[1] - arm[1] * out[0]))
        lever_in = across / length if length > _LEAST_IN else float(np.hypot(*arm))
        limit_in = _least_in(layout, hole)
        if distance < limit_in - FLOAT_NOISE:
            continue
        placement_in = scatter.placement.inch if scatter.placement else 0.0
        drill_in, edge_in = scatter.drill.inch, scatter.edge.inch if scatter.edge else 0.0
        sizes = {"drill_in": drill_in, "placement_in": placement_in, "edge_in": edge_in, "lever_in": lever_in}
        deviation_in = edge_deviation_in(**sizes, turn_rad=math.radians(scatter.turn))
        chance = short_chance(nominal_in=distance, limit_in=limit_in, deviation_in=deviation_in)
        named = said(f"edge.{row.edge.name.replace(' ', '_')}")
        edge = said("T901.edge", edge=named, part=said(f"part.{row.part.name}"))
        yield _Judged(hole, edge, distance, limit_in, lever_in, deviation_in, chance)


def _least_in(layout: Layout, hole: Hole) -> float:
    """The edge distance that the rules ask for by default [in]."""
    key = "cover_screw_edge_distance"
    if hole.kind != "screw":
        is_flush = parse_rivet(hole.fastener).is_flush
        key = "edge_min_countersunk" if is_flush else "edge_min_single_row_protruding"
    return layout.limit(key).value * hole.diameter_in


def _finding(judged: list[_Judged]) -> Finding:
    worst = max(judged, key=lambda one: one.chance)
    likely = {one.hole.number for one in judged if one.chance > NOTICED}
    count = len({one.hole.number for one in judged})
    expected = math.fsum(one.chance for one in judged)
    formula = "s = sqrt(drill^2 + placement^2 + (turn x lever)^2 + edge^2)"
    sizes = {"limit": worst.limit_in, "e": worst.nominal_in, "s": worst.deviation_in}
    put_in = (Quantity(symbol, size_in, "in") for symbol, size_in in sizes.items())
    deviation = _FORM.lengths(formula, s=worst.deviation_in, lever=worst.lever_in)
    working = _FORM.working("P = Phi((limit - e) / s)", Quantity("P", worst.chance, "-"), *put_in)
    chance = Measure("P", worst.chance, unit="-")
    found = _PRACTICE.at_most(chance, NOTICED, deviation, working, fails_as=Status.CAUTION)
    subject = said("T901.subject", hole=Numbered("hole", (worst.hole.number,)), edge=worst.edge, n=count)
    told = said("T901.chance", likely=len(likely), of=count, chance=Amount(100.0 * NOTICED, "%"))
    advice = (told, said("T901.expected", short=Amount(expected, "")), said("T901.do"))
    return held("T901", found, subject, *advice, place=(worst.hole.x_in, worst.hole.y_in))
