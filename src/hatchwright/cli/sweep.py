"""`hatchwright sweep`: compare many variants of a job."""

from __future__ import annotations

import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from hatchwright.cli.shop_option import shop_option

if TYPE_CHECKING:
    from hatchwright.workflow.sweep import Sweep
    from hatchwright.workflow.sweep_work import SweepRow
    from hatchwright.workflow.sweep_workers import Doer

SHOWN = 12
"""Variants that are printed, the highest margin first; all are in the table."""


@click.command(name="sweep")
@click.argument("job", type=click.Path(path_type=Path))
@click.option(
    "--vary", multiple=True, required=True, metavar="FIELD=VALUES", help="What to vary; may be repeated."
)
@click.option(
    "--out", type=click.Path(path_type=Path), help="Folder of table and picture; JOB_sweep when left out."
)
@click.option("--processes", type=click.IntRange(1, 256), help="Worker processes; one a core when left out.")
@click.option("--cluster", metavar="ADDRESS", help="Scheduler of a Dask cluster to work on instead.")
@click.option("--buckling", is_flag=True, help="Look for buckling too, which takes the most time.")
@shop_option
@click.option("--overwrite", is_flag=True, help="Throw away another sweep in that folder.")
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
    """Compare many variants of a job by their margins.

    \b
        hatchwright sweep wing.toml --vary doubler.thickness=.025:.050 --vary rows.pitch=.5:.8:.1

    A range of thicknesses takes every stock gauge between; other ranges are from:to:step; a list is parted by commas.
    "rows.pitch" means the pitch of every row. The job is taken as drawn, without what was measured.

    Stop it with Ctrl-C; the same command takes it up again where it stopped. The folder gets sweep.csv, one line a
    variant, and sweep.svg, lowest margin against the mass of the doubler.

    Exit status: 0 done, 1 stopped before the end, 2 input refused.
    """
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    from hatchwright.workflow.open_job import own_tables
    from hatchwright.workflow.sweep import sweep_of
    from hatchwright.workflow.sweep_summary import write_picture
    from hatchwright.workflow.sweep_workers import in_processes, on_cluster
    from hatchwright.workflow.variation import parse_variation

    out = out or Path(f"{job.stem}_sweep")
    own = own_tables(shop)
    sweep = sweep_of(job, [parse_variation(text, own) for text in vary], buckling=buckling, shop=own)
    do = on_cluster(cluster) if cluster else in_processes(processes or os.cpu_count() or 1)
    rows, stopped = _followed(sweep, out, do, overwrite=overwrite)
    _print(sweep, rows)
    picture = write_picture(sweep, rows, out)
    click.echo(out / "sweep.csv")
    if picture:
        click.echo(picture)
    if stopped:
        click.echo(f"Stopped: {len(rows)} of {len(sweep.variants)} done. The same command goes on.", err=True)
    sys.exit(1 if stopped else 0)


def _followed(sweep: Sweep, out: Path, do: Doer, *, overwrite: bool) -> tuple[list[SweepRow], bool]:
    """Run with a progress bar; Ctrl-C keeps what is done."""
    from rich.console import Console
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TimeRemainingColumn

    from hatchwright.workflow.sweep import run_sweep

    rows: list[SweepRow] = []
    console = Console(stderr=True)
    running = run_sweep(sweep, out, do, overwrite=overwrite)
    with Progress(BarColumn(), MofNCompleteColumn(), TimeRemainingColumn(), console=console) as progress:
        bar = progress.add_task("variants", total=len(sweep.variants))
        try:
            for row in running:
                rows.append(row)
                progress.advance(bar)
        except KeyboardInterrupt:
            running.close()
            return rows, True
    return rows, False


def _print(sweep: Sweep, rows: list[SweepRow]) -> None:
    from rich.console import Console
    from rich.table import Table
    from rich.text import Text

    ranked = sorted(rows, key=lambda row: (row.lowest_margin is None, -(row.lowest_margin or 0.0)))
    table = Table(title=f"{min(SHOWN, len(rows))} of {len(rows)} variants, the highest margin first")
    for variation in sweep.variations:
        table.add_column(variation.field)
    for heading in ("Lowest MS", "Not had", "Rivets", "Doubler lb", "Rivet lbf", "Edge ksi", "Governs"):
        table.add_column(heading)
    for row in ranked[:SHOWN]:
        cells = (
            *(value for _, value in row.variant),
            "" if row.lowest_margin is None else f"{row.lowest_margin:+.3f}",
            str(row.unknown),
            str(row.rivets),
            "" if row.doubler_lb is None else f"{row.doubler_lb:.3f}",
            "" if row.hardest_rivet_lbf is None else f"{row.hardest_rivet_lbf:.0f}",
            "" if row.edge_psi is None else f"{row.edge_psi / 1000:.1f}",
            row.error or row.governs,
        )
        table.add_row(*(Text(cell) for cell in cells))
    console = Console(highlight=False)
    console.print(table)
    console.print("Rivet and edge at limit load, elastic. Calculation aid: not approved data.", markup=False)
