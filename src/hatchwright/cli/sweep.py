"""`hatchwright sweep`: compare many variants of a job."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import click

from hatchwright.cli.answer_table import put_table
from hatchwright.cli.frame import PATH, job_command, words
from hatchwright.cli.lines import put_text
from hatchwright.cli.progress_bar import progress_bar
from hatchwright.said import Amount, Listed, said
from hatchwright.units import Unit
from hatchwright.words.tell import tell, tell_all

if TYPE_CHECKING:
    from hatchwright.search.sweep import Sweep
    from hatchwright.search.sweep_work import SweepRow
    from hatchwright.search.task_workers import Doer

SHOWN = 12
"""Variants that are printed, the highest margin first; all are in the table."""


@job_command("sweep", words("command.sweep.help"), json_help="")
@click.option(
    "--vary", multiple=True, required=True, metavar="FIELD=VALUES", help=words("command.sweep.vary")
)
@click.option("--out", type=PATH, help=words("command.sweep.out"))
@click.option("--processes", type=click.IntRange(1, 256), help=words("command.sweep.processes"))
@click.option("--cluster", metavar="ADDRESS", help=words("command.sweep.cluster"))
@click.option(
    "--buckling/--no-buckling", default=True, show_default=True, help=words("command.sweep.buckling")
)
@click.option("--overwrite", is_flag=True, help=words("command.sweep.overwrite"))
def command(
    job: Path,
    vary: tuple[str, ...],
    out: Path | None,
    processes: int | None,
    cluster: str | None,
    buckling: bool,
    shop: Path | None,
    overwrite: bool,
) -> None:
    """Compare many variants of a job by their margins."""
    from hatchwright.job.file import load_job_text
    from hatchwright.search.sweep import sweep_of, unit_of
    from hatchwright.search.task_workers import in_processes, on_cluster
    from hatchwright.search.variation import parse_variation
    from hatchwright.workflow.open_job import own_tables
    from hatchwright.workflow.sweep_folder import write_picture

    out = out or Path(f"{job.stem}_sweep")
    own = own_tables(shop)
    unit = unit_of(load_job_text(job))
    sweep = sweep_of(job, [parse_variation(text, own, unit) for text in vary], buckling=buckling, shop=own)
    do = on_cluster(cluster) if cluster else in_processes(processes or os.cpu_count() or 1)
    rows, stopped = _followed(sweep, out, do, overwrite=overwrite)
    _print(sweep, rows)
    picture = write_picture(sweep, rows, out)
    click.echo(out / "sweep.csv")
    if picture:
        click.echo(picture)
    if stopped:
        click.echo(words("command.sweep.stopped", done=len(rows), all=len(sweep.variants)), err=True)
        sys.exit(1)
    if all(row.is_refused for row in rows):
        click.echo(words("command.sweep.all_refused"), err=True)
        sys.exit(2)


def _followed(sweep: Sweep, out: Path, do: Doer, *, overwrite: bool) -> tuple[list[SweepRow], bool]:
    """Run with a progress bar; Ctrl-C keeps what is done."""
    from hatchwright.workflow.sweep_folder import run_sweep

    rows: list[SweepRow] = []
    running, count = run_sweep(sweep, out, do, overwrite=overwrite), len(sweep.variants)
    with progress_bar() as progress:
        progress(0.0, said("progress.variants", done=0, all=count))
        try:
            for row in running:
                rows.append(row)
                progress(len(rows) / count, said("progress.variants", done=len(rows), all=count))
        except KeyboardInterrupt:
            running.close()
            return rows, True
    return rows, False


def _print(sweep: Sweep, rows: list[SweepRow]) -> None:
    from hatchwright.search.sweep import best_first, notes_of
    from hatchwright.strength.margin import margin_words

    unit = sweep.unit
    ranked = best_first(rows)[:SHOWN]
    cells = []
    for row in ranked:
        answer = words("command.sweep.refused") if row.is_refused else row.answer
        doubler = "" if row.doubler_lb is None else tell(Amount(row.doubler_lb, "lb"), unit)
        margin = margin_words(row.lowest_margin, places=3)
        cells.append((answer, margin, doubler, "\n".join(_words(row, unit))))
    heads = "command.sweep.margin", "command.sweep.doubler", "command.sweep.variant"
    headings = ("", *map(words, heads))
    title = words("command.sweep.title", shown=len(ranked), all=len(rows))
    put_table(headings, cells, title=title)
    for note in notes_of(sweep, rows):
        put_text(note)
    put_text(words("command.sweep.aid"))


def _words(row: SweepRow, unit: Unit) -> Iterator[str]:
    """What is said of a variant, line by line."""
    varied = (said("command.sweep.field", field=field, value=value) for field, value in row.variant)
    yield tell(Listed(tuple(varied), ","), unit)
    if row.error:
        yield row.error
    if row.governs:
        yield words("command.sweep.governs", governs=row.governs)
    for id, codes in (
        ("command.sweep.stops", row.stops),
        ("command.sweep.not_shown", row.cannot_tell),
        ("command.sweep.gate", row.gate),
    ):
        if codes:
            yield words(id, codes=Listed(tuple(codes.split()), ","))
    if row.left_out:
        yield words("command.sweep.left_out", what=row.left_out)
    facts = [said("command.sweep.rivets", n=row.rivets)] if row.rivets else []
    if row.hardest_rivet_lbf is not None:
        facts.append(said("command.sweep.hardest", load=Amount(row.hardest_rivet_lbf, "lbf")))
    if row.edge_psi is not None:
        facts.append(said("command.sweep.edge", stress=Amount(row.edge_psi, "psi")))
    if facts:
        yield tell_all(facts, unit)
