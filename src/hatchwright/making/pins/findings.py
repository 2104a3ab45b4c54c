"""T5xx: whether temporary fasteners hold the template in every stage while the cutter passes them."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.finding import Finding, held, stated
from hatchwright.ground import computed, practice
from hatchwright.judged import Measure, Status
from hatchwright.making.making import Making
from hatchwright.making.pins.notes import named
from hatchwright.making.pins.pin_layout import PinLayout, widest_body_in
from hatchwright.making.pins.plan import LEAST_PINS, LOOSEST_HOLD, PinPlan
from hatchwright.register import Entry, Shelf, enter
from hatchwright.said import Listed, Said, inch, missing, room, said
from hatchwright.workings import Quantity

_READS = ("cutter", "holes", "template", "wanted")
_THEORY = "docs/theory/pins.md"
_FORM = computed(_THEORY)
_PRACTICE = practice(f"hold of a template; {_THEORY}")

T501 = enter(Entry("T501", Shelf.HOLDS, step="template", reads=_READS, theory=_THEORY))
T502 = enter(Entry("T502", Shelf.SETTLE, step="template", reads=_READS, theory=_THEORY))


def pin_findings(making: Making, pins: PinLayout) -> tuple[Finding, ...]:
    """Judge the pins of a job."""
    if pins.plan is None:
        return (_no_plan(making, pins),)
    return (_hold(pins, pins.plan), *_movement(making, pins, pins.plan))


def what_would_hold(making: Making, pins: PinLayout) -> tuple[Said, ...]:
    """Every way out where no plan holds a template, with its sizes."""
    ways: list[Said] = []
    border_in = making.template.border.inch
    if pins.border_in is not None and border_in < pins.border_in:
        least, clear = missing(pins.border_in), missing(pins.clear_in)
        ways.append(said("T501.border", least=least, has=inch(border_in), clear=clear))
    body_in = widest_body_in(making)
    if body_in is not None:
        ways.append(said("T501.narrower_tool", body=room(body_in)))
    if not making.is_window:
        ways.append(said("T501.window"))
    return (said("T501.ways"), *ways) if ways else (said("T501.no_way"),)


def pins_not_planned(making: Making) -> tuple[Finding, ...]:
    """T501 with every size that is missing for a plan of the pins; nothing when they are there."""
    sizes = {
        "cutter.body": making.cutter.body,
        "template.pin_body": making.template.pin_body,
        "template.pin_clearance": making.template.pin_clearance,
    }
    lacking = tuple(field for field, size in sizes.items() if not size)
    if not {"cutter.body", "template.pin_body"} & set(lacking):
        return ()
    what, do = said("T501.not_planned"), (said(f"pins.enter.{field}") for field in lacking)
    return (stated("T501", Status.UNKNOWN, what, _PRACTICE, *do, enter=lacking),)


def _no_plan(making: Making, pins: PinLayout) -> Finding:
    """T501: there is a plan."""
    if making.is_window:
        why = said("T501.outside_line", clear=missing(pins.clear_in))
    else:
        why = said("T501.inside_plug", inside=missing(pins.reach_in - making.chain.guide.guide_in / 2.0))
    what, ways = said("T501.no_plan", least=LEAST_PINS, of=len(pins.pins)), what_would_hold(making, pins)
    return stated("T501", Status.STOP, what, _PRACTICE, why, *ways)


def _hold(pins: PinLayout, plan: PinPlan) -> Finding:
    """T501: in the loosest stage the edge moves no farther than the pins are loose; clamps hold by their grip alone."""
    loosest = max(plan.stages, key=lambda stage: stage.hold_ratio)
    counts = tuple(len(stage.pins) for stage in plan.stages)
    holding = {index for stage in plan.stages for index in stage.pins}
    what, advice = "pins", tuple[Said, ...]()
    if pins.clamps:
        what = "clamps" if len(pins.clamps) == len(holding) else "pins_and_clamps"
        grip = said("T501.grip", clamps=named(list(pins.clamps)), clear=missing(pins.clear_in))
        advice = (grip, said("T501.prove"))
    formula = "g = sqrt(1/n + |q-c|^2 / sum|p-c|^2) at the worst place q"
    held_by = Quantity("g", loosest.hold_ratio, "-"), Quantity("n", float(len(loosest.pins)), "pins")
    worst = (Quantity(f"q {axis}", at, "in") for axis, at in zip("xy", loosest.worst, strict=True))
    told = (_FORM.working(formula, *held_by, *worst),)
    status, limit = Status.CAUTION if pins.clamps else Status.PASS, LOOSEST_HOLD
    subject, ratio = said(f"T501.{what}", n=len(plan.stages), counts=Listed(counts, "+")), plan.hold_ratio
    return stated(
        "T501", status, subject, _PRACTICE, *advice, value=ratio, limit=limit, unit="-", working=told
    )


def _movement(making: Making, pins: PinLayout, plan: PinPlan) -> Iterator[Finding]:
    """T502: loose pins do not let the edge move by more than is left to be filed."""
    clearance = making.template.pin_clearance
    if all(pins.pins[index].is_clamp for stage in plan.stages for index in stage.pins):
        return  # clamps have no play
    if clearance is None:
        what, do = said("T502.not_measured"), said("pins.enter.template.pin_clearance")
        yield stated("T502", Status.CAUTION, what, _FORM, do, enter=("template.pin_clearance",))
        return
    moves = Measure("edge moves", plan.hold_ratio * clearance.inch, with_=(("g", plan.hold_ratio, "-"),))
    allowance_in = making.cutter.filing_allowance.inch
    judged = _FORM.at_most(moves, allowance_in, fails_as=Status.CAUTION)
    yield held("T502", judged, said("T502.subject", clearance=inch(clearance.inch)), said("T502.do"))
