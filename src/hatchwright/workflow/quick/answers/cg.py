"""Revised weight and center of gravity of one part that is put in or taken out."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Annotated, Literal

from hatchwright.airworthiness.balance import Weighed, balance_of
from hatchwright.airworthiness.negligible import negligible_findings
from hatchwright.errors import EntryError
from hatchwright.finding import Finding
from hatchwright.job.amount import EmptyWeight, Weight
from hatchwright.job.entry import Coordinate, Entered, Positive, SameAs, Thickness
from hatchwright.job.skin import Sheet
from hatchwright.layout.mass import Mass, sheet_mass
from hatchwright.said import Amount, inch, said
from hatchwright.tables.materials import sheet
from hatchwright.words.amounts import hundredth_lb
from hatchwright.workflow.quick.answer import Answer, Bench, Quick, Told, at, entered, told
from hatchwright.workings import Quantity, Working


class CgAsked(Entered):
    """The aircraft as it was weighed last, and the part: by its weight, or by its sheet."""

    empty_weight: EmptyWeight
    empty_arm: Coordinate
    change: Literal["put in", "taken out"] = "put in"
    arm: Coordinate
    weight: Weight | None = None
    alloy: Annotated[str | None, SameAs(Sheet, "alloy")] = None
    temper: Annotated[str | None, SameAs(Sheet, "temper")] = None
    thickness: Annotated[Thickness | None, SameAs(Sheet, "thickness")] = None
    width: Positive | None = None
    height: Positive | None = None
    window_width: Positive | None = None
    window_height: Positive | None = None
    mean_chord: Positive | None = None


def _answer(asked: CgAsked, bench: Bench) -> Answer:
    part = _sheet(asked, bench) if asked.weight is None else None
    part_lb = part.mass_lb if part else float(asked.weight or 0.0)
    sign = 1.0 if asked.change == "put in" else -1.0
    before = Weighed(float(asked.empty_weight), asked.empty_arm.inch)
    with at("weight"):
        after = balance_of((before, Weighed(sign * part_lb, asked.arm.inch)))
    open_ = [said("quick.cg.open.limits"), said("quick.cg.open.weighed")]
    if part:
        out = Amount(part.uncertainty_lb, "lb", toward="up")
        open_.insert(0, said("quick.cg.open.estimated", out=out))
    if asked.mean_chord is None:
        open_.append(said("quick.cg.open.chord"))
    findings = tuple(_findings(asked, before, after.total, part, bench))
    numbers = tuple(_told(before, after.total, after.working, part, part_lb, bench))
    return Answer(findings, numbers, tuple(open_))


def _sheet(asked: CgAsked, bench: Bench) -> Mass:
    """The part by its sheet, its window left out."""
    wanted = {name: getattr(asked, name) for name in ("alloy", "temper", "thickness", "width", "height")}
    missing = next((name for name, value in wanted.items() if value is None), "")
    if asked.alloy is None or asked.temper is None or not (asked.thickness and asked.width and asked.height):
        with at("weight" if missing == "alloy" else missing):
            raise EntryError.saying("quick.cg.weight_or_sheet")
    area = asked.width.inch * asked.height.inch
    if (asked.window_width is None) != (asked.window_height is None):
        with at("window_height" if asked.window_width else "window_width"):
            raise EntryError.saying("quick.cg.half_window")
    if asked.window_width and asked.window_height:
        if asked.window_width.inch >= asked.width.inch or asked.window_height.inch >= asked.height.inch:
            with at("window_width" if asked.window_width.inch >= asked.width.inch else "window_height"):
                raise EntryError.saying("quick.cg.large_window")
        area -= asked.window_width.inch * asked.window_height.inch
    with at("alloy"):
        per_in3 = sheet(asked.alloy, asked.temper, False, bench.shop).density
    return sheet_mass("part", area, asked.thickness.inch, per_in3)


def _findings(
    asked: CgAsked, before: Weighed, after: Weighed, part: Mass | None, bench: Bench
) -> Iterator[Finding]:
    """Whether the change is one that may be neglected; who weighs it decides what is done about it."""
    yield from negligible_findings(
        before,
        after,
        bench.limit,
        change_lb=part.mass_lb if part else float(asked.weight or 0.0),
        u_lb=part.uncertainty_lb if part else 0.0,
        chord_in=asked.mean_chord.inch if asked.mean_chord else None,
        may_count=part is None or part.working.grade.may_stop,
    )


def _told(
    before: Weighed, after: Weighed, by_moments: Working, part: Mass | None, part_lb: float, bench: Bench
) -> Iterator[Told]:
    weights = (Quantity("before", before.weight_lb, "lb"), Quantity("part", part_lb, "lb"))
    summed = Working.resting_on(
        by_moments, "W = sum of weights", Quantity("W", after.weight_lb, "lb"), *weights
    )
    yield told("cg.weight", Amount(hundredth_lb(after.weight_lb, bench.unit), "lb"), summed)
    yield told("cg.arm", inch(after.arm_in, beside_in=before.arm_in), by_moments)
    moment = Working.resting_on(
        by_moments,
        "moment = W x CG",
        Quantity("moment", after.moment_lb_in, "lb-in"),
        Quantity("W", after.weight_lb, "lb"),
        Quantity("CG", after.arm_in, "in"),
    )
    yield told("cg.moment", Amount(after.moment_lb_in, "lb-in"), moment)
    shift_in = after.arm_in - before.arm_in
    moved = Working.resting_on(by_moments, "shift = CG after - CG before", Quantity("shift", shift_in, "in"))
    yield told("cg.aft" if shift_in >= 0.0 else "cg.forward", inch(abs(shift_in), fine=True), moved)
    own = part.working if part else entered("weight", part_lb, "lb")
    yield told("cg.part", Amount(part_lb, "lb"), own)


QUICK = Quick("cg", CgAsked, _answer)
