"""The picture of a sweep."""

from __future__ import annotations

from collections.abc import Sequence
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
        Trade(
            row.doubler_lb, row.lowest_margin, ", ".join(value for _, value in row.variant), row.unknown == 0
        )
        for row in rows
        if row.doubler_lb is not None and row.lowest_margin is not None
    ]
    if not trades:
        return None
    title = read_job(sweep.job_text, folder=sweep.folder).title
    return write_files({PICTURE: sweep_picture(trades, title=title)}, folder, overwrite=True)[0]
