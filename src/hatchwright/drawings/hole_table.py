"""The hole table: every hole by number with its place from two datums, its fastener and its drills."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from hatchwright.drawings.figures import Unit, figure, unit_of
from hatchwright.drawings.lettering import fitted
from hatchwright.drawings.table import Table
from hatchwright.errors import TableError
from hatchwright.layout.layout import Hole, HoleKind, Layout
from hatchwright.tables.drills import Drill, drill
from hatchwright.tables.rivets import hole_drill
from hatchwright.tables.screws import clearance_drill

PILOT = "40"
"""Pilot drill of every larger hole. Common practice, no source."""

_ROW_WIDTH_IN, _REMARK_WIDTH_IN, _TITLE_WIDTH_IN = 1.7, 2.9, 6.5
_LETTER_IN = 0.11


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


def hole_tables(layout: Layout, remarks: Mapping[int, str]) -> tuple[Table, ...]:
    """The hole tables of a layout drawing: one for the holes of one fastener through the same parts.

    Args:
        layout: as derived.
        remarks: words about single holes, by number.
    Returns:
        tuple[Table, ...]: fastener, drills and parts in the title; number, row, X and Y in the job's frame below.
    """
    groups: dict[tuple[str, tuple[str, ...]], list[Hole]] = {}
    for hole in layout.holes:
        groups.setdefault((hole.fastener, hole.stack), []).append(hole)
    return tuple(_table(layout, holes, remarks) for holes in groups.values())


def hole_remark(hole: Hole, remarks: Mapping[int, str]) -> str:
    """What is to be said of a hole: whether it is drilled, and what was found.

    Args:
        hole: of the layout.
        remarks: words about single holes, by number.
    Returns:
        str: such as ``DRILLED; SHORT .007``, or "".
    """
    return "; ".join(
        word for word in ("DRILLED" if hole.is_made else "", remarks.get(hole.number, "")) if word
    )


def _table(layout: Layout, holes: Sequence[Hole], remarks: Mapping[int, str]) -> Table:
    unit = unit_of(layout.job)
    rows = [
        (
            str(hole.number),
            _cut(hole.row, _ROW_WIDTH_IN),
            figure(hole.x_in, unit),
            figure(hole.y_in, unit),
            _cut(hole_remark(hole, remarks), _REMARK_WIDTH_IN),
        )
        for hole in holes
    ]
    columns = 5 if any(row[4] for row in rows) else 4
    return Table(
        _cut(f"{fastener_words(holes[0], unit)}, {unit}", _TITLE_WIDTH_IN),
        ("NO.", "ROW", "X", "Y", "REMARK")[:columns],
        tuple(row[:columns] for row in rows),
    )


def fastener_words(hole: Hole, unit: Unit) -> str:
    """What goes into a hole, with which drills, through what.

    Args:
        hole: any of its kind.
        unit: of the drill's decimal.
    Returns:
        str: such as ``RIVET MS20470AD4: PILOT #40, FINAL #30 .1285, THROUGH skin + doubler``.
    """
    drills = drills_of(hole)
    pilot = f"PILOT {drills.pilot}, " if drills.pilot else ""
    final = drill_words(drills.final, unit) if drills.final else "drill not listed"
    return f"{hole.kind.upper()} {hole.fastener}: {pilot}FINAL {final}, THROUGH {' + '.join(hole.stack)}"


def _cut(words: str, width_in: float) -> str:
    """Words that fit a column of a page, cut off so that it shows when they do not."""
    return fitted(words, height_in=_LETTER_IN, width_in=width_in, least_height_in=_LETTER_IN)[0]
