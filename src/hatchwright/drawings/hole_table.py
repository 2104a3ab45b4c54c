"""The hole table: every hole by number with its place from two datums, its fastener and its drills."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import zip_longest

from hatchwright.drawings.lettering import wrapped
from hatchwright.drawings.table import Table
from hatchwright.errors import TableError
from hatchwright.finding import Finding
from hatchwright.layout.layout import Hole, HoleKind, Layout
from hatchwright.making.hole_work import entered_for, hole_work
from hatchwright.said import Listed, Said, Value, inch, said
from hatchwright.tables.drills import drill
from hatchwright.tables.rivets import hole_drill
from hatchwright.tables.screws import clearance_drill
from hatchwright.tables.table import ShopTables
from hatchwright.units import Length, figure
from hatchwright.words.catalog import HOME
from hatchwright.words.tell import tell

PILOT = "40"
"""Pilot drill of every larger hole. Common practice, no source."""

_ROW_WIDTH_IN, _REMARK_WIDTH_IN = 1.7, 2.9


@dataclass(frozen=True, slots=True)
class Bore:
    """A drill to use, by number, letter or fraction; "" when it is known by its size alone."""

    name: str
    diameter_in: float

    @property
    def said(self) -> Value:
        """Its name and size, such as ``#30 .1285``."""
        size = inch(self.diameter_in, fine=True)
        return said("drill.named", name=self.name, size=size) if self.name else size


@dataclass(frozen=True, slots=True)
class HoleDrills:
    """The drills of a hole.

    Args:
        hole_in: diameter of the hole as it is laid out, None where no table lists its fastener [in].
        final: for the finished hole, None when none was entered and no table lists one for its fastener.
        pilot: to begin with, or the hole that is dimpled; None when the final drill is no larger, or when none was
            entered and no table lists the fastener.
        is_dimpled: whether a sheet is dimpled between the two.
    """

    hole_in: float | None
    final: Bore | None
    pilot: Bore | None
    is_dimpled: bool = False

    @property
    def final_in(self) -> float | None:
        """Diameter of the finished hole, None where nobody knows it [in]."""
        return self.final.diameter_in if self.final else self.hole_in


def drills_of(hole: Hole, layout: Layout) -> HoleDrills:
    """The drills of a hole: those that the job names, else those of the tables."""
    named, works = entered_for(hole, layout.job), hole_work(hole, layout)
    dimpled = next((work for work in works if work.preparation == "dimple"), None)
    before, after = (dimpled.before_dimple, dimpled.after_dimple) if dimpled else (None, None)
    is_listed = hole.nominal_in is not None and not any(work.is_unlisted for work in works)
    final, pilot = None, None
    if is_listed:
        listed = _listed(hole.kind, hole.fastener, hole.diameter_in, layout.shop)
        final = Bore(str(after), after.diameter_in) if after else listed
        pilot = Bore(str(before), before.diameter_in) if before else _usual_pilot()
    if named:
        final = _bore(named.final) if named.final else final
        pilot = _bore(named.pilot) if named.pilot else pilot
    is_smaller = final is None or pilot is None or final.diameter_in > pilot.diameter_in
    return HoleDrills(hole.nominal_in, final, pilot if is_smaller else None, dimpled is not None)


def _bore(length: Length) -> Bore:
    is_name = length.text[:1] == "#" or length.text[:1].isalpha() or "/" in length.text
    return Bore(length.text if is_name else "", length.inch)


@lru_cache(maxsize=256)
def _listed(kind: HoleKind, fastener: str, diameter_in: float, shop: ShopTables | None) -> Bore | None:
    try:
        is_rivet = kind == "rivet"
        found = hole_drill(diameter_in, shop=shop) if is_rivet else clearance_drill(fastener, shop=shop)
    except TableError:
        return None
    return Bore(str(found), found.diameter_in)


@lru_cache(maxsize=1)
def _usual_pilot() -> Bore:
    return Bore(str(drill(PILOT)), drill(PILOT).diameter_in)


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
    drilled = tell(said("remark.drilled"), tongue=tongue) if hole.is_made else ""
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
    """What goes into a hole, with which drills, through what.

    Returns:
        Said: such as ``RIVET MS20470AD4 IN skin + doubler: PILOT #40, FINAL #30 .1285``, or of a dimpled hole ``#42,
            DIMPLE, FINAL #40 .0980`` behind the colon.
    """
    drills = drills_of(hole, layout)
    steps: list[Value] = []
    if drills.pilot:
        pilot: Value = drills.pilot.name or drills.pilot.said
        steps.append(pilot if drills.is_dimpled else said("drill.pilot", drill=pilot))
    if drills.is_dimpled:
        steps.append(said("drill.dimple"))
    final = drills.final
    lacking = "drill.unlisted" if hole.nominal_in is not None else "drill.not_known"
    steps.append(said("drill.final", drill=final.said) if final else said(lacking))
    parts = Listed(tuple(said(f"part.{name}") for name in hole.stack), "+")
    drilled = Listed(tuple(steps), ",")
    return said(f"fastener.{hole.kind}", fastener=hole.fastener, parts=parts, drills=drilled)
