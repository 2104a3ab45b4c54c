"""Tables of the strength report: the sheets with what they are allowed, and every rivet of the joint."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from hatchwright.drawings.parts_table import parts_table, sheet_said
from hatchwright.layout.layout import Layout, PartName
from hatchwright.said import said
from hatchwright.strength.fastener_table import FastenerLine
from hatchwright.strength.margin import margin_words
from hatchwright.strength.report import StrengthReport
from hatchwright.strength.site import SheetPart
from hatchwright.tables.allowables import Allowables
from hatchwright.units import Unit, figure
from hatchwright.words.amounts import in_unit_of
from hatchwright.words.tell import tell

_NONE = "–"
_ALLOWED = (
    ("Ftu", "ftu_psi"),
    ("Fty", "fty_psi"),
    ("Fcy", "fcy_psi"),
    ("Fsu", "fsu_psi"),
    ("Fbru 1.5", "fbru_15_psi"),
    ("Fbru 2", "fbru_20_psi"),
    ("Fbry 1.5", "fbry_15_psi"),
    ("Fbry 2", "fbry_20_psi"),
    ("E", "e_psi"),
    ("Ec", "ec_psi"),
)


def outlines_table(layout: Layout) -> dict[str, Any]:
    """Size and corners of every edge, as on the layout drawing, and where the opening lies in its bay."""
    table, unit = parts_table(layout), layout.job.unit
    bounds = layout.opening.bounds
    x, y = (figure((bounds[axis] + bounds[axis + 2]) / 2.0, unit) for axis in (0, 1))
    x_min, y_min, x_max, y_max = (figure(place, unit) for place in bounds)
    place = said("strength_table.place", x=x, y=y, x_min=x_min, x_max=x_max, y_min=y_min, y_max=y_max)
    return {"title": table.title, "head": table.headings, "rows": table.rows, "place": tell(place, unit)}


def sheets_table(sheets: Iterable[SheetPart], unit: Unit) -> dict[str, Any]:
    """What each sheet is allowed to carry, once, so that no working repeats it."""
    known = [(sheet, sheet.found) for sheet in sheets if isinstance(sheet.found, Allowables)]
    stress = in_unit_of(1.0, "psi", unit)[1]
    rows = [
        [
            tell(said(f"part.{sheet.part.name}")),
            tell(sheet_said(sheet.part), unit),
            figure(sheet.thickness_in, unit, fine=True),
            *(_stress(getattr(allowed, field), unit) for _, field in _ALLOWED),
            f"{allowed.poisson_ratio:g}",
        ]
        for sheet, allowed in known
    ]
    head = [tell(said(f"strength_table.{name}")) for name in ("part", "sheet", "thickness")]
    title = tell(said("strength_table.sheets", stress=stress, length=unit))
    return {"title": title, "head": [*head, *(symbol for symbol, _ in _ALLOWED), "nu"], "rows": rows}


def rivets_table(report: StrengthReport, unit: Unit) -> dict[str, Any]:
    """Every rivet in one line: place, hole, edges, flexibility, what governs it, its load by case and margin."""
    lines = report.fasteners
    parts = tuple(dict.fromkeys(name for line in lines for name, _ in line.edge_in))
    cases = [tell(found.name, unit) for found in report.analysis.cases] if report.analysis else []
    force, give = (in_unit_of(1.0, name, unit)[1] for name in ("lbf", "in/lbf"))
    head = [tell(said(f"strength_table.{name}")) for name in ("number", "x", "y", "rivet", "hole")]
    for part in parts:
        head += [tell(said("strength_table.edge", part=said(f"part.{part}"))), "e/D"]
    last = ("flexibility", "governs", "ultimate", "yield")
    head += [*(tell(said(f"strength_table.{name}")) for name in last), *cases, tell(said("report.margin"))]
    title = tell(said("strength_table.rivets", force=force, give=give, length=unit))
    return {"title": title, "head": head, "rows": [_rivet(line, parts, unit) for line in lines]}


def _rivet(line: FastenerLine, parts: Sequence[PartName], unit: Unit) -> list[str]:
    edges = dict(line.edge_in)
    cells = [str(line.number), figure(line.x_in, unit), figure(line.y_in, unit)]
    cells += [line.rivet or tell(said("strength_table.out")), _length(line.hole_in, unit)]
    for part in parts:
        edge_in = edges.get(part)
        known = edge_in is not None and line.diameter_in is not None
        cells += [_length(edge_in, unit), f"{edge_in / line.diameter_in:.2f}" if known else _NONE]  # type: ignore[operator]
    give = line.flexibility_in_per_lbf
    cells += [_NONE if give is None else f"{in_unit_of(give, 'in/lbf', unit)[0]:.3g}", line.governs or _NONE]
    loads = (line.ultimate_lbf, line.yield_lbf, *line.loads_lbf)
    cells += [_NONE if load is None else f"{in_unit_of(load, 'lbf', unit)[0]:.1f}" for load in loads]
    return [*cells, margin_words(line.margin) or _NONE]


def _length(length_in: float | None, unit: Unit) -> str:
    return _NONE if length_in is None else figure(length_in, unit, fine=True)


def _stress(stress_psi: float, unit: Unit) -> str:
    value, _ = in_unit_of(stress_psi, "psi", unit)
    return f"{value:.6g}" if unit == "mm" else f"{value:,.0f}"
