"""`hatchwright trial`: prove the cutter's offset on scrap."""

from __future__ import annotations

import json
import sys
from datetime import datetime
from pathlib import Path
from typing import cast

import click

from hatchwright.cli.paper_options import paper_options
from hatchwright.cli.shop_option import shop_option
from hatchwright.making.trial.piece import PieceKind
from hatchwright.units import length_words
from hatchwright.workflow.examine import examine_file
from hatchwright.workflow.finding_lines import finding_lines
from hatchwright.workflow.printing import AnyPaper
from hatchwright.workflow.trial import (
    SCHEMA,
    TrialReport,
    sheet_for,
    take_over,
    trial_files,
    trial_values,
    try_out,
)
from hatchwright.workflow.write_files import write_files


@click.command(name="trial")
@click.argument("job", type=click.Path(path_type=Path))
@click.argument("readings", type=click.Path(path_type=Path), required=False)
@click.option("--json", "as_json", is_flag=True, help="Print for programs instead of people.")
@click.option(
    "--piece",
    type=click.Choice(["square", "disc", "corner"]),
    default="square",
    show_default=True,
    help="Trial piece.",
)
@click.option(
    "--size",
    default="",
    help="Finished size of the trial piece, a bare number in the job's unit.  [default: 3 in, 75 mm]",
)
@click.option(
    "--take-over", "takes_over", is_flag=True, help="Write the real width of cut into the job file."
)
@paper_options(
    out="Without READINGS: folder to write the trial template and the sheet to; made when missing."
)
@shop_option
def command(
    job: Path,
    readings: Path | None,
    as_json: bool,
    piece: str,
    size: str,
    takes_over: bool,
    out: Path | None,
    paper: AnyPaper,
    overwrite: bool,
    shop: Path | None,
) -> None:
    """Prove the cutter's offset on scrap before it touches the aircraft.

    Without READINGS, prints the sheet of a trial: what to make, what to measure, where to write it. With --out it
    writes that sheet and the trial template itself, as SVG, DXF and true-size PDF. With the filled-in sheet, prints the
    real offset with its uncertainty, and the template that follows from it.

    A printer that is a little off: print once, measure the bars, and give what they measured. The trial template is
    corrected for that printer, and its bars must then measure 6.000.

    --take-over writes nothing while a finding says STOP.

    Exit status: 0 nothing to stop for, 1 findings to stop for, 2 input refused.
    """
    if readings is None:
        kind = cast(PieceKind, piece)
        if out is None:
            click.echo(sheet_for(job, kind=kind, size=size, shop=shop), nl=False)
            return
        files = trial_files(
            examine_file(job, shop=shop),
            kind=kind,
            size=size,
            stamp=datetime.now().astimezone(),
            paper=paper,
            stem=job.stem,
        )
        written = write_files(files, out, overwrite=overwrite)
        if as_json:
            click.echo(json.dumps({"schema": SCHEMA, "files": [path.name for path in written]}, indent=2))
        else:
            click.echo("\n".join(map(str, written)))
        return
    report = try_out(job, readings, shop=shop)
    if as_json:
        click.echo(json.dumps(trial_values(report), indent=2, ensure_ascii=False))
    else:
        _print(report)
    if takes_over:
        _take_over(job, report, to_err=as_json)
    sys.exit(1 if report.must_stop else 0)


def _take_over(job: Path, report: TrialReport, *, to_err: bool) -> None:
    if report.anew is None:
        codes = ", ".join(dict.fromkeys(finding.code for finding in report.stops))
        click.echo(f"{job}: not taken over, nothing was written. STOP: {codes}.", err=True)
        return
    take_over(job, report)
    click.echo(f"{job}: template revision {report.anew.revision}.", err=to_err)


def _print(report: TrialReport) -> None:
    real, unit = report.trial.offset, report.job.unit

    def said(value_in: float) -> str:
        return length_words(value_in, unit, fine=True)

    click.echo(f"{report.job.title}, trial on scrap")
    click.echo(
        f"Offset {said(real.offset_in)} +- {said(real.expanded_in)} (95 %, {real.count} readings), "
        f"next cut +- {said(real.next_cut_expanded_in)}; cut width {said(report.trial.cut_in)}."
    )
    for finding in report.findings:
        click.echo("\n".join(finding_lines(finding, unit)))
    if report.anew is None:
        click.echo("No new template follows from a trial that stops.")
    elif report.template:
        x_min, y_min, x_max, y_max = report.template.machinable.bounds
        click.echo(
            f"Template revision {report.anew.revision} would be {length_words(x_max - x_min, unit)} x "
            f"{length_words(y_max - y_min, unit)}. {report.anew.reason}"
        )
    click.echo("Calculation aid: not approved data.")
