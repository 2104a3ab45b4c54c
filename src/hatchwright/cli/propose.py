"""`hatchwright propose`: layouts that pass, or the limits that leave none."""

from __future__ import annotations

import sys
from itertools import zip_longest
from pathlib import Path
from typing import TYPE_CHECKING

import click

from hatchwright.cli.frame import PATH, job_command, overwrite_option, put, put_json, words
from hatchwright.cli.lines import line_width, put_text, wrapped
from hatchwright.cli.progress_bar import progress_bar
from hatchwright.said import said
from hatchwright.words.tell import ended, tell

if TYPE_CHECKING:
    from hatchwright.said import Said
    from hatchwright.search.proposal.values import Conflict, Offer
    from hatchwright.search.task_workers import Doer
    from hatchwright.units import Unit
    from hatchwright.workflow.propose import Proposed

NONE = 1
"""Exit status: no layout keeps all limits."""

_WIDEST = 100
_NARROWEST = 16
"""Letters that a line of the table has at most, and a cell of it at least, on a terminal that is narrower still."""

_BETWEEN = "  "


@job_command("propose", words("command.propose.help"), json_help=words("command.propose.json"))
@click.option(
    "--write",
    type=(click.IntRange(1, 3), PATH),
    metavar="N OUT.toml",
    help=words("command.propose.write"),
)
@overwrite_option
@click.option("--processes", type=click.IntRange(1, 256), help=words("command.propose.processes"))
@click.option("--cluster", metavar="ADDRESS", help=words("command.propose.cluster"))
def command(
    job: Path,
    as_json: bool,
    shop: Path | None,
    write: tuple[int, Path] | None,
    overwrite: bool,
    processes: int | None,
    cluster: str | None,
) -> None:
    """Propose layouts for the opening of a job."""
    from hatchwright.workflow.propose import proposal_values, propose_file, write_offer

    with progress_bar() as progress:
        proposed = propose_file(job, shop=shop, do=_doer(processes, cluster), progress=progress)
    if write:
        number, target = write
        write_offer(job, proposed, number, target, shop=shop, overwrite=overwrite)
    if as_json:
        put_json(proposal_values(proposed))
    else:
        _print(proposed)
        if write:
            put("command.propose.written", number=write[0], file=str(write[1]))
        put("command.aid")
    sys.exit(0 if proposed.proposal.offers and not proposed.proposal.conflicts else NONE)


def _doer(processes: int | None, cluster: str | None) -> Doer | None:
    """Who searches: this process alone unless something else is asked."""
    if not (cluster or (processes and processes > 1)):
        return None
    from hatchwright.search.task_workers import in_processes, on_cluster

    return on_cluster(cluster) if cluster else in_processes(processes or 1, of="propose")


def _print(proposed: Proposed) -> None:
    """Why not, where no layout keeps all limits; then the layouts side by side; then what was searched."""
    from hatchwright.workflow.propose import first_said, headline_said, searched_said, ways_said

    proposal, unit = proposed.proposal, proposed.layout.job.unit
    for one in first_said(proposal):
        put_text(tell(one, unit))
    headline = tell(headline_said(proposal), unit)
    if not proposal.offers or proposal.conflicts:
        put_text(headline)
    for one in proposal.asks:
        put_text(tell(one, unit), indent="  ")
    for conflict, ways in zip(proposal.conflicts, ways_said(proposal.conflicts), strict=True):
        _print_conflict(conflict, ways, unit)
    if proposal.offers:
        title = words("propose.with_opening") if proposal.conflicts else headline
        _print_offers(proposal.offers, title, unit)
    for told in searched_said(proposal):
        put_text(ended(tell(told, unit)))


def _print_offers(offers: tuple[Offer, ...], title: str, unit: Unit) -> None:
    """Side by side, folded to what can be read, and below them what each is limited by."""
    from hatchwright.workflow.propose import aims_said, departs_said, limited_said, offer_rows

    click.echo(title)
    heads = (
        said("command.propose.offer", number=at, aims=aims_said(one)) for at, one in enumerate(offers, 1)
    )
    rows: list[tuple[str, list[list[str]]]] = [("", [[tell(one, unit)] for one in heads])]
    for head, told in offer_rows(offers):
        rows.append((tell(head, unit), [[tell(line, unit) for line in lines] for lines in told]))
    beside = max(len(what) for what, _ in rows)
    width = max(_NARROWEST, (min(line_width(), _WIDEST) - beside) // len(offers) - len(_BETWEEN))
    for what, cells in rows:
        folded = [[part for line in lines for part in wrapped(line, width)] for lines in cells]
        for at, line in enumerate(zip_longest(*folded, fillvalue="")):
            parts = ("" if at else what).ljust(beside), *(part.ljust(width) for part in line)
            click.echo(_BETWEEN.join(parts).rstrip())
    for number, offer in enumerate(offers, start=1):
        for one in (limited_said(offer), *departs_said(offer)):
            put_text(words("command.propose.of", unit, number=number, note=one))


def _print_conflict(conflict: Conflict, ways: tuple[tuple[Said, ...], ...], unit: Unit) -> None:
    from hatchwright.workflow.propose import conflict_said

    put_text(tell(conflict.told, unit))
    if (limits := conflict_said(conflict)) is not None:
        put_text(tell(limits, unit), indent="  ")
    for number, way in enumerate(ways, start=1):
        for at, one in enumerate(way):
            lead = f"{number}. " if not at else "   "
            put_text(f"{lead}{tell(one, unit)}", indent="  ")
    for told in conflict.requests:
        put_text(tell(told, unit), indent="  ")
