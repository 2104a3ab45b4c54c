"""The drills of a hole as one reads them: the first, the last, and whether a dimple comes between."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from hatchwright.errors import TableError
from hatchwright.layout.layout import Hole, HoleKind, Layout
from hatchwright.recipe.sheet_work import entered_for, hole_work
from hatchwright.said import Value, inch, said
from hatchwright.tables.drills import drill
from hatchwright.tables.rivets import hole_drill
from hatchwright.tables.screws import clearance_drill
from hatchwright.tables.table import ShopTables
from hatchwright.units import Length

PILOT = "40"
"""Pilot drill of every larger hole. Common practice, no source."""


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
