"""`hatchwright fasteners`: what to order, drill and drive."""

from __future__ import annotations

import json
from pathlib import Path

import click

from hatchwright.cli.say_findings import IN_INCHES
from hatchwright.cli.shop_option import shop_option
from hatchwright.judged import Status
from hatchwright.making.cover_hardware import Counted, CoverHardware, NutplateRivets
from hatchwright.making.fastener_choice import RivetChoice
from hatchwright.making.hole_aids import missed_by
from hatchwright.making.hole_work import LayerWork
from hatchwright.said import Said
from hatchwright.tables.driven_heads import DrivenHead
from hatchwright.units import Unit, figure, nearest_64th
from hatchwright.words.tell import tell
from hatchwright.workflow.fasteners import (
    NEXT_SIZE,
    SCREWS,
    FastenerReport,
    choose_fasteners,
    fastener_values,
)
from hatchwright.workflow.finding_lines import finding_lines


@click.command(name="fasteners")
@click.argument("job", type=click.Path(path_type=Path))
@click.option("--json", "as_json", is_flag=True, help="Print for programs instead of people.")
@shop_option
def command(job: Path, as_json: bool, shop: Path | None) -> None:
    """Say what to order, drill and drive for each kind of hole, and what the new parts weigh.

    Rivet diameters by each document side by side, lengths to the nearest sixteenth and to the next one up with the shop
    head each would make, drills and dimples of each sheet in the order of the work, and the range for the finished
    hole. Screws, nuts and the rivets of nutplates are counted. What the tables don't say is said to be missing.
    """
    report = choose_fasteners(job, shop=shop)
    if as_json:
        click.echo(json.dumps(fastener_values(report), indent=2, ensure_ascii=False))
        return
    click.echo(report.job.title)
    unit: Unit = "mm" if report.job.units == "mm" else "in"
    for choice in report.rivets:
        click.echo(f"\n{choice.part}: {_holes(choice.holes)}, order {choice.order}")
        _rivet(choice, unit)
    _judged(report, NEXT_SIZE, "The next size, where a hole is spoilt:")
    if report.cover:
        _cover(report.cover, unit)
        _judged(report, SCREWS, "The screws:")
    _weight(report)
    if unit == "mm":
        click.echo(IN_INCHES)
    click.echo("Calculation aid: not approved data.")


def _weight(report: FastenerReport) -> None:
    weight, few = report.weight, report.negligible
    click.echo("\nWeight, sheet by area and fasteners by volume where the shop has not weighed them:")
    for mass in weight.masses:
        click.echo(
            f"  {mass.name:<34}{mass.mass_lb:+.4f} +- {mass.uncertainty_lb:.4f} lb [{mass.working.grade}]"
        )
    click.echo(f"  {weight.words}")
    click.echo(
        f"  An aircraft under 5000 lb empty may leave up to {few.value:g} lb in all out of account "
        f"[{few.source}; {few.grade}]"
    )


def _rivet(choice: RivetChoice, unit: Unit, ear: str = "") -> None:
    stack = " + ".join(f"{layer.part} {figure(layer.thickness_in, unit)}" for layer in choice.layers)
    click.echo(
        f"  grip {_length(choice.grip_in, unit)} ({stack}{ear}), "
        f"length by formula {_length(choice.calculated_in, unit, fine=True)}"
    )
    for head in choice.lengths:
        ratio = head.diameter_in / choice.part.diameter_in
        click.echo(
            f"    {choice.numbered(head)}: shop head {_length(head.diameter_in, unit)} ({ratio:.2f}D) at half a D high"
            + "".join(f", misses {document}" for document in missed_by(head, choice.heads))
        )
    for asked in choice.heads:
        click.echo(f"    {_head(asked, unit)} [{asked.source}; {asked.grade}]")
    for reading in choice.diameters:
        click.echo(
            f"    {tell(reading.says, unit)}: {_size(reading.working.result.value, unit)} "
            f"[{reading.working.source}; {reading.working.grade}]"
        )
    if choice.drill:
        hole = "not listed"
        if choice.hole_range_in:
            least, most = (figure(value, unit) for value in choice.hole_range_in)
            hole = f"{least} to {most} {unit}"
        click.echo(
            f"  final drill {choice.drill[0]} ({_length(choice.drill[1], unit, fine=True)}), finished hole {hole}"
        )
    if choice.next_size_in:
        click.echo(
            f"  next size {_size(choice.next_size_in, unit)}, where edge distance and spacing hold (R105, R214)"
        )
    for held in choice.held_by:
        note = f", {held.note}" if held.note else ""
        click.echo(
            f"  temporary fastener {_size(held.diameter_in, unit)}, {held.colour}{note} [{held.source}; {held.grade}]"
        )
    _layers(choice.layers, unit)
    for said in choice.spreads:
        click.echo(f"  {tell(said, unit)}")
    _lacks(choice.lacks, unit)


