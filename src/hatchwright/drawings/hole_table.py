"""The hole table: every hole by number with its place from two datums, its fastener and its drills."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import zip_longest

from hatchwright.drawings.lettering import wrapped
from hatchwright.drawings.table import Table
from hatchwright.finding import Finding
from hatchwright.layout.layout import Hole, Layout
from hatchwright.recipe.hole_drills import alike, drill_named, drill_said
from hatchwright.recipe.sheet_work import WorkedPart, hole_work
from hatchwright.said import Listed, Said, said
from hatchwright.tables.drill_chain import DrillStep
from hatchwright.units import figure
from hatchwright.words.catalog import HOME
from hatchwright.words.of_job import said_of
from hatchwright.words.tell import tell

_ROW_WIDTH_IN, _REMARK_WIDTH_IN = 1.7, 2.9


def hole_tables(layout: Layout, remarks: Mapping[int, str]) -> tuple[Table, ...]:
    """A hole table for the holes of one fastener through the same parts, with remarks by number."""
    return tuple(_table(layout, title, holes, remarks) for title, holes in holes_by_title(layout).items())


def holes_by_title(layout: Layout) -> dict[Said, list[Hole]]:
    """Holes of one fastener through the same parts together, by what heads their table."""
    groups: dict[Said, list[Hole]] = {}
    for hole in layout.holes:
        groups.setdefault(said("holes.title", fastener=fastener_said(hole, layout)), []).append(hole)
    return groups


def counts_table(findings: Iterable[Finding]) -> tuple[Table, ...]:
    """How many holes hold, where answers tell it, such as at the next rivet size; no table where none does."""
    rows = tuple(
        (tell(said(f"{one.code}.title")), f"{one.value:.0f}", f"{one.limit:.0f}")
        for one in findings
        if one.unit == "holes" and one.value is not None and one.limit is not None
    )
    heads = (f"counts.{name}" for name in ("asked", "hold", "of"))
    return (Table.told(said("counts.title"), heads, rows, "in"),) if rows else ()


def hole_remark(hole: Hole, remarks: Mapping[int, str], tongue: str = HOME) -> str:
    """Whether a hole is drilled, and its remark by number, such as ``DRILLED; SHORT .007``."""
    drilled = tell(said("remark.drilled"), tongue=tongue) if hole.is_drilled else ""
    return "; ".join(filter(None, (drilled, remarks.get(hole.number, ""))))


def _table(layout: Layout, title: Said, holes: Sequence[Hole], remarks: Mapping[int, str]) -> Table:
    unit = layout.job.unit
    rows: list[tuple[str, ...]] = []
    for hole in holes:
        names, found = (
            wrapped(text, height_in=0.11, width_in=width_in)
            for text, width_in in ((hole.row, _ROW_WIDTH_IN), (hole_remark(hole, remarks), _REMARK_WIDTH_IN))
        )
        place = (str(hole.number), figure(hole.x_in, unit), figure(hole.y_in, unit))
        for name, remark in zip_longest(names, found, fillvalue=""):
            rows.append((place[0], name, *place[1:], remark))
            place = ("", "", "")
    columns = 5 if any(row[4] for row in rows) else 4
    heads = [f"holes.{head}" for head in ("number", "row", "x", "y", "remark")]
    return Table.told(title, heads[:columns], (row[:columns] for row in rows), unit)


def fastener_said(hole: Hole, layout: Layout) -> Said:
    """What goes into a hole, and what is done to each of its sheets in order.

    Returns:
        Said: such as ``RIVET MS20470AD4 IN skin + doubler: PILOT #40, FINAL #30 .1285``; sheets that are made in
            another way follow behind a semicolon.
    """
    work = Listed(tuple(work_lines(hole, layout)), ";")
    return said(f"fastener.{hole.kind}", fastener=hole.fastener, work=work)


def work_lines(hole: Hole, layout: Layout) -> Iterator[Said]:
    """What is done to the sheets of a hole in order, those that are made alike together."""
    for steps, parts in alike(hole_work(hole, layout)).items():
        yield _work_said(steps, parts, hole, layout)


def _work_said(steps: Iterable[DrillStep], parts: Iterable[WorkedPart], hole: Hole, layout: Layout) -> Said:
    names = Listed(tuple(said_of(layout.job.kind, said(f"part.{part}")) for part in parts), "+")
    return said(
        "fastener.work", parts=names, steps=Listed(tuple(_step_said(one, hole) for one in steps), ",")
    )


def _step_said(step: DrillStep, hole: Hole) -> Said:
    """One operation; its drill by name, with its size where it finishes the hole."""
    does = step.operation.replace(" ", "_")
    if step.drill is not None:
        is_last = step.operation in ("final", "ream")
        return said(f"drill.{does}", drill=drill_said(step.drill) if is_last else drill_named(step.drill))
    if step.operation in ("dimple", "countersink"):
        return said(f"drill.{does}")
    if does == "not_known":
        return said("drill.not_known" if hole.nominal_in is None else "drill.none_known")
    return said(f"drill.{does}_not_known")
