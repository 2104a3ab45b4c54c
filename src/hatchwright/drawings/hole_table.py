"""The hole table: every hole by number with its place from two datums, its fastener and its drills."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

from hatchwright.drawings.figures import Unit, figure, unit_of
from hatchwright.drawings.table import Table
from hatchwright.errors import TableError
from hatchwright.layout.layout import Hole, HoleKind, Layout
from hatchwright.tables.drills import Drill, drill
from hatchwright.tables.rivets import hole_drill
from hatchwright.tables.screws import clearance_drill

PILOT = "40"
"""Pilot drill of every larger hole. Common practice, no source."""

HEADINGS = ("NO.", "ROW", "X", "Y", "FASTENER", "PILOT", "FINAL DRILL", "THROUGH", "REMARK")
"""Columns of the hole table."""


@dataclass(frozen=True, slots=True)
class HoleDrills:
    """The drills of a hole.

    Args:
        final: for the finished hole, None when no table lists one for its fastener.
        pilot: to begin with, None when the final drill is no larger.
    """

    final: Drill | None
    pilot: Drill | None


def drills_of(hole: Hole) -> HoleDrills:
    """Look up the drills of a hole.

    Args:
        hole: of the layout.
    Returns:
        HoleDrills: pilot and final drill.
    """
    return _drills(hole.kind, hole.fastener, hole.diameter_in)


@lru_cache(maxsize=256)
def _drills(kind: HoleKind, fastener: str, diameter_in: float) -> HoleDrills:
    try:
        final = hole_drill(diameter_in) if kind == "rivet" else clearance_drill(fastener)
    except TableError:
        return HoleDrills(None, None)
    pilot = drill(PILOT)
    return HoleDrills(final, pilot if final.diameter_in > pilot.diameter_in else None)


def drill_words(drill: Drill, unit: Unit) -> str:
    """A drill by name with its decimal.

    Args:
        drill: of the tables.
        unit: of the decimal.
    Returns:
        str: such as ``#30 .1285``.
    """
    return f"{drill} {figure(drill.diameter_in, unit, fine=True)}"


def hole_rows(layout: Layout, remarks: Mapping[int, str]) -> tuple[tuple[str, ...], ...]:
    """The rows of the hole table, in the order of the holes' numbers.

    Args:
        layout: as derived.
        remarks: words about single holes, by number.
    Returns:
        tuple: one row a hole, its cells as in `HEADINGS`; X and Y are those of the job's frame.
    """
    unit = unit_of(layout.job)
    rows = []
    for hole in layout.holes:
        drills = drills_of(hole)
        drilled = "DRILLED" if hole.is_made else ""
        rows.append(
            (
                str(hole.number),
                hole.row,
                figure(hole.x_in, unit),
                figure(hole.y_in, unit),
                hole.fastener,
                str(drills.pilot) if drills.pilot else "-",
                drill_words(drills.final, unit) if drills.final else "not listed",
                " + ".join(hole.stack),
                "; ".join(word for word in (drilled, remarks.get(hole.number, "")) if word),
            )
        )
    return tuple(rows)


def hole_table(layout: Layout, remarks: Mapping[int, str]) -> Table:
    """The hole table of a layout drawing.

    Args:
        layout: as derived.
        remarks: words about single holes, by number.
    Returns:
        Table: under its headings; a column that would be empty in every row is left out.
    """
    rows = hole_rows(layout, remarks)
    kept = [column for column in range(len(HEADINGS)) if any(row[column] for row in rows)]
    return Table(
        f"HOLES FROM {layout.frame.origin}, {unit_of(layout.job)}",
        tuple(HEADINGS[column] for column in kept),
        tuple(tuple(row[column] for column in kept) for row in rows),
    )
