"""The as-built sheet: nominal, measured, deviation, u, verdict and remark, hole by hole, and drawn beside made."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from hatchwright.documents.as_built_parts import (
    edge_table,
    finding_of_part,
    head_tables,
    stray_table,
    thickness_table,
)
from hatchwright.documents.beside_tables import beside_tables
from hatchwright.documents.drawn_made import DrawnMade
from hatchwright.documents.made_table import MadeTable, pair, signed, tables_on_paper
from hatchwright.documents.paper_head import paper_head
from hatchwright.documents.typst_pdf import Part
from hatchwright.drawings.short_holes import remarks
from hatchwright.finding import Finding
from hatchwright.judged import Status, worst_of
from hatchwright.layout.layout import Hole, Layout
from hatchwright.layout.oversize import has_larger_rivet, is_oversize
from hatchwright.said import Said, said
from hatchwright.units import Unit, figure
from hatchwright.words.of_job import in_words_of
from hatchwright.words.tell import tell

_BLANK_ROWS = {"holes": 14, "heads": 7, "open": 5}
"""Empty lines of the form, by its table."""


def as_built_part(
    layout: Layout, findings: Sequence[Finding], beside: Sequence[DrawnMade], *, date: str, stop: str
) -> Part:
    """The as-built sheet of a job as a paper.

    Args:
        findings: of the job as made.
        beside: every number that what was measured changes.
        stop: what holds work back; "" where nothing does.
    """
    tables = tuple(as_built_tables(layout, findings, beside))
    return _part(layout, tables, date=date, stop=stop)


def empty_as_built(layout: Layout, *, date: str, stop: str) -> Part:
    """The same with blank lines to write in."""
    tables = (
        MadeTable(said("as_built.holes"), _heads("holes"), _HOLE_WIDTHS, ()).empty(_BLANK_ROWS["holes"]),
        MadeTable(said("as_built.heads"), _heads("heads"), _HEAD_WIDTHS, ()).empty(_BLANK_ROWS["heads"]),
        MadeTable(said("as_built.open"), _heads("open"), _OPEN_WIDTHS, ()).empty(_BLANK_ROWS["open"]),
    )
    return _part(layout, tables, date=date, stop=stop)


def _part(layout: Layout, tables: Sequence[MadeTable], *, date: str, stop: str) -> Part:
    job, made = layout.job, layout.job.as_made
    unit = job.unit
    measured = said(
        "as_built.measured",
        on=made.date.isoformat() if made and made.date else "________",
        by=made.measured_by if made and made.measured_by else "________",
    )
    data: dict[str, Any] = {
        "head": paper_head(job, said("as_built.title"), date=date),
        "stop": stop,
        "lead": [tell(measured), tell(said("as_built.lead"))],
        "tables": tables_on_paper(tables, unit),
        "sign": [tell(said("as_built.sign.measured")), tell(said("as_built.sign.inspected"))],
    }
    return Part("tables", data)


def as_built_tables(
    layout: Layout, findings: Sequence[Finding], beside: Sequence[DrawnMade]
) -> Iterator[MadeTable]:
    """Every table of the sheet; none that has nothing to say."""
    tables = (
        _holes(layout, findings),
        edge_table(layout),
        thickness_table(layout, findings),
        *head_tables(layout, findings),
        stray_table(layout, findings),
        _tallies(layout, findings),
        _open(layout, findings),
        _accepted(layout),
        *beside_tables(
            layout.job,
            beside,
            (said("as_built.heading.drawn"), said("as_built.heading.made")),
            lambda group: said(f"as_built.group.{group}"),
        ),
    )
    yield from (table for table in tables if table.rows)


def _heads(table: str) -> tuple[Said, ...]:
    return tuple(said(f"as_built.heading.{name}") for name in _COLUMNS[table])


_COLUMNS: Mapping[str, tuple[str, ...]] = {
    "holes": ("hole", "row", "nominal", "measured", "deviation", "u", "diameter", "verdict", "remark"),
    "heads": ("hole", "fastener", "diameter", "height", "u", "verdict"),
    "tallies": ("row", "holes", "placed", "sized", "oversize", "headed", "bad_heads"),
    "open": ("hole", "what", "accepted_by", "data"),
    "accepted": ("what", "accepted_by", "data"),
}
_HOLE_WIDTHS = (0.5, 1.45, 1.3, 1.3, 1.15, 0.55, 0.6, 0.95, 1.9)
_HEAD_WIDTHS = (0.6, 1.6, 1.0, 1.0, 0.8, 1.2)
_OPEN_WIDTHS = (0.5, 3.6, 1.6, 1.9)


def _holes(layout: Layout, findings: Sequence[Finding]) -> MadeTable:
    unit, told = layout.job.unit, remarks(findings, layout.job.unit)
    rows = tuple(_hole(hole, layout, findings, told, unit) for hole in layout.holes if hole.is_drilled)
    how = said("as_built.holes.how", measured=len(rows), n=len(layout.holes))
    return MadeTable(said("as_built.holes"), _heads("holes"), _HOLE_WIDTHS, rows, how)


def _hole(
    hole: Hole, layout: Layout, findings: Sequence[Finding], told: Mapping[int, str], unit: Unit
) -> tuple[str, ...]:
    x_in, y_in = hole.drawn_in or hole.place
    placed = hole.drawn_in is not None
    off = f"{signed(hole.x_in - x_in, unit)}, {signed(hole.y_in - y_in, unit)}" if placed else ""
    u_in = [u for u in (hole.uncertainty_in, hole.size_uncertainty_in) if u]
    return (
        str(hole.number),
        hole.row,
        pair(x_in, y_in, unit),
        pair(hole.x_in, hole.y_in, unit) if placed else "",
        off,
        "/".join(dict.fromkeys(figure(u, unit) for u in u_in)),
        figure(hole.hole_in, unit) if hole.hole_in is not None else "",
        tell(said(f"status.{_worst(findings, hole.number)}")),
        "; ".join(filter(None, (_fitted(hole, layout), told.get(hole.number, "")))),
    )


def _fitted(hole: Hole, layout: Layout) -> str:
    """What stands in a hole where that is not its row's rivet."""
    if not hole.is_fitted:
        return tell(said("as_built.no_rivet"))
    row = next((row for row in layout.job.rows if row.name == hole.row), None)
    return tell(said("as_built.fitted", rivet=hole.fastener)) if row and row.rivet != hole.fastener else ""