def _head(asked: DrivenHead, unit: Unit) -> str:
    """What a document asks of the shop head, in words."""
    said = (
        ("aim", asked.head_aim_in, asked.height_aim_in),
        ("at least", asked.head_min_in, asked.height_min_in),
        ("at most", asked.head_max_in, asked.height_max_in),
    )
    words = [
        f"{word} "
        + " and ".join(
            f"{_length(value, unit)} {way}" for value, way in ((wide_in, "wide"), (high_in, "high")) if value
        )
        for word, wide_in, high_in in said
        if wide_in or high_in
    ]
    return f"{asked.document}: shop head {', '.join(words)}"


def _judged(report: FastenerReport, codes: tuple[str, ...], title: str) -> None:
    findings = [finding for finding in report.judged if finding.code in codes]
    if findings:
        click.echo(f"\n{title}")
    for finding in findings:
        for line in finding_lines(finding, report.job.unit):
            click.echo(f"  {line}")


def _holes(numbers: tuple[int, ...]) -> str:
    return f"{len(numbers)} hole{'' if len(numbers) == 1 else 's'}"


def _layers(layers: tuple[LayerWork, ...], unit: Unit) -> None:
    for layer in layers:
        how = layer.preparation or "neither dimple nor countersink"
        why = f" ({tell(layer.why, unit)})" if layer.preparation != "plain" else ""
        click.echo(
            f"  {layer.part}: {how}{why}; {_steps(layer)}" if layer.steps else f"  {layer.part}: {how}{why}"
        )


def _steps(layer: LayerWork) -> str:
    return ", then ".join(
        f"{step.operation} {step.drill}" if step.drill else step.operation for step in layer.steps
    )


def _lacks(lacks: tuple[Said, ...], unit: Unit) -> None:
    for said in lacks:
        click.echo(f"  {tell(Status.UNKNOWN)} {tell(said, unit)}")


def _cover(cover: CoverHardware, unit: Unit) -> None:
    click.echo(f"\n{tell(cover.screws.name, unit)} screws: {_holes(cover.holes)}, order {cover.screws.order}")
    click.echo(f"  {_counted(cover.nuts, unit)}")
    if cover.washers:
        click.echo(f"  {_counted(cover.washers, unit)}")
    click.echo(f"  grip {_length(cover.grip_in, unit)}, {_screw_length(cover, unit)}")
    _layers(cover.layers, unit)
    _lacks(cover.lacks, unit)
    if cover.rivets:
        _nutplate_rivets(cover.rivets, unit)


def _screw_length(cover: CoverHardware, unit: Unit) -> str:
    given = f"entered {_length(cover.length_in, unit)}" if cover.length_in else "none is entered"
    least = _length(cover.least_length_in, unit)
    if cover.nut_in:
        return f"length at least {least} with a nut of {_length(cover.nut_in, unit)} and one thread; {given}"
    return f"length at least {least} and the height of the nut (enter cover.screws.nut_height); {given}"


def _counted(parts: Counted, unit: Unit) -> str:
    only = f", {tell(parts.only, unit)} [{parts.source}; {parts.grade}]" if parts.only else ""
    return f"{tell(parts.name, unit)}: {parts.count}, order {parts.order}{only}"


def _nutplate_rivets(rivets: NutplateRivets, unit: Unit) -> None:
    if rivets.choice is None:
        click.echo(f"\nRivets of the nutplates: {rivets.count}, order {rivets.order}")
        click.echo("  NOT SHOWN which: enter cover.screws.nut_rivet, without the length")
        return
    click.echo(f"\n{rivets.choice.part} for the nutplates, two each: {rivets.count}, order {rivets.order}")
    _rivet(rivets.choice, unit, f" + ear {figure(rivets.ear_in, unit)}, common practice: measure it")


def _size(diameter_in: float, unit: Unit) -> str:
    """A rivet's diameter, as the fraction that it is known by."""
    is_fraction = unit == "in" and diameter_in * 64.0 % 1.0 == 0.0
    return f"{nearest_64th(diameter_in)} in" if is_fraction else _length(diameter_in, unit, fine=True)


def _length(value_in: float, unit: Unit, *, fine: bool = False) -> str:
    return f"{figure(value_in, unit, fine=fine)} {unit}"
