"""A sweep: many variants of one job, parted into tasks that any process or machine can do, and what it comes to."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

from msgspec import Struct

from hatchwright.errors import Fault, JobError
from hatchwright.job.as_typed import raw_data
from hatchwright.job.file import edited, load_job, load_job_text
from hatchwright.layout.lay_out import lay_out
from hatchwright.said import Listed, Said, said
from hatchwright.search.sweep_work import SweepRow, Task, left_out
from hatchwright.search.variation import Variant, Variation, changes_of, refuse_unknown, variants_of
from hatchwright.tables.table import ShopTables
from hatchwright.units import Unit
from hatchwright.words.tell import tell

_LARGEST_TASK = 12

RESULTS = tuple(name for name in SweepRow.__struct_fields__ if name != "variant")
"""Columns of a sweep's table after the fields that it varies."""


def unit_of(job_text: str) -> Unit:
    """The unit of a job's text."""
    return "mm" if raw_data(job_text).get("units") == "mm" else "in"


class Sweep(Struct, frozen=True):
    """What is to be analyzed.

    Args:
        buckling: whether to look for buckling, which takes the most time.
        left_out: what is not looked for though a strength report does.
    """

    job_text: str
    folder: Path
    variations: tuple[Variation, ...]
    buckling: bool
    left_out: tuple[Said, ...]
    shop: ShopTables | None = None

    @property
    def variants(self) -> tuple[Variant, ...]:
        """Every combination."""
        return variants_of(self.variations)

    @property
    def unit(self) -> Unit:
        """That of the job."""
        return unit_of(self.job_text)

    @property
    def plan(self) -> dict[str, Any]:
        """What makes a sweep the same: the job's text, the shop's rows, what is varied, what is looked for, and the
        columns of its table.
        """
        return {
            "job": hashlib.sha256(self.job_text.encode()).hexdigest(),
            "vary": {variation.field: list(variation.values) for variation in self.variations},
            "buckling": self.buckling,
            "left_out": [one.id for one in self.left_out],
            "columns": list(RESULTS),
            **({"shop": self.shop.digest} if self.shop else {}),
        }


def sweep_of(
    path: Path, variations: Sequence[Variation], *, buckling: bool = True, shop: ShopTables | None = None
) -> Sweep:
    """Prepare a sweep of a job file that has loads, over fields that are in it.

    Raises:
        JobError: the file is refused, it has no loads, or a field's section does not stand in it.
        EntryError: a job has no such field, a field is varied twice, or there are too many variants.
    """
    job = load_job(path)
    lay_out(job, shop)
    if job.loads.basis == "none":
        fault = Fault.saying("loads.basis", "error.sweep_loads")
        raise JobError((fault,), where=path.name)
    shortcuts = left_out(job, buckling=buckling)
    sweep = Sweep(load_job_text(path), path.resolve().parent, tuple(variations), buckling, shortcuts, shop)
    changes = changes_of(sweep.job_text, sweep.variants[0])
    for field in changes:
        refuse_unknown(job, field)
    edited(sweep.job_text, changes)
    return sweep


def tasks_of(sweep: Sweep, variants: Sequence[Variant]) -> tuple[Task, ...]:
    """Part the variants into tasks of a dozen at most; those of one geometry stand together, so that sheets
    are factorized once."""
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


def notes_of(sweep: Sweep, rows: Sequence[SweepRow]) -> Iterator[str]:
    """What must be read with the margins of a sweep: what was left out, what the gate says, what they do not
    speak of."""
    if sweep.left_out:
        yield tell(said("sweep.not_looked_for", topics=Listed(sweep.left_out, ";")))
    if referred := sum(bool(row.gate) for row in rows):
        codes = sorted({code for row in rows for code in row.gate.split()})
        yield tell(said("sweep.referred", n=referred, all=len(rows), codes=Listed(tuple(codes), ",")))
    if lines := dict.fromkeys(line for row in rows for line in row.not_analyzed.split(" | ") if line):
        yield tell(said("sweep.not_analyzed", topics=Listed(tuple(lines), ";")))


def best_first(rows: Sequence[SweepRow]) -> list[SweepRow]:
    """Rank the variants of a sweep: those that nothing stops first, the highest of lowest margins first."""
    return sorted(
        rows, key=lambda row: (not row.is_clear, row.lowest_margin is None, -(row.lowest_margin or 0.0))
    )
