"""The folder of a sweep: its table, written as the rows come in, and its picture; a stopped sweep is taken up again."""

from __future__ import annotations

import csv
import json
import os
from collections.abc import Generator, Mapping, Sequence
from contextlib import suppress
from pathlib import Path
from typing import Any

from hatchwright.drawings.made_file import MadeFile, MadeKind, Written
from hatchwright.drawings.sweep_picture import Trade, sweep_picture
from hatchwright.errors import ExportError
from hatchwright.job.file import read_job
from hatchwright.job.text_file import save_bytes
from hatchwright.said import said
from hatchwright.search.sweep import RESULTS, Sweep, notes_of, tasks_of
from hatchwright.search.sweep_work import SweepRow, do_task
from hatchwright.search.task_workers import Doer
from hatchwright.units import Unit
from hatchwright.words.amounts import in_unit_of
from hatchwright.words.tell import tell
from hatchwright.workflow.alone import alone
from hatchwright.workflow.write_files import write_files

TABLE, PLAN, PICTURE = "sweep.csv", "sweep.json", "sweep.svg"
_LOCK, _PATIENCE_S = ".sweep", 0.5


def run_sweep(
    sweep: Sweep, folder: Path, do: Doer, *, overwrite: bool = False
) -> Generator[SweepRow, None, None]:
    """Analyze what is still to be analyzed, and write each row as soon as it is there.

    Args:
        folder: made when missing; holds the table and what it is of, so that a stopped sweep can be taken up again.
        overwrite: whether another sweep in that folder may be thrown away.
    Yields:
        SweepRow: rows that were there already first, then each new one.
    Raises:
        ExportError: the folder holds another sweep, one is writing there, or it cannot be written.
    """
    try:
        held = ExportError.saying("error.sweep_held", where=str(folder))
        with alone(folder / _LOCK, patience_s=_PATIENCE_S, refusal=held):
            done = _taken_up(sweep, folder, overwrite=overwrite)
            yield from done or ()
            known = {row.variant for row in done or ()}
            tasks = tasks_of(sweep, [variant for variant in sweep.variants if variant not in known])
            for rows in do(do_task, tasks):
                if done is None:
                    _begin(sweep, folder)
                    done = []
                _append(folder / TABLE, sweep, rows)
                yield from rows
    except OSError as error:
        what, remedy = said("error.sweep_unwritten", why=error.strerror or ""), said("error.check_folder")
        raise ExportError(what, where=str(folder), remedy=remedy) from None


def write_picture(sweep: Sweep, rows: Sequence[SweepRow], folder: Path) -> Path | None:
    """Draw the trade-off of a sweep, over an earlier picture in its folder; None when no variant has both a
    margin and a doubler, ExportError where the folder cannot be written."""
    trades = [
        Trade(row.doubler_lb, row.lowest_margin, ", ".join(value for _, value in row.variant), row.is_clear)
        for row in rows
        if row.doubler_lb is not None and row.lowest_margin is not None
    ]
    if not trades:
        return None
    notes = list(notes_of(sweep, rows))
    if unmarked := len(rows) - len(trades):
        notes.append(tell(said("sweep.unmarked", n=unmarked, all=len(rows))))
    job = read_job(sweep.job_text, folder=sweep.folder)
    picture = sweep_picture(trades, title=job.title, notes=notes, unit=job.unit)
    made = MadeFile(PICTURE, MadeKind.SWEEP, "", true_size=False, written=Written.SVG, content=picture)
    return write_files((made,), folder, overwrite=True)[0]


def _taken_up(sweep: Sweep, folder: Path, *, overwrite: bool) -> list[SweepRow] | None:
    """Rows of the same sweep that are there already, None when it has not begun; another sweep is refused."""
    plan, table = folder / PLAN, folder / TABLE
    if plan.exists() and not overwrite:
        is_same = False
        with suppress(ValueError, RecursionError):
            is_same = json.loads(plan.read_text(encoding="utf-8")) == sweep.plan
        if not is_same:
            raise ExportError.saying("error.other_sweep", where=str(folder))
        return _read(table, sweep) if table.exists() else []
    if table.exists() and not overwrite:
        what, do = said("error.not_sweep", name=TABLE), said("error.other_folder")
        raise ExportError(what, where=str(folder), remedy=do)
    return None


def _begin(sweep: Sweep, folder: Path) -> None:
    """Throw another sweep away, and say what this one is of; only once there is something to write."""
    (folder / TABLE).unlink(missing_ok=True)
    save_bytes(folder / PLAN, f"{json.dumps(sweep.plan, indent=2)}\n".encode())


_MEASURED = {
    "doubler_lb": ("doubler", "lb"),
    "hardest_rivet_lbf": ("hardest_rivet", "lbf"),
    "edge_psi": ("edge", "psi"),
}
"""Results with a unit: what the heading begins with, and the unit inside."""


def _column(name: str, unit: Unit) -> tuple[str, float]:
    """Heading of a result in the table of a job in that unit, and what the value inside is multiplied by."""
    if unit == "in" or name not in _MEASURED:
        return name, 1.0
    begins, inside = _MEASURED[name]
    factor, named = in_unit_of(1.0, inside, unit)
    return f"{begins}_{named.lower()}", factor


def _cell(row: SweepRow, name: str, unit: Unit) -> object:
    value = getattr(row, name)
    if value is None:
        return ""
    return value * _column(name, unit)[1] if name in _MEASURED else value


def _result(cells: Mapping[str, str], name: str, unit: Unit) -> Any:
    """The value inside of what the table holds; an empty number is none."""
    heading, factor = _column(name, unit)
    if name in _MEASURED or name == "lowest_margin":
        return float(cells[heading]) / factor if cells[heading] else None
    return int(cells[heading]) if name == "rivets" else cells[heading]


def _append(table: Path, sweep: Sweep, rows: Sequence[SweepRow]) -> None:
    """Add rows and see them onto the disk, so that nothing done is lost when the sweep is stopped."""
    fresh = not table.exists()
    with table.open("a", encoding="utf-8", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        if fresh:
            results = (_column(name, sweep.unit)[0] for name in RESULTS)
            writer.writerow([*(variation.field for variation in sweep.variations), *results])
        for row in rows:
            cells = (_cell(row, name, sweep.unit) for name in RESULTS)
            writer.writerow([*(value for _, value in row.variant), *cells])
        file.flush()
        os.fsync(file.fileno())


def _read(table: Path, sweep: Sweep) -> list[SweepRow]:
    """Whole rows of a table, each once; a last line that was cut off is dropped and done again. ExportError where
    another program has written it in its own way."""
    try:
        return _rows(table, sweep)
    except (ValueError, KeyError, TypeError, csv.Error):
        what, do = said("error.not_sweep", name=table.name), said("error.other_folder")
        raise ExportError(what, where=str(table.parent), remedy=do) from None


def _rows(table: Path, sweep: Sweep) -> list[SweepRow]:
    text = table.read_text(encoding="utf-8")
    whole = text[: text.rfind("\n") + 1]
    if whole != text:
        table.write_text(whole, encoding="utf-8")
    wanted = set(sweep.variants)
    rows: dict[tuple[tuple[str, str], ...], SweepRow] = {}
    for cells in csv.DictReader(whole.splitlines()):
        variant = tuple((variation.field, cells[variation.field]) for variation in sweep.variations)
        if variant in wanted:
            rows[variant] = SweepRow(variant, **{name: _result(cells, name, sweep.unit) for name in RESULTS})
    return list(rows.values())
