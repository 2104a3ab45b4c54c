"""`hatchwright sweep`: compare many variants of a job."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import click

from hatchwright.cli.answer_table import answer_table
from hatchwright.cli.shop_option import shop_option

if TYPE_CHECKING:
    from hatchwright.search.sweep import Sweep
    from hatchwright.search.sweep_work import SweepRow
    from hatchwright.search.sweep_workers import Doer

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
@click.option(
    "--buckling/--no-buckling",
    default=True,
    show_default=True,
    help="Look for buckling of the reinforced panel; without it a sweep is some times faster, and says so.",
)
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
    variant, and sweep.svg, lowest margin against the mass of the doubler. Each variant is answered as
    'hatchwright strength' answers it.

    Exit status: 0 done, 1 stopped before the end, 2 input or every variant refused.
    """
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    from hatchwright.search.sweep import sweep_of
    from hatchwright.search.sweep_workers import in_processes, on_cluster
    from hatchwright.search.variation import parse_variation
    from hatchwright.workflow.open_job import own_tables
    from hatchwright.workflow.sweep_folder import write_picture

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
        sys.exit(1)
    if all(row.error and row.lowest_margin is None for row in rows):
        click.echo("Every variant was refused.", err=True)
        sys.exit(2)


def _followed(sweep: Sweep, out: Path, do: Doer, *, overwrite: bool) -> tuple[list[SweepRow], bool]:
    """Run with a progress bar; Ctrl-C keeps what is done."""
    from rich.console import Console
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TimeRemainingColumn

    from hatchwright.workflow.sweep_folder import run_sweep

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

    from hatchwright.search.sweep_summary import best_first, notes_of
    from hatchwright.strength.margin_words import margin_words

    console = Console(highlight=False, markup=False)
    ranked = best_first(rows)[:SHOWN]
    cells = (
        (
            "REFUSED" if row.error and row.lowest_margin is None else row.answer,
            margin_words(row.lowest_margin, places=3),
            "" if row.doubler_lb is None else f"{row.doubler_lb:.3f}",
            "\n".join(_words(row)),
        )
        for row in ranked
    )
    title = f"{len(ranked)} of {len(rows)} variants, those that nothing stops first, then by lowest margin"
    console.print(
        answer_table(("", "Lowest MS", "Doubler lb", "Variant, and what governs it"), cells, title=title)
    )
    for note in notes_of(sweep, rows):
        console.print(note)
    console.print("Rivet and edge at limit load, elastic. Calculation aid: not approved data.")


def _words(row: SweepRow) -> Iterator[str]:
    """What is said of a variant, line by line."""
    yield ", ".join(f"{field} {value}" for field, value in row.variant)
    if row.error:
        yield row.error
    if row.governs:
        yield f"Lowest: {row.governs}."
    for said, codes in (("Stops", row.stops), ("Cannot tell", row.cannot_tell), ("Gate", row.gate)):
        if codes:
            yield f"{said}: {codes.replace(' ', ', ')}."
    if row.left_out:
        yield f"Not looked for: {row.left_out}."
    facts = (
        f"{row.rivets} rivets" if row.rivets else "",
        "" if row.hardest_rivet_lbf is None else f"hardest worked rivet {row.hardest_rivet_lbf:.0f} lbf",
        "" if row.edge_psi is None else f"edge {row.edge_psi / 1000:.1f} ksi",
    )
    if any(facts):
        yield f"{', '.join(fact for fact in facts if fact)}."
