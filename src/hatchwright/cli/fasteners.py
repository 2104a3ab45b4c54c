"""`hatchwright fasteners`: what to order, drill and drive."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from pathlib import Path

import click

from hatchwright.cli.frame import job_command, put_json, words
from hatchwright.cli.verdict_lines import end_with, finding_lines
from hatchwright.job.job import Job
from hatchwright.judged import Status
from hatchwright.recipe.cover_hardware import Counted, CoverHardware, NutplateRivets
from hatchwright.recipe.fastener_choice import HeldBy, RivetChoice, missed_by, sizes_asked
from hatchwright.recipe.hole_drills import drill_named, drill_said, step_said
from hatchwright.recipe.sheet_work import LayerWork
from hatchwright.said import Amount, Listed, Said, Value, inch, said
from hatchwright.tables.driven_heads import DrivenHead
from hatchwright.units import Unit, nearest_64th
from hatchwright.words.of_job import said_of
from hatchwright.workflow.fasteners import (
    NEXT_SIZE,
    SCREWS,
    FastenerReport,
    choose_fasteners,
    fastener_values,
)

LIGHT_AIRCRAFT_LB = 5000.0
"""Empty weight below which the negligible weight of `mass_negligible_light` holds [lb]."""


@job_command("fasteners", words("command.fasteners.help"))
def command(job: Path, as_json: bool, shop: Path | None) -> None:
    """Say what to order, drill and drive for each kind of hole, and what the new parts weigh."""
    report = choose_fasteners(job, shop=shop)
    if as_json:
        put_json(fastener_values(report))
    else:
        click.echo("\n".join(fastener_lines(report)))
    end_with(report.examination, shown=not as_json)


def fastener_lines(report: FastenerReport) -> Iterator[str]:
    """Everything that is to be ordered, drilled and driven, and what it weighs."""
    unit = report.job.unit
    yield report.job.title
    for choice in report.rivets:
        yield ""
        part, count = str(choice.part), len(choice.holes)
        yield words("command.fasteners.rivets", n=count, part=part, order=choice.order)
        yield from _rivet(choice, report.job)
    for one in report.unlisted:
        yield ""
        yield words("command.fasteners.rivets", n=one.count, part=one.name, order=one.order)
        yield words("command.fasteners.grip_unlisted", unit, grip=inch(one.grip_in))
        yield from (_work(layer, report.job) for layer in one.layers)
        yield from _lacks((one.what,), unit)
    yield from _judged(report, NEXT_SIZE, "command.fasteners.oversize")
    if report.cover:
        yield from _cover(report.cover, report.job)
        yield from _judged(report, SCREWS, "command.fasteners.screw_checks")
    yield from _weight(report, unit)


def _weight(report: FastenerReport, unit: Unit) -> Iterator[str]:
    weight, few = report.weight, report.negligible
    yield ""
    yield words("command.fasteners.weight")
    for one in weight.masses:
        mass, u = Amount(one.mass_lb, "lb"), Amount(one.uncertainty_lb, "lb", toward="up")
        yield words("command.fasteners.mass", unit, part=one.name, mass=mass, u=u, grade=one.working.grade)
    total, unsure = Amount(weight.total_lb, "lb"), Amount(weight.uncertainty_lb, "lb", toward="up")
    yield words("command.fasteners.total", unit, mass=total, u=unsure)
    if weight.not_weighed:
        yield words("command.fasteners.not_weighed", parts=Listed(tuple(weight.not_weighed), ";"))
    weights = {"empty": Amount(LIGHT_AIRCRAFT_LB, "lb"), "few": Amount(few.value, "lb")}
    yield words("command.fasteners.negligible", unit, **weights, source=str(few.source), grade=few.grade)


def _rivet(choice: RivetChoice, job: Job) -> Iterator[str]:
    unit = job.unit
    sheets = tuple(
        said(
            "command.fasteners.ear_in_grip" if layer.part == "ears" else "command.fasteners.sheet_in_grip",
            part=_part(layer, job),
            thickness=inch(layer.thickness_in),
        )
        for layer in choice.layers
    )
    grip, length = inch(choice.grip_in), inch(choice.calculated_in, fine=True)
    yield words("command.fasteners.grip", unit, grip=grip, sheets=Listed(sheets, ","), length=length)
    for head in choice.lengths:
        documents = tuple(missed_by(head, choice.heads))
        id = "command.fasteners.length_misses" if documents else "command.fasteners.length"
        part, ratio = str(head.rivet), Amount(head.diameter_in / choice.part.diameter_in, "D")
        width = inch(head.diameter_in)
        yield words(id, unit, part=part, width=width, ratio=ratio, documents=Listed(documents))
    for asked in choice.heads:
        yield _head(asked, unit)
    for reading in choice.diameters:
        working, size = reading.working, _size(reading.working.result.value, unit)
        ground = {"source": str(working.source), "grade": working.grade}
        yield words("command.fasteners.diameter", unit, formula=reading.says, size=size, **ground)
    yield from _final(choice, unit)
    for held in choice.held_by:
        yield _held(held, unit)
    for layer in choice.layers:
        yield _work(layer, job)
    for spread in dict.fromkeys(filter(None, choice.spreads)):
        yield words("command.fasteners.line", unit, line=spread)
    yield from _lacks(choice.lacks, unit)


def _held(held: HeldBy, unit: Unit) -> str:
    one, loose_in = held.fastener, held.loose_over_in
    notes: list[Value] = [one.note] if one.note else []
    notes += [said("table.fastener_loose", greatest=inch(loose_in))] if loose_in is not None else []
    id = "command.fasteners.temporary_with_note" if notes else "command.fasteners.temporary"
    ground: dict[str, Value] = {"source": str(one.source), "grade": one.grade}
    size, note = _size(one.diameter_in, unit), Listed(tuple(notes), ";")
    return words(id, unit, size=size, color=one.colour, **ground, note=note)


def _final(choice: RivetChoice, unit: Unit) -> Iterator[str]:
    limits = dict(zip(("least", "greatest"), map(inch, choice.hole_range_in or ()), strict=False))
    for drill in choice.final_drills:
        id = "command.fasteners.final" if limits else "command.fasteners.final_not_listed"
        yield words(id, unit, drill=drill_said(drill), **limits)
    if not choice.final_drills:
        yield words("command.fasteners.final_not_known")
    if choice.next_size_in:
        yield words("command.fasteners.next_size", unit, size=_size(choice.next_size_in, unit))


def _head(asked: DrivenHead, unit: Unit) -> str:
    """What a document asks of the shop head, as far as it says."""
    ground = {"source": str(asked.source), "grade": asked.grade}
    return words("command.fasteners.head", unit, document=asked.document, sizes=sizes_asked(asked), **ground)


def _judged(report: FastenerReport, codes: tuple[str, ...], heading: str) -> Iterator[str]:
    findings = [finding for finding in report.judged if finding.code in codes]
    if findings:
        yield ""
        yield words(heading)
    for finding in findings:
        for line in finding_lines(finding, report.job.unit):
            yield words("command.fasteners.line", line=line)


_HOW = {
    "plain": "command.fasteners.plain",
    "dimple": "command.fasteners.dimple",
    "countersink": "command.fasteners.countersink",
    "": "command.fasteners.not_known",
}


def _work(layer: LayerWork, job: Job) -> str:
    steps = tuple(step_said(step, drill_named(step.drill)) for step in layer.steps)
    why = "_why" if layer.why and layer.preparation != "plain" else ""
    id = f"command.fasteners.work{why}{'_steps' if steps else ''}"
    how = said(_HOW[layer.preparation])
    return words(id, job.unit, part=_part(layer, job), how=how, why=layer.why, steps=Listed(steps, ","))


def _part(layer: LayerWork, job: Job) -> Said:
    return said_of(job.kind, said(f"part.{layer.part}"))


def _lacks(lacks: Iterable[Value], unit: Unit) -> Iterator[str]:
    for lack in lacks:
        yield words("command.fasteners.lacks", unit, status=Status.UNKNOWN, what=lack)


def _cover(cover: CoverHardware, job: Job) -> Iterator[str]:
    unit = job.unit
    yield ""
    screw, order = cover.screws.name, cover.screws.order
    yield words("command.fasteners.screws", unit, n=len(cover.holes), screw=screw, order=order)
    yield _counted(cover.nuts, unit)
    if cover.washers:
        yield _counted(cover.washers, unit)
    if cover.least_length_in is None:
        yield words("command.fasteners.grip_unlisted", unit, grip=inch(cover.grip_in))
    else:
        yield _screw_length(cover, cover.least_length_in, unit)
    for layer in cover.layers:
        yield _work(layer, job)
    yield from _lacks(cover.lacks, unit)
    if cover.strap:
        sheet, thickness = cover.strap, inch(cover.strap.thickness_in)
        yield words(
            "command.fasteners.strap", unit, alloy=sheet.alloy, temper=sheet.temper, thickness=thickness
        )
    if cover.rivets:
        yield from _nutplate_rivets(cover.rivets, job)


def _screw_length(cover: CoverHardware, least_in: float, unit: Unit) -> str:
    endings = ("", "_no_nut") if cover.length_in else ("_not_entered", "_nothing_entered")
    id = f"command.fasteners.screw_length{endings[0 if cover.nut_in else 1]}"
    entered, nut = inch(cover.length_in or 0.0), inch(cover.nut_in or 0.0)
    return words(id, unit, grip=inch(cover.grip_in), least=inch(least_in), entered=entered, nut=nut)


def _counted(parts: Counted, unit: Unit) -> str:
    id = "command.fasteners.counted_only" if parts.only else "command.fasteners.counted"
    counted: dict[str, Value] = {"part": parts.name, "count": parts.count, "order": parts.order}
    ground: dict[str, Value] = {"source": str(parts.source), "grade": parts.grade or ""}
    return words(id, unit, **counted, only=parts.only or "", **ground)


def _nutplate_rivets(rivets: NutplateRivets, job: Job) -> Iterator[str]:
    unit = job.unit
    seat = rivets.seat
    for told in (seat.told, seat.lugs_told, *((seat.ears_told,) if seat.rivet else ()), seat.drilled_told):
        yield words("command.fasteners.line", unit, line=told)
    yield ""
    counts: dict[str, Value] = {"count": rivets.count, "order": rivets.order}
    if rivets.choice is None:
        yield words("command.fasteners.nutplate_rivets_unknown", **counts)
        yield from _lacks((rivets.seat.unlisted or said("command.fasteners.enter_nut_rivet"),), unit)
        return
    yield words("command.fasteners.nutplate_rivets", part=str(rivets.choice.part), **counts)
    yield from _rivet(rivets.choice, job)


def _size(diameter_in: float, unit: Unit) -> Value:
    """A rivet's diameter, as the fraction that it is known by."""
    if unit == "in" and diameter_in * 64.0 % 1.0 == 0.0:
        return said("command.fasteners.fraction", fraction=nearest_64th(diameter_in))
    return said("command.fasteners.diameter_alone", diameter=inch(diameter_in, fine=True))
