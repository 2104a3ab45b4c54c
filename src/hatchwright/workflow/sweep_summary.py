"""What a sweep comes to: its picture, its ranking, and the notes that both need."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path

from hatchwright.drawings.sweep_picture import Trade, sweep_picture
from hatchwright.job.file import read_job
from hatchwright.workflow.sweep import Sweep
from hatchwright.workflow.sweep_work import SweepRow
from hatchwright.workflow.write_files import write_files

PICTURE = "sweep.svg"


def write_picture(sweep: Sweep, rows: Sequence[SweepRow], folder: Path) -> Path | None:
    """Draw the trade-off of a sweep.

    Args:
        sweep: what was analysed.
        rows: what came of it.
        folder: of the sweep; an earlier picture in it is replaced.
    Returns:
        Path | None: the picture, None when no variant has both a margin and a doubler.
    Raises:
        ExportError: the folder cannot be written.
    """
    trades = [
        Trade(row.doubler_lb, row.lowest_margin, ", ".join(value for _, value in row.variant), row.is_clear)
        for row in rows
        if row.doubler_lb is not None and row.lowest_margin is not None
    ]
    if not trades:
        return None
    notes = list(notes_of(sweep, rows))
    if unmarked := len(rows) - len(trades):
        notes.append(f"{unmarked} of {len(rows)} variants have no mark: refused, or without a margin.")
    title = read_job(sweep.job_text, folder=sweep.folder).title
    picture = sweep_picture(trades, title=title, notes=notes)
    return write_files({PICTURE: picture}, folder, overwrite=True)[0]


def notes_of(sweep: Sweep, rows: Sequence[SweepRow]) -> Iterator[str]:
    """What must be read with the margins of a sweep: what they do not speak of, and what the gate says.

    Args:
        sweep: what was analysed.
        rows: what came of it.
    Yields:
        str: sentences, what was left out first.
    """
    if sweep.left_out:
        yield f"NOT LOOKED FOR, though strength does: {'; '.join(sweep.left_out)}."
    if referred := sum(bool(row.gate) for row in rows):
        codes = sorted({code for row in rows for code in row.gate.split()})
        yield f"The gate sends {referred} of {len(rows)} variants to an engineer ({', '.join(codes)})."
    if lines := dict.fromkeys(line for row in rows for line in row.not_analysed.split(" | ") if line):
        yield f"Not analysed: {'; '.join(lines)}."


def best_first(rows: Sequence[SweepRow]) -> list[SweepRow]:
    """Rank the variants of a sweep.

    Args:
        rows: in any order.
    Returns:
        list[SweepRow]: those that nothing stops first, the highest of lowest margins first.
    """
    return sorted(
        rows, key=lambda row: (not row.is_clear, row.lowest_margin is None, -(row.lowest_margin or 0.0))
    )
