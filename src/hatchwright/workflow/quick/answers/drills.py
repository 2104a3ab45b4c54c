"""Drill and dimple chain: every drill of a rivet hole, and how each sheet takes the head."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Annotated

from hatchwright.documents.countersink_limits import countersunk_across
from hatchwright.errors import TableError
from hatchwright.finding import Finding, stated
from hatchwright.job.entry import Diameter, Entered, SameAs
from hatchwright.job.fasteners import Preparation, RivetName
from hatchwright.job.rivet_rows import OffsetRow
from hatchwright.job.stack import Sheets, Stacked
from hatchwright.judged import Status
from hatchwright.recipe.fastener_choice import dimple_opens, held_by
from hatchwright.recipe.hole_drills import drill_named, drill_said, final_drills, step_said
from hatchwright.recipe.sheet_work import LayerWork, WorkedPart, stack_work
from hatchwright.remedy import ASK
from hatchwright.rules.rivet_choice import final_held
from hatchwright.said import Listed, Said, Value, inch, said
from hatchwright.tables.cited import Cited
from hatchwright.tables.drill_chain import DrillStep
from hatchwright.tables.instructions import instruction
from hatchwright.tables.rivet_part import RivetPart, parse_rivet
from hatchwright.tables.rivets import hole_range
from hatchwright.workflow.quick.answer import Answer, Bench, Quick, Told, listed, told
from hatchwright.workflow.quick.flush_sheets import FlushSheets
from hatchwright.workings import Quantity, Working

_PARTS: tuple[WorkedPart, ...] = ("skin", "doubler")
"""What a stack is worked as: the outer sheet of a hole, and those under it."""


class DrillsAsked(Entered):
    """A rivet, its sheets, and how they take its head."""

    rivet: Annotated[RivetName, SameAs(OffsetRow, "rivet")]
    sheets: Annotated[Sheets, SameAs(Stacked, "sheets")]
    preparation: Annotated[Preparation | None, SameAs(OffsetRow, "preparation")] = None
    pilot: Annotated[Diameter | None, SameAs(OffsetRow, "pilot")] = None
    final: Annotated[Diameter | None, SameAs(OffsetRow, "final")] = None


def _answer(asked: DrillsAsked, bench: Bench) -> Answer:
    part = parse_rivet(asked.rivet)
    sheets = tuple((_PARTS[min(n, 1)], each_in) for n, each_in in enumerate(asked.sheets.each_in))
    layers = stack_work(
        str(part), False, False, asked.preparation, asked.pilot, asked.final, None, sheets, bench.shop, None
    )
    unknown = () if final_drills(layers) else (said("quick.drills.not_known"),)
    open_ = [*unknown, *_lacks(layers), *filter(None, (dimple_opens(layer, bench.shop) for layer in layers))]
    if part.is_flush:
        open_.append(said("quick.drills.open.coupon"))
    open_.append(said("quick.drills.open.deburr"))
    flush = FlushSheets(part, layers, asked.preparation, bench)
    findings = (*_final(asked, part, bench), *(flush.findings() if part.is_flush else ()))
    return Answer(findings, tuple(_told(part, layers, bench)), tuple(dict.fromkeys(open_)))


def _lacks(layers: Sequence[LayerWork]) -> Iterator[Said]:
    for number, layer in enumerate(layers, start=1):
        for lack in layer.lacks:
            yield said("quick.drills.lacks", number=number, lack=lack)


def _final(asked: DrillsAsked, part: RivetPart, bench: Bench) -> Iterator[Finding]:
    """The last drill as it was entered; held to the hole of its rivet."""
    if asked.final is None:
        return
    subject = said("quick.drills.final", drill=asked.final.text, rivet=str(part))
    try:
        allowed = hole_range(part.diameter_in, bench.shop)
    except TableError:
        yield stated("R419", Status.UNKNOWN, subject, instruction("rule_head_vs_sheet"), ASK)
        return
    least, most = (
        Cited(size_in, "in", allowed.source, allowed.grade)
        for size_in in (allowed.least_in, allowed.greatest_in)
    )
    yield final_held(subject, asked.final.inch, least=least, most=most).of("R419")


def _told(part: RivetPart, layers: Sequence[LayerWork], bench: Bench) -> Iterator[Told]:
    for number, layer in enumerate(layers, start=1):
        steps = tuple(step_said(step, drill_named(step.drill)) for step in layer.steps)
        workings = tuple(_step(at, step) for at, step in enumerate(layer.steps, start=1))
        how = f"quick.drills.{layer.preparation or 'open_head'}"
        called: dict[str, Value] = {"number": number, "thickness": inch(layer.thickness_in), "how": said(how)}
        yield told("drills.sheet", Listed(steps, ","), *workings, **called)
        across = countersunk_across(part, layer, layers, bench.shop)
        if layer.preparation == "countersink" and across:
            size = said("quick.range", least=inch(across.least_in), most=inch(across.greatest_in))
            rests = tuple(listed(one, "across", across.greatest_in) for one in across.rests_on)
            yield told("drills.countersunk", size, *rests, number=number)
    for drill in final_drills(layers):
        yield told("drills.finished", drill_said(drill), listed(drill, "drill", drill.diameter_in))
    try:
        allowed = hole_range(part.diameter_in, bench.shop)
    except TableError:
        pass
    else:
        size = said("quick.range", least=inch(allowed.least_in), most=inch(allowed.greatest_in))
        yield told("drills.range", size, listed(allowed, "greatest", allowed.greatest_in))
    for one in held_by(layers, bench.shop):
        fastener = one.fastener
        on = listed(fastener, "diameter", fastener.diameter_in)
        yield told("drills.held_by", inch(fastener.diameter_in, fine=True), on, color=fastener.colour)


def _step(number: int, step: DrillStep) -> Working:
    """Where a step stands: its drill, or of one without a drill its number."""
    size = Quantity("drill", step.drill.diameter_in, "in") if step.drill else Quantity("step", number, "")
    return Working.resting_on(step, step.operation, size)


QUICK = Quick("drills", DrillsAsked, _answer)
