"""The drills of a hole as one reads them: the first, the one before a dimple, and the last; none but those of the work
on its sheets."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import dataclass

from hatchwright.errors import TableError
from hatchwright.layout.layout import Hole, Layout
from hatchwright.recipe.sheet_work import LayerWork, hole_work
from hatchwright.said import Value, inch, said
from hatchwright.tables.drills import Drill, drill
from hatchwright.tables.rivets import hole_drill


@dataclass(frozen=True, slots=True)
class Bore:
    """A drill to use, by number, letter or fraction; "" when it is known by its size alone."""

    name: str
    diameter_in: float

    @property
    def said(self) -> Value:
        """Its name and size, such as ``#30 .1285``; a name in millimeters is the size itself."""
        if self.name.endswith(" mm"):
            return self.name
        size = inch(self.diameter_in, fine=True)
        return said("drill.named", name=self.name, size=size) if self.name else size


@dataclass(frozen=True, slots=True)
class HoleDrills:
    """The drills of a hole.

    Args:
        hole_in: diameter of the hole as it is laid out, None where no table lists its fastener [in].
        pilot: to begin with, through all sheets; None when the next drill is no larger, or when none is known.
        is_dimpled: whether a sheet is dimpled.
        before_dimple: the hole that is dimpled; None when only a trial gives it, or nothing is dimpled.
        final: for the finished hole, None when it is not known.
    """

    hole_in: float | None
    pilot: Bore | None
    is_dimpled: bool
    before_dimple: Bore | None
    final: Bore | None

    @property
    def first(self) -> Bore | None:
        """The drill that goes first, None when none is known."""
        return self.pilot or self.before_dimple or (None if self.is_dimpled else self.final)

    @property
    def final_in(self) -> float | None:
        """Diameter of the finished hole, None where nobody knows it [in]."""
        return self.final.diameter_in if self.final else self.hole_in


def drills_of(hole: Hole, layout: Layout) -> HoleDrills:
    """The drills of a hole, as the work on its sheets names them: those of the job, else those of the tables."""
    works = hole_work(hole, layout)
    dimpled = next((work for work in works if work.preparation == "dimple"), None)
    before = _bore(dimpled.before_dimple) if dimpled else None
    final = _final(works, dimpled, hole, layout)
    firsts = [work.steps[0].drill for work in works if work.steps]
    pilot = _bore(min(filter(None, firsts), key=lambda one: one.diameter_in, default=None))
    after = before or final
    if pilot and after and (dimpled is None or before) and after.diameter_in <= pilot.diameter_in:
        pilot = None
    return HoleDrills(hole.nominal_in, pilot, dimpled is not None, before, final)


def _final(
    works: tuple[LayerWork, ...], dimpled: LayerWork | None, hole: Hole, layout: Layout
) -> Bore | None:
    """The last drill: that of the dimpled sheet before the others'; where the dimple itself opens every sheet, the
    drill that the finished hole takes."""
    if dimpled and dimpled.after_dimple:
        return _bore(dimpled.after_dimple)
    lasts = (step.drill for work in works for step in work.steps if step.operation == "final")
    if last := next(filter(None, lasts), None):
        return _bore(last)
    if dimpled and hole.kind == "rivet" and hole.nominal_in is not None:
        with suppress(TableError):
            return _bore(hole_drill(hole.nominal_in, shop=layout.shop))
    return None


def _bore(one: Drill | None) -> Bore | None:
    if one is None:
        return None
    with suppress(TableError):
        return Bore(str(drill(one.name)), one.diameter_in)
    return Bore("", one.diameter_in)
