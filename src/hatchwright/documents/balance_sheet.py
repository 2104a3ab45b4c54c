"""The weight and balance sheet of one side: its parts with arms, the aircraft before and after, and blanks to weigh by.

A draft: who signs it answers for every figure.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from hatchwright.airworthiness.aircraft_balance import AircraftBalance
from hatchwright.airworthiness.balance_parts import Change
from hatchwright.airworthiness.balance_said import (
    HEADS,
    Cells,
    case_heads,
    case_rows,
    empty_rows,
    equipment_rows,
    hinge_rows,
    lateral_said,
    negligible_said,
    part_cells,
    shift_said,
    sum_cells,
)
from hatchwright.documents.paper_head import paper_head
from hatchwright.documents.typst_pdf import Part
from hatchwright.finding import Finding
from hatchwright.job.fleet.weight import FleetBalance
from hatchwright.judged import Status
from hatchwright.layout.layout import Layout
from hatchwright.said import Value, inch, said
from hatchwright.units import Unit
from hatchwright.words.findings import advice_text, number_said
from hatchwright.words.tell import tell

_HEADINGS = ("parts", "aircraft", "judged", "equipment", "weighing", "weighed")

BLANKS = (
    "weighed_on", "scales", "level", "oil", "new_weight", "new_arm", "new_moment", "list_revised", "placard", "by_whom",
)  # fmt: skip
"""What only who weighs and signs knows. Source: [AC43.13-1B], par. 10-2r, 10-14 and 10-15, seen only restated."""


def balance_part(
    layout: Layout,
    balance: AircraftBalance,
    given: FleetBalance,
    *,
    date: str,
    unit: Unit,
    is_planned: bool = False,
) -> Part:
    """The sheet of one side as a paper.

    Args:
        layout: of that side.
        date: when it was made.
        unit: of lengths and weights.
        is_planned: whether the side has no job of its own yet.
    """

    def told(what: Value) -> str:
        return tell(what, unit)

    def rows(cells: Iterable[Cells]) -> list[list[str]]:
        return [[told(cell) for cell in one] for one in cells]

    side = layout.job.aircraft.side
    change = next(one for one in balance.changes if one.side == side)
    told_in_full = (
        *balance.negligible,
        *sorted(
            (one for one in balance.findings if one.status is not Status.PASS),
            key=lambda one: one.status.severity,
        ),
    )
    passed = len(balance.negligible) + len(balance.findings) - len(told_in_full)
    surfaces = [hinge for hinge in balance.hinges if hinge.side == side]
    shown = [name for name, there in (("loading", balance.cases), ("hinge", surfaces)) if there]
    data: dict[str, Any] = {
        "head": paper_head(layout.job, said("balance.title"), date=date),
        "words": {name: told(said(f"balance.heading.{name}")) for name in (*_HEADINGS, *shown)},
        "stop": told(said("balance.stop", status=balance.worst)) if balance.worst.holds_back else "",
        "draft": told(said("balance.draft")),
        "planned": told(said("balance.planned")) if is_planned else "",
        "datum": told(said("balance.datum", datum=given.datum, arm=inch(given.job_arm.inch))),
        "heads": [told(one) for one in HEADS],
        "parts": rows(_parts(change)),
        "left_out": [told(one) for one in (*lateral_said(change), *change.not_weighed)],
        "aircraft": rows(empty_rows(balance, unit)),
        "shift": " ".join(map(told, (shift_said(balance), *lateral_said(balance.change)))),
        "negligible": told(negligible_said(balance)),
        "judged": [list(_judged(one, unit)) for one in told_in_full],
        "passed": told(said("balance.passed", n=passed)) if passed else "",
        "sources": told(said("balance.sources")),
        "case_heads": [told(one) for one in case_heads(balance.cases)] if balance.cases else [],
        "cases": rows(case_rows(balance.cases, unit)),
        "hinge": [[told(cell) for cell in row] for hinge in surfaces for row in hinge_rows(hinge)],
        "equipment": rows(equipment_rows(balance.equipment, balance.changes)),
        "blanks": [told(said(f"balance.blank.{name}")) for name in BLANKS],
    }
    return Part("balance", data)


def _parts(change: Change) -> Iterator[Cells]:
    yield from map(part_cells, change.parts)
    yield sum_cells(change, name=said("balance.together"))


def _judged(finding: Finding, unit: Unit) -> Iterator[str]:
    """Status, subject, value against limit, and what to do."""
    number = number_said(finding)
    yield tell(finding.status, unit)
    yield tell(finding.subject, unit)
    yield tell(number, unit) if number else ""
    yield advice_text(finding, unit)
