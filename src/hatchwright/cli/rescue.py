"""`hatchwright rescue`: the ways out of what was drilled or filed wrong."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path

import click

from hatchwright.cli.frame import job_command, put, put_json, words
from hatchwright.cli.lines import line_width, wrapped
from hatchwright.cli.progress_bar import progress_bar
from hatchwright.cli.verdict_lines import STOP
from hatchwright.search.rescue import LEAVE, Deviation
from hatchwright.units import Unit
from hatchwright.words.tell import tell
from hatchwright.words.verdict import codes_text, line_text
from hatchwright.workflow.rescue import beside_said, effects_said, rescue_file, rescue_values


@job_command("rescue", words("command.rescue.help"), json_help=words("command.rescue.json"))
@click.option("--hand-only", is_flag=True, help=words("command.rescue.hand_only"))
@click.argument("hole", type=click.IntRange(1, 9999), required=False)
def command(job: Path, as_json: bool, hand_only: bool, hole: int | None, shop: Path | None) -> None:
    """Find the ways out of what was made wrong, of HOLE alone where it is given."""
    with progress_bar() as progress:
        rescued = rescue_file(job, hole, shop=shop, hand_only=hand_only, progress=progress)
    if as_json:
        put_json(rescue_values(rescued))
    else:
        for one in rescued.deviations:
            for line in _lines(one, rescued.examination.job.unit):
                click.echo(line)
        if not rescued.deviations:
            put("command.rescue.none" if hole is None else "command.rescue.none_of_hole")
        put("command.aid")
    sys.exit(STOP if any(one.line.status.holds_back for one in rescued.deviations) else 0)


def _lines(one: Deviation, unit: Unit) -> Iterator[str]:
    width = line_width()
    head = f"{tell(one.line.status)}  {line_text(one.line, unit)}  [{codes_text(one.line)}]"
    yield from wrapped(head, width)
    for number, way in enumerate(one.ways, start=1):
        yield from wrapped(f"  {number}. {tell(way.remedy.told, unit)}", width)
        for told in effects_said(way.effects):
            yield from wrapped(f"       {tell(told, unit)}", width)
    yield from wrapped(f"  {len(one.ways) + 1}. {tell(LEAVE, unit)}", width)
    for told in beside_said(one):
        yield from wrapped(f"     {tell(told, unit)}", width)
    yield ""
