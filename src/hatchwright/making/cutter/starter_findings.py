"""T6xx: starter hole and corner holes: clear of the line and of what lies behind, and the stop of the drill."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.finding import Finding
from hatchwright.job.bay import KeepOut
from hatchwright.judged import Status, judge_at_most
from hatchwright.layout.layout import Layout
from hatchwright.making.answer import answer
from hatchwright.making.cutter.starter import (
    BEFORE_IN,
    THROUGH_IN,
    DrilledHole,
    best_starter,
    chosen_starter,
    corner_holes,
    depth_in,
    drill_stop_in,
    largest_starter_in,
    shallowest,
    starter_diameter_in,
    starter_hole,
)
from hatchwright.making.template.guide_template import GuideChain
from hatchwright.units import Unit, figure, length_words
from hatchwright.workings import Grade, Quantity, Source, Working

_BEHIND = Source("PRACTICE", "drilling in front of something; docs/theory/starter.md")

_SAME_IN = 1e-9


def starter_findings(layout: Layout, chain: GuideChain | None) -> tuple[Finding, ...]:
    """Judge the starter hole and the corner holes of a job.

    Args:
        chain: its template, None when it has none or none can be made.
    Returns:
        tuple: findings in the order of their code; empty without a cutter.
    """
    if layout.job.cutter is None or layout.rough_cut is None:
        return ()
    return (*_starter(layout, chain), *_stop(layout), *_corners(layout, chain))


def _starter(layout: Layout, chain: GuideChain | None) -> Iterator[Finding]:
    """T601: the starter hole lies in the waste, clear of the rough line, of everything behind, and of a plug."""
    cutter, least, unit = layout.job.cutter, layout.limit("starter_from_cut_min"), layout.job.unit
    assert cutter is not None
    best = best_starter(layout, chain)
    hole = chosen_starter(layout, chain) or starter_hole(layout, layout.center_in, chain)
    wrong = list(_wrong(hole, least.value, unit))
    if best is not None and best.to_line_in < least.value - _SAME_IN and hole.center == best.center:
        status, advice = Status.CAUTION, _in_cut(layout, hole)
    else:
        status = Status.STOP if wrong else Status.PASS
        advice = f"It {', and '.join(wrong)}. {_remedy(layout, chain, best)}"
    yield answer(
        "T601",
        status,
        f"starter hole of {length_words(hole.diameter_in, unit)} at {_at(hole, unit)}, its edge to the rough line",
        value=hole.to_line_in,
        limit=least.value,
        source=least.source,
        grade=least.grade,
        advice=advice,
        place=hole.center,
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


def _wrong(hole: DrilledHole, least_in: float, unit: Unit) -> Iterator[str]:
    for one in hole.over:
        yield f"lies over or beside the {one.name}, {length_words(depth_in(one), unit)} behind the skin"
    if hole.guide_clear_in is not None and hole.guide_clear_in < -_SAME_IN:
        yield (
            f"lies where the cutter's guide would stand on the plug by {length_words(-hole.guide_clear_in, unit)}, so "
            "that the tool cannot start there"
        )
    if hole.to_line_in < -hole.diameter_in + _SAME_IN:
        yield "lies outside the rough line"
    elif hole.to_line_in < -_SAME_IN:
        yield f"reaches {length_words(-hole.to_line_in, unit)} beyond the rough line"
    elif hole.to_line_in < least_in - _SAME_IN:
        yield f"comes within {length_words(hole.to_line_in, unit)} of the rough line"


def _remedy(layout: Layout, chain: GuideChain | None, best: DrilledHole | None) -> str:
    """Where the hole does no harm, else every way out."""
    unit = layout.job.unit
    if best is not None:
        move = f"Move it to {_at(best, unit)}"
        if best.to_line_in < layout.limit("starter_from_cut_min").value - _SAME_IN:
            return f"{move}. {_in_cut(layout, best)}"
        return f"{move}."
    if chain is not None and chain.guide.kind == "male":
        return _beside_plug(layout, chain)
    cutter = layout.job.cutter
    assert cutter is not None  # asked before
    most_in = largest_starter_in(layout, chain)
    if most_in >= cutter.cut_width.inch:
        smaller = f"start from a hole of at most {length_words(most_in, unit)}"
    else:
        smaller = (
            f"no hole as wide as the cut, {length_words(cutter.cut_width.inch, unit)}, finds one either, so take "
            "another cutter"
        )
    shield = ", or shield what lies behind" if layout.job.bay.keep_outs else ""
    return f"No place in the waste is clear: {smaller}{shield}."


def _beside_plug(layout: Layout, chain: GuideChain) -> str:
    """Why no hole of this size lies beside a plug, and what would do."""
    cutter, unit, guide = layout.job.cutter, layout.job.unit, chain.guide
    assert cutter is not None  # asked before
    least_in = starter_diameter_in(cutter) / 2.0 + layout.limit("starter_from_cut_min").value
    ways = [
        "Beside this plug the guide is clear only where the tool's middle lies "
        f"{length_words(guide.cut_in / 2.0, unit)} or less inside the rough line; the middle of this hole must lie "
        f"{length_words(least_in, unit)} or more inside it."
    ]
    free = best_starter(layout)
    if free is not None:
        ways.append(
            f'What would do: a window (cutter.template = "female"), in which it lies free in the waste at '
            f"{_at(free, unit)};"
        )
    ways.append(
        f"{'or' if free else 'What would do:'} a cutter that starts in a hole no wider than its own cut, "
        f"{length_words(guide.cut_in, unit)}, on its own path. A wider guide does not help."
    )
    return " ".join(ways)


def _in_cut(layout: Layout, hole: DrilledHole) -> str:
    """How a hole is drilled that lies wholly in what the cut takes away."""
    unit = layout.job.unit
    least = length_words(layout.limit("starter_from_cut_min").value, unit)
    return (
        f"Beside a plug no hole stays {least} inside the rough line. At {_at(hole, unit)} it lies on the cutter's path "
        "and is no wider than the cut, so that it touches the rough line and goes nowhere beyond it: centre it with "
        "care, drill it smaller first, and before the plug is laid on. A window leaves more room."
    )


def _at(hole: DrilledHole, unit: Unit) -> str:
    return f"X {figure(hole.center[0], unit)} Y {figure(hole.center[1], unit)} {unit}"


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


def _corners(layout: Layout, chain: GuideChain | None) -> Iterator[Finding]:
    """T603: nothing lies behind a corner hole; a step drill reaches far behind the skin."""
    over: dict[str, tuple[KeepOut, list[DrilledHole]]] = {}
    for hole in corner_holes(layout, chain):
        for one in hole.over:
            over.setdefault(one.name, (one, []))[1].append(hole)
    for one, holes in over.values():
        depth = depth_in(one)
        marks = f"corner hole{'s' * (len(holes) > 1)} {', '.join(hole.mark for hole in holes)}"
        if depth <= BEFORE_IN:
            advice = (
                f"It lies {length_words(depth, layout.job.unit)} behind the skin, too near for any drill: cut these "
                "corners with the cutter alone, or move what lies there."
            )
        else:
            advice = (
                f"Set the stop to {length_words(depth - BEFORE_IN, layout.job.unit)} from the outer face at most and "
                "shield it: a step drill comes out as far as it is high. Or cut these corners with the cutter alone."
            )
        yield answer(
            "T603",
            Status.STOP if depth <= BEFORE_IN else Status.CAUTION,
            f"{one.name} behind {marks}",
            value=depth,
            source=_BEHIND,
            grade=Grade.PRACTICE,
            advice=advice,
            place=holes[0].center,
        )
