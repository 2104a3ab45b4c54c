"""Analyse many variants of a job over worker processes or machines; it can be stopped and taken up again."""

from __future__ import annotations

import csv
import hashlib
import json
import os
from collections.abc import Generator, Sequence
from dataclasses import dataclass, fields
from pathlib import Path
from typing import Any

from hatchwright.errors import ExportError, Fault, JobError
from hatchwright.job.file import edited, load_job, load_text
from hatchwright.layout.lay_out import lay_out
from hatchwright.tables.table import ShopTables
from hatchwright.workflow.sweep_work import SweepRow, Task, left_out
from hatchwright.workflow.sweep_workers import Doer
from hatchwright.workflow.variation import Variant, Variation, changes_of, refuse_unknown, variants_of

TABLE, PLAN = "sweep.csv", "sweep.json"
_LARGEST_TASK = 12


@dataclass(frozen=True, slots=True)
class Sweep:
    """What is to be analysed.

    Args:
        job_text: text of the job file.
        folder: folder of the job file.
        variations: fields and their values.
        buckling: whether to look for buckling, which takes the most time.
        left_out: what is not looked for though a strength report does.
        shop: a shop's own rows, None without.
    """

    job_text: str
    folder: Path
    variations: tuple[Variation, ...]
    buckling: bool
    left_out: tuple[str, ...]
    shop: ShopTables | None = None

    @property
    def variants(self) -> tuple[Variant, ...]:
        """Every combination."""
        return variants_of(self.variations)

    @property
    def plan(self) -> dict[str, Any]:
        """What makes a sweep the same: the job's text, the shop's rows, what is varied, what is looked for, and the
        columns of its table.
        """
        return {
            "job": hashlib.sha256(self.job_text.encode()).hexdigest(),
            "vary": {variation.field: list(variation.values) for variation in self.variations},
            "buckling": self.buckling,
            "left_out": list(self.left_out),
            "columns": list(_RESULTS),
            **({"shop": self.shop.digest} if self.shop else {}),
        }


def sweep_of(
    path: Path, variations: Sequence[Variation], *, buckling: bool = True, shop: ShopTables | None = None
) -> Sweep:
    """Prepare a sweep of a job file.

    Args:
        path: the job file.
        variations: fields and their values.
        buckling: whether to look for buckling, which takes the most time.
        shop: a shop's own rows of the tables, when there are any.
    Returns:
        Sweep: whose job has loads and whose fields are in the job.
    Raises:
        JobError: the file is refused, it has no loads, or a field's section does not stand in it.
        EntryError: a job has no such field, a field is varied twice, or there are too many variants.
    """
    job = load_job(path)
    lay_out(job, shop)
    if job.loads.basis == "none":
        fault = Fault(
            "loads.basis", "a sweep compares margins, and this job has no loads", remedy="Choose a basis."
        )
        raise JobError((fault,), where=path.name)
    shortcuts = left_out(job, buckling=buckling)
    sweep = Sweep(load_text(path), path.resolve().parent, tuple(variations), buckling, shortcuts, shop)
    changes = changes_of(sweep.job_text, sweep.variants[0])
    for field in changes:
        refuse_unknown(job, field)
    edited(sweep.job_text, changes)
    return sweep


def run_sweep(
    sweep: Sweep, folder: Path, do: Doer, *, overwrite: bool = False
) -> Generator[SweepRow, None, None]:
    """Analyse what is still to be analysed, and write each row as soon as it is there.

    Args:
        sweep: what is to be analysed.
        folder: made when missing; holds the table and what it is of, so that a stopped sweep can be taken up again.
        do: worker processes or a cluster.
        overwrite: whether another sweep in that folder may be thrown away.
    Yields:
        SweepRow: rows that were there already first, then each new one.
    Raises:
        ExportError: the folder holds another sweep, or cannot be written.
    """
    try:
        done = _taken_up(sweep, folder, overwrite=overwrite)
        yield from done
        known = {row.variant for row in done}
        tasks = tasks_of(sweep, [variant for variant in sweep.variants if variant not in known])
        for rows in do(tasks):
            found = [_row(values) for values in rows]
            _append(folder / TABLE, sweep, found)
            yield from found
    except OSError as error:
        raise ExportError(
            f"the sweep cannot be written ({error.strerror})", where=str(folder), remedy="Check the folder"
        ) from None