def _worst(findings: Sequence[Finding], number: int) -> Status:
    return worst_of(one.status for one in findings if number in one.holes)


def _tallies(layout: Layout, findings: Sequence[Finding]) -> MadeTable:
    """Of each row: how many holes, how many of them were measured and came out oversize, and its heads."""
    made = layout.job.as_made
    headed = {head.number for head in made.heads} if made else set()
    bad = {
        number
        for one in findings
        if one.code == "R421" and one.status is not Status.PASS
        for number in one.holes
    }
    rows = []
    for name, holes in layout.rows().items():
        numbers = {hole.number for hole in holes}
        over = sum(is_oversize(hole, layout.shop) or has_larger_rivet(hole, layout) for hole in holes)
        counts = (
            len(holes),
            sum(hole.is_made for hole in holes),
            sum(hole.hole_in is not None for hole in holes),
            over,
            len(numbers & headed),
            len(numbers & bad),
        )
        if any(counts[1:]):
            rows.append((name, *map(str, counts)))
    widths = (2.2, 0.8, 1.0, 1.0, 1.0, 1.0, 1.2)
    return MadeTable(said("as_built.tallies"), _heads("tallies"), widths, tuple(rows))


def _open(layout: Layout, findings: Sequence[Finding]) -> MadeTable:
    """What stops or is not shown of what was measured, with room for who accepts it and on which data."""
    job, measured = layout.job, {hole.number for hole in layout.holes if hole.is_drilled}
    found = [
        one
        for one in findings
        if one.status.holds_back and (finding_of_part(one) or measured & set(one.holes))
    ]
    rows = tuple(
        (
            ", ".join(map(str, one.holes[:4])),
            f"{tell(said(f'status.{one.status}'))}: {tell(in_words_of(job.kind, one.subject), job.unit)} ({one.code})",
            "",
            "",
        )
        for one in sorted(found, key=lambda one: (one.status.severity, one.holes, one.code))
    )
    return MadeTable(said("as_built.open"), _heads("open"), _OPEN_WIDTHS, rows, said("as_built.open.how"))


def _accepted(layout: Layout) -> MadeTable:
    rows = tuple(
        (tell(said(f"departure.{one.of}")), one.by, one.data) for one in layout.job.departures.accepted
    )
    return MadeTable(said("as_built.accepted"), _heads("accepted"), (2.0, 2.0, 3.6), rows)
