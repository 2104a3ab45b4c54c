"""T5xx: whether temporary fasteners hold the template in every stage while the cutter passes them."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.finding import Finding
from hatchwright.judged import Status
from hatchwright.layout.layout import Layout
from hatchwright.making.answer import answer
from hatchwright.making.pins.notes import named
from hatchwright.making.pins.pin_layout import PinLayout, widest_body_in
from hatchwright.making.pins.plan import LEAST_PINS, LOOSEST_HOLD, PinPlan, Stage
from hatchwright.making.template.guide_template import GuideChain
from hatchwright.units import length_words
from hatchwright.workings import Grade, Quantity, Source, Working

_FORM = Source("GEOMETRY", "docs/theory/pins.md")
_PRACTICE = Source("PRACTICE", "hold of a template; docs/theory/pins.md")


def pin_findings(layout: Layout, chain: GuideChain, pins: PinLayout) -> tuple[Finding, ...]:
    """Judge the pins of a job.

    Returns:
        tuple: findings in the order of their code.
    """
    if pins.plan is None:
        return (_no_plan(layout, chain, pins),)
    return (_hold(layout, pins, pins.plan), *_movement(layout, pins, pins.plan))


def what_would_hold(layout: Layout, chain: GuideChain, pins: PinLayout) -> str:
    """Every way out where no plan holds a template, with its sizes.

    Args:
        pins: without a plan.
    Returns:
        str: whole sentences.
    """
    unit, body_in = layout.job.unit, widest_body_in(layout, chain)
    template = layout.job.template
    assert template is not None  # a chain comes from a template
    ways = []
    if pins.border_in is not None and template.border.inch < pins.border_in:
        ways.append(
            f"a border of {length_words(pins.border_in, unit)} or more round the window (it has "
            f"{length_words(template.border.inch, unit)}), with clamps {length_words(pins.clear_in, unit)} or more "
            "outside the rough line"
        )
    if body_in is not None:
        ways.append(
            f"a tool whose body is {length_words(body_in, unit)} or less where it stands on the skin (cutter.body)"
        )
    if chain.guide.kind == "male":
        ways.append(
            'a window (cutter.template = "female"), held by rivet holes or by clamps beyond the tool\'s reach'
        )
    said = "; or ".join(ways) if ways else "nothing that was tried here: ask an engineer how it is to be held"
    return f"What would hold it: {said}."


def pins_not_planned(layout: Layout) -> tuple[Finding, ...]:
    """Say what is missing before the pins of a template can be planned.

    Args:
        layout: as derived, of a job with a template.
    Returns:
        tuple: T501 with every missing size, or nothing when the sizes are there.
    """
    cutter, template = layout.job.cutter, layout.job.template
    sizes = {
        "cutter.body": cutter and cutter.body,
        "template.pin_body": template and template.pin_body,
        "template.pin_clearance": template and template.pin_clearance,
    }
    missing = [field for field, size in sizes.items() if not size]
    if not {"cutter.body", "template.pin_body"} & set(missing):
        return ()
    return (
        answer(
            "T501",
            Status.UNKNOWN,
            "what holds the template while the cutter passes was not planned",
            source=_PRACTICE,
            grade=Grade.PRACTICE,
            advice=f"Measure and enter {', '.join(missing)}.",
        ),
    )


def _no_plan(layout: Layout, chain: GuideChain, pins: PinLayout) -> Finding:
    """T501: there is a plan."""
    unit = layout.job.unit
    if chain.guide.kind == "female":
        why = (
            f"Whatever holds the template must stand {length_words(pins.clear_in, unit)} or more outside the rough "
            "line to be out of the tool's way."
        )
    else:
        inside_in = pins.reach_in - chain.guide.guide_in / 2.0
        why = (
            f"Pins in the waste must stand {length_words(inside_in, unit)} or more inside the plug's edge to be out of "
            "the tool's way, and are too close together there to hold it."
        )
    return answer(
        "T501",
        Status.STOP,
        f"no plan in three stages holds the template with {LEAST_PINS} pins or more out of {len(pins.pins)}",
        source=_PRACTICE,
        grade=Grade.PRACTICE,
        advice=f"{why} {what_would_hold(layout, chain, pins)}",
    )


def _hold(layout: Layout, pins: PinLayout, plan: PinPlan) -> Finding:
    """T501: in the loosest stage the edge moves no farther than the pins are loose; clamps hold by their grip alone."""
    loosest = max(plan.stages, key=lambda stage: stage.hold_ratio)
    stages, counts = (
        f"{len(plan.stages)} stage{'s' * (len(plan.stages) > 1)}",
        " + ".join(str(len(stage.pins)) for stage in plan.stages),
    )
    what = (
        "clamps"
        if len(pins.clamps) == len({index for stage in plan.stages for index in stage.pins})
        else "pins"
    )
    if pins.clamps and what == "pins":
        what = "pins and clamps"
    return answer(
        "T501",
        Status.CAUTION if pins.clamps else Status.PASS,
        f"hold of the template in {stages}, {what} {counts}",
        value=plan.hold_ratio,
        limit=LOOSEST_HOLD,
        unit="-",
        source=_PRACTICE,
        grade=Grade.PRACTICE,
        working=(_working(loosest),),
        advice=f"It is held by {named(layout, list(pins.clamps))}, by their grip alone: no pin keeps it in its place. "
        f"Set each {length_words(pins.clear_in, layout.job.unit)} or more outside the rough line. Prove on scrap that "
        "they hold, and look at the centre lines again before every stage.",
    )


def _working(stage: Stage) -> Working:
    return Working(
        "g = sqrt(1/n + |q-c|^2 / sum|p-c|^2) at the worst place q",
        (
            Quantity("n", float(len(stage.pins)), "pins"),
            Quantity("q x", stage.worst[0], "in"),
            Quantity("q y", stage.worst[1], "in"),
        ),
        Quantity("g", stage.hold_ratio, "-"),
        _FORM,
        Grade.COMPUTED,
    )


def _movement(layout: Layout, pins: PinLayout, plan: PinPlan) -> Iterator[Finding]:
    """T502: loose pins do not let the edge move by more than is left to be filed."""
    cutter, template = layout.job.cutter, layout.job.template
    if cutter is None or template is None or not _has_pins(pins, plan):
        return
    if template.pin_clearance is None:
        yield answer(
            "T502",
            Status.CAUTION,
            "how loose the pins are was not measured",
            source=_FORM,
            advice="Measure how much larger than its fastener a pilot hole may be, and enter template.pin_clearance.",
        )
        return
    moves_in = plan.hold_ratio * template.pin_clearance.inch
    allowance_in = cutter.filing_allowance.inch
    yield answer(
        "T502",
        Status.PASS if moves_in <= allowance_in else Status.CAUTION,
        "movement of the template's edge with pins loose by "
        f"{length_words(template.pin_clearance.inch, layout.job.unit)}",
        value=moves_in,
        limit=allowance_in,
        source=_FORM,
        advice="More than is left to be filed: use pins that fit better, or spread them farther.",
    )


def _has_pins(pins: PinLayout, plan: PinPlan) -> bool:
    """Whether anything but clamps holds, which have no play."""
    return any(not pins.pins[index].is_clamp for stage in plan.stages for index in stage.pins)
