"""T6xx: starter hole and corner holes: clear of the line and of what lies behind, and the stop of the drill."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.finding import Finding, Grade, Quantity, Source, Status, Working, judge_at_most
from hatchwright.job.bay import KeepOut
from hatchwright.layout.layout import Layout
from hatchwright.tooling.answer import answer
from hatchwright.tooling.starter import (
    BEFORE_IN,
    THROUGH_IN,
    DrilledHole,
    best_starter,
    corner_holes,
    depth_in,
    drill_stop_in,
    shallowest,
    starter_hole,
)
from hatchwright.units import decimal_inch

_BEHIND = Source("PRACTICE", "drilling in front of something; docs/theory/starter.md")


def starter_findings(layout: Layout) -> tuple[Finding, ...]:
    """Judge the starter hole and the corner holes of a job.

    Args:
        layout: as derived.
    Returns:
        tuple: findings in the order of their code; empty without a cutter.
    """
    if layout.job.cutter is None or layout.rough_cut is None:
        return ()
    return (*_starter(layout), *_stop(layout), *_corners(layout))


def _starter(layout: Layout) -> Iterator[Finding]:
    """T601: the starter hole lies in the waste, clear of the rough line and of everything behind."""
    cutter, least = layout.job.cutter, layout.limit("starter_from_cut_min")
    assert cutter is not None
    best = best_starter(layout)
    wished = cutter.starter_at
    hole = starter_hole(layout, (wished[0].inch, wished[1].inch)) if wished else best
    if hole is None:
        hole = starter_hole(layout, layout.centre_in)
    wrong = list(_wrong(hole, least.value))
    yield answer(
        "T601",
        Status.STOP if wrong else Status.PASS,
        f"starter hole of {decimal_inch(hole.diameter_in)} at {_at(hole)}, its edge to the rough line",
        value=hole.to_line_in,
        limit=least.value,
        source=least.source,
        grade=least.grade,
        advice=f"It {' and '.join(wrong)}. "
        + (
            f"Move it to {_at(best)}."
            if best
            else "No place in the waste is clear: start from a smaller hole, or shield what lies behind."
        ),
        place=hole.centre,
    )
    if cutter.starter is None and cutter.kind == "round-punch nibbler":
        yield answer(
            "T601",
            Status.CAUTION,
            "starter hole of the nibbler",
            source=least.source,
            grade=least.grade,
            advice="Measure the hole that it needs to start in (cutter.starter); the width of its cut was taken.",
        )


def _wrong(hole: DrilledHole, least_in: float) -> Iterator[str]:
    for one in hole.over:
        yield f"lies over or beside the {one.name}, {decimal_inch(depth_in(one), 2)} behind the skin"
    if hole.to_line_in < least_in - 1e-9:
        yield f"comes within {decimal_inch(hole.to_line_in)} of the rough line"


def _at(hole: DrilledHole) -> str:
    return f"X {hole.centre[0]:.3f} Y {hole.centre[1]:.3f}"


def _stop(layout: Layout) -> Iterator[Finding]:
    """T602: the drill's stop lets it through the skin and keeps it from what lies behind."""
    stop_in, nearest = drill_stop_in(layout), shallowest(layout)
    most_in = depth_in(nearest) - BEFORE_IN if nearest else None
    yield answer(
        "T602",
        judge_at_most(stop_in, most_in) if most_in is not None else Status.PASS,
        "drill stop, from the outer face of the skin" + (f", {nearest.name} behind" if nearest else ""),
        value=stop_in,
        limit=most_in,
        source=_BEHIND,
        grade=Grade.PRACTICE,
        working=(
            Working(
                "stop = skin + through",
                (Quantity("skin", stop_in - THROUGH_IN, "in"), Quantity("through", THROUGH_IN, "in")),
                Quantity("stop", stop_in, "in"),
                _BEHIND,
                Grade.PRACTICE,
            ),
        ),
        advice="There is no room for the drill's point: move what lies there, or drill elsewhere.",
    )


def _corners(layout: Layout) -> Iterator[Finding]:
    """T603: nothing lies behind a corner hole; a step drill reaches far behind the skin."""
    over: dict[str, tuple[KeepOut, list[DrilledHole]]] = {}
    for hole in corner_holes(layout):
        for one in hole.over:
            over.setdefault(one.name, (one, []))[1].append(hole)
    for one, holes in over.values():
        depth = depth_in(one)
        yield answer(
            "T603",
            Status.STOP if depth <= BEFORE_IN else Status.CAUTION,
            f"{one.name} behind corner hole{'s' * (len(holes) > 1)} {', '.join(hole.mark for hole in holes)}",
            value=depth,
            source=_BEHIND,
            grade=Grade.PRACTICE,
            advice=f"Set the stop under {decimal_inch(depth)} and shield it: a step drill comes out as far as it is "
            "high. Or cut these corners with the cutter alone.",
            place=holes[0].centre,
        )
