"""T5xx: whether temporary fasteners hold the template in every stage while the cutter passes them."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.finding import Finding, Grade, Quantity, Source, Status, Working
from hatchwright.layout.layout import Layout
from hatchwright.tooling.answer import answer
from hatchwright.tooling.guide_template import GuideChain
from hatchwright.tooling.pin_layout import PinLayout
from hatchwright.tooling.pin_plan import LEAST_PINS, LOOSEST_HOLD, PinPlan, Stage
from hatchwright.units import decimal_inch

_FORM = Source("GEOMETRY", "docs/theory/pins.md")
_PRACTICE = Source("PRACTICE", "hold of a template; docs/theory/pins.md")


def pin_findings(layout: Layout, chain: GuideChain, pins: PinLayout) -> tuple[Finding, ...]:
    """Judge the pins of a job.

    Args:
        layout: as derived.
        chain: its template.
        pins: planned.
    Returns:
        tuple: findings in the order of their code.
    """
    if pins.plan is None:
        return (_no_plan(chain, pins),)
    return (_hold(pins.plan), *_movement(layout, pins.plan))


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


def _no_plan(chain: GuideChain, pins: PinLayout) -> Finding:
    """T501: there is a plan."""
    border_in = pins.reach_in - chain.guide.guide_in / 2.0
    if chain.guide.kind == "female":
        advice = (
            f"Clamp the template at least {decimal_inch(pins.clear_in)} outside the rough line, which takes a border "
            f"of more than {decimal_inch(border_in)} round the window; or use a plug held by pins in the waste; or a "
            "tool with a smaller body."
        )
    else:
        advice = (
            f"Pins in the waste must stand {decimal_inch(border_in)} inside the plug's edge, where they leave no room "
            "to hold it. Use a tool with a smaller body, or a window with clamps beyond its reach."
        )
    return answer(
        "T501",
        Status.STOP,
        f"no plan in three stages holds the template with {LEAST_PINS} pins or more out of {len(pins.pins)}",
        source=_PRACTICE,
        grade=Grade.PRACTICE,
        advice=advice,
    )


def _hold(plan: PinPlan) -> Finding:
    """T501: in the loosest stage the edge moves no farther than the pins are loose."""
    loosest = max(plan.stages, key=lambda stage: stage.hold_ratio)
    return answer(
        "T501",
        Status.PASS,
        f"hold of the template in {len(plan.stages)} stage{'s' * (len(plan.stages) > 1)}, pins "
        + " + ".join(str(len(stage.pins)) for stage in plan.stages),
        value=plan.hold_ratio,
        limit=LOOSEST_HOLD,
        unit="-",
        source=_PRACTICE,
        grade=Grade.PRACTICE,
        working=(_working(loosest),),
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


def _movement(layout: Layout, plan: PinPlan) -> Iterator[Finding]:
    """T502: loose pins do not let the edge move by more than is left to be filed."""
    cutter, template = layout.job.cutter, layout.job.template
    if cutter is None or template is None:
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
        f"movement of the template's edge with pins loose by {template.pin_clearance.text}",
        value=moves_in,
        limit=allowance_in,
        source=_FORM,
        advice="More than is left to be filed: use pins that fit better, or spread them farther.",
    )
