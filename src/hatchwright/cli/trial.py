"""`hatchwright trial`: prove the cutter's offset on scrap."""

from __future__ import annotations

from pathlib import Path
from typing import cast

import click

from hatchwright.cli.frame import PATH, job_command, now, put, put_json, words
from hatchwright.cli.paper_options import paper_options
from hatchwright.cli.verdict_lines import end_with, say_findings
from hatchwright.making.trial.piece import PieceKind
from hatchwright.said import Listed, inch
from hatchwright.workflow.examine import examine_file
from hatchwright.workflow.printing import AnyPaper
from hatchwright.workflow.report import verdicts_values
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


@job_command("trial", words("command.trial.help"))
@click.argument("readings", type=PATH, required=False)
@click.option(
    "--piece",
    type=click.Choice(["square", "disc", "corner"]),
    default="square",
    show_default=True,
    help=words("command.trial.piece"),
)
@click.option("--size", default="", help=words("command.trial.size"))
@click.option("--take-over", "takes_over", is_flag=True, help=words("command.trial.take_over"))
@paper_options(out=words("command.trial.out"))
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
    """Prove the cutter's offset on scrap before it touches the aircraft."""
    if readings is None:
        kind, examination = cast(PieceKind, piece), examine_file(job, shop=shop)
        if out is None:
            click.echo(sheet_for(examination, kind=kind, size=size), nl=False)
            end_with(examination, to_err=True)
        files = trial_files(examination, kind=kind, size=size, stamp=now(), paper=paper, stem=job.stem)
        written = write_files(files, out, overwrite=overwrite)
        if as_json:
            names = [path.name for path in written]
            put_json({"schema": SCHEMA, "verdicts": verdicts_values(examination), "files": names})
        else:
            click.echo("\n".join(map(str, written)))
        end_with(examination, shown=not as_json)
    report = try_out(job, readings, shop=shop)
    if as_json:
        put_json(trial_values(report))
    else:
        _print(report)
    if takes_over:
        _take_over(job, report, to_err=as_json)
    end_with(report.examination, shown=not as_json)


def _take_over(job: Path, report: TrialReport, *, to_err: bool) -> None:
    if report.anew is None:
        codes = Listed(tuple(dict.fromkeys(finding.code for finding in report.stops)), ",")
        click.echo(words("command.trial.not_taken_over", job=str(job), codes=codes), err=True)
        return
    take_over(job, report)
    click.echo(words("command.trial.taken_over", job=str(job), revision=report.anew.revision), err=to_err)


def _print(report: TrialReport) -> None:
    real, unit = report.trial.offset, report.job.unit
    put("command.trial.head", title=report.job.title)
    sizes_in = real.offset_in, real.expanded_in, real.next_cut_expanded_in, report.trial.cut_in
    offset, u, next_u, cut = (inch(size_in, fine=True) for size_in in sizes_in)
    put("command.trial.offset", unit, offset=offset, u=u, readings=real.count, next=next_u, cut=cut)
    if report.trial.by_scan:
        for way, one in (("scan", report.trial.by_scan), ("caliper", report.trial.by_caliper)):
            if one:
                found, within = inch(one.offset_in, fine=True), inch(one.expanded_in, fine=True)
                put(f"command.trial.by_{way}", unit, offset=found, u=within)
    say_findings(report.findings, unit)
    if report.anew is None:
        put("command.trial.no_template")
    elif report.template:
        x_min, y_min, x_max, y_max = report.template.machinable.bounds
        across, up, anew = inch(x_max - x_min), inch(y_max - y_min), report.anew
        put("command.trial.would_be", unit, revision=anew.revision, across=across, up=up, reason=anew.reason)
