"""`hatchwright toolpath`: write the machine files that make the guide template."""

from __future__ import annotations

from pathlib import Path

import click

from hatchwright.cli.frame import PATH, job_command, now, overwrite_option, put, put_json, words
from hatchwright.cli.verdict_lines import end_with
from hatchwright.job.machine import Machine
from hatchwright.said import inch
from hatchwright.workflow.examine import examine_file
from hatchwright.workflow.toolpath import deepest_in, feed_minutes, machine_files, toolpath_values
from hatchwright.workflow.write_files import write_files


@job_command("toolpath", words("command.toolpath.help"))
@click.option("--machine", type=PATH, required=True, help=words("command.toolpath.machine"))
@click.option("--out", type=PATH, required=True, help=words("command.option.out"))
@overwrite_option
def command(job: Path, machine: Path, out: Path, as_json: bool, shop: Path | None, overwrite: bool) -> None:
    """Write the machine files (RS-274/NGC) that make the guide template on the shop's machine."""
    used, examination = Machine.load(machine), examine_file(job, shop=shop)
    files = machine_files(examination, used, stamp=now(), stem=job.stem, name=machine.name)
    written = write_files((file.made for file in files), out, overwrite=overwrite)
    if as_json:
        put_json(toolpath_values(used, files, examination))
        end_with(*examination.sides, shown=False)
    for path, file in zip(written, files, strict=True):
        tool = file.run.tool
        click.echo(path)
        put(
            "command.toolpath.file",
            used.units,
            tool=tool.number,
            kind=tool.kind,
            diameter=inch(tool.diameter.inch, fine=True),
            holes=len(file.run.holes),
            marks=len(file.run.marks),
            edges=len(file.run.edges),
            deep=inch(deepest_in(file.trace)),
            minutes=round(feed_minutes(file.trace)),
        )
    if used.engraver is None:
        put("command.toolpath.not_engraved")
    put("command.toolpath.zero")
    end_with(*examination.sides)