def tasks_of(sweep: Sweep, variants: Sequence[Variant]) -> tuple[Task, ...]:
    """Part the variants into tasks; those of one geometry stand together, so that sheets are factorised once.

    Args:
        sweep: what is to be analysed.
        variants: what is left of it.
    Returns:
        tuple[Task, ...]: none with more than a dozen variants.
    """
    groups: dict[tuple[str, ...], list[Variant]] = {}
    for variant in variants:
        geometry = tuple(value for field, value in variant if not field.endswith("thickness"))
        groups.setdefault(geometry, []).append(variant)
    tasks = []
    for group in groups.values():
        for start in range(0, len(group), _LARGEST_TASK):
            part = tuple(group[start : start + _LARGEST_TASK])
            tasks.append(Task(sweep.job_text, str(sweep.folder), part, sweep.buckling, sweep.shop))
    return tuple(tasks)


def _taken_up(sweep: Sweep, folder: Path, *, overwrite: bool) -> list[SweepRow]:
    """Rows of the same sweep that are there already; another sweep is refused."""
    folder.mkdir(parents=True, exist_ok=True)
    plan, table = folder / PLAN, folder / TABLE
    if plan.exists() and not overwrite:
        try:
            same = json.loads(plan.read_text(encoding="utf-8")) == sweep.plan
        except ValueError:
            same = False
        if not same:
            raise ExportError(
                "there is another sweep in the folder, or the job was changed since",
                where=str(folder),
                remedy="Choose another folder, or say that it may be overwritten",
            )
        return _read(table, sweep) if table.exists() else []
    if table.exists() and not overwrite:
        raise ExportError(
            f"{TABLE} is there and is not of a sweep", where=str(folder), remedy="Choose another folder"
        )
    table.unlink(missing_ok=True)
    plan.write_text(json.dumps(sweep.plan, indent=2) + "\n", encoding="utf-8")
    return []


_RESULTS = tuple(field.name for field in fields(SweepRow) if field.name != "variant")


def _headings(sweep: Sweep) -> list[str]:
    return [*(variation.field for variation in sweep.variations), *_RESULTS]


def _append(table: Path, sweep: Sweep, rows: Sequence[SweepRow]) -> None:
    """Add rows and see them onto the disk, so that nothing done is lost when the sweep is stopped."""
    fresh = not table.exists()
    with table.open("a", encoding="utf-8", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        if fresh:
            writer.writerow(_headings(sweep))
        for row in rows:
            results = (getattr(row, name) for name in _RESULTS)
            writer.writerow(
                [*(value for _, value in row.variant), *("" if one is None else one for one in results)]
            )
        file.flush()
        os.fsync(file.fileno())


def _read(table: Path, sweep: Sweep) -> list[SweepRow]:
    """Whole rows of a table; a last line that was cut off is dropped and done again."""
    text = table.read_text(encoding="utf-8")
    whole = text[: text.rfind("\n") + 1]
    if whole != text:
        table.write_text(whole, encoding="utf-8")
    wanted = set(sweep.variants)
    rows = []
    for cells in csv.DictReader(whole.splitlines()):
        variant = tuple((variation.field, cells[variation.field]) for variation in sweep.variations)
        if variant in wanted:
            rows.append(_row({"variant": variant, **{name: cells[name] for name in _RESULTS}}))
    return rows


def _row(values: dict[str, Any]) -> SweepRow:
    """A row of what a worker sent or the table holds: an empty number is none."""
    read = {name: values[name] for name in _RESULTS}
    for name in ("lowest_margin", "doubler_lb", "hardest_rivet_lbf", "edge_psi"):
        read[name] = None if read[name] in ("", None) else float(read[name])
    read["rivets"] = int(read["rivets"])
    return SweepRow(variant=tuple((field, value) for field, value in values["variant"]), **read)
