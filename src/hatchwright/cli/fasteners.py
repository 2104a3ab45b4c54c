"""`hatchwright fasteners`: what to order, drill and drive."""

from __future__ import annotations

import json
from pathlib import Path

import click

from hatchwright.cli.shop_option import shop_option
from hatchwright.tooling.fastener_choice import LayerWork, RivetChoice, ScrewChoice
from hatchwright.units import decimal_inch
from hatchwright.workflow.fasteners import FastenerReport, choose_fasteners, fastener_values


@click.command(name="fasteners")
@click.argument("job", type=click.Path(path_type=Path))
@click.option("--json", "as_json", is_flag=True, help="Print for programs instead of people.")
@shop_option
def command(job: Path, as_json: bool, shop: Path | None) -> None:
    """Say what to order, drill and drive for each kind of hole, and what the new parts weigh.

    Rivet diameters by each document side by side, lengths to the nearest sixteenth and to the next one up with the shop
    head each would make, drills for each sheet, and the range for the finished hole.
    """
    report = choose_fasteners(job, shop=shop)
    if as_json:
        click.echo(json.dumps(fastener_values(report), indent=2, ensure_ascii=False))
        return
    click.echo(report.job.title)
    for choice in report.rivets:
        _rivet(choice)
    if report.screws:
        _screws(report.screws)
    _weight(report)
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


def _rivet(choice: RivetChoice) -> None:
    least, most = choice.hole_range_in
    click.echo(f"\n{choice.part}: {len(choice.holes)} holes, order {choice.order}")
    stack = " + ".join(f"{layer.part} {decimal_inch(layer.thickness_in)}" for layer in choice.layers)
    click.echo(
        f"  grip {decimal_inch(choice.grip_in)} ({stack}), length by formula {decimal_inch(choice.calculated_in, 4)}"
    )
    for head in choice.lengths:
        ratio = head.diameter_in / choice.part.diameter_in
        click.echo(
            f"    {choice.numbered(head)}: shop head {decimal_inch(head.diameter_in)} ({ratio:.2f}D) at half a D high"
        )
    for reading in choice.diameters:
        click.echo(
            f"    {reading.formula}: {reading.result.value:.4g} in [{reading.source}; {reading.grade}]"
        )
    click.echo(
        f"  final drill {choice.drill[0]} ({decimal_inch(choice.drill[1], 4)}), hole {least:.3f} to {most:.3f}"
    )
    if choice.next_size_in:
        click.echo(
            f"  next size {choice.next_size_in:g} in, where edge distance and spacing hold (R105, R201)"
        )
    for layer in choice.layers:
        click.echo(
            f"  {layer.part}: {layer.preparation or 'neither dimple nor countersink'}; {_steps(layer)}"
        )


def _steps(layer: LayerWork) -> str:
    return ", then ".join(
        f"{step.operation} {step.drill}" if step.drill else step.operation for step in layer.steps
    )


def _screws(screws: ScrewChoice) -> None:
    click.echo(f"\n{screws.thread} screws: {len(screws.holes)} holes")
    given = f"{screws.length_in:g}" if screws.length_in else "not given"
    click.echo(
        f"  grip {decimal_inch(screws.grip_in)}, at least {decimal_inch(screws.least_length_in)} and the nut; {given}"
    )
    click.echo(
        f"  drill {screws.drill[0]} ({decimal_inch(screws.drill[1], 4)}) [{screws.source}; {screws.grade}]"
    )
