"""What each reading of a set is entered as: a hole of the job, or one of no row."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from msgspec import Struct

from hatchwright.inspection.best_fit import BestFit
from hatchwright.inspection.named import Kind, Named
from hatchwright.inspection.readings import Reading


class Sorted(Struct, frozen=True):
    """Readings of a set, each in one place.

    Args:
        holes: by the number of the hole that they are entered as.
        strays: of holes that the job does not have.
        repeats: of a hole that another reading is entered as; they are not entered.
    """

    holes: Mapping[int, Reading]
    strays: tuple[Reading, ...] = ()
    repeats: tuple[Reading, ...] = ()


def sorted_out(readings: tuple[Reading, ...], fit: BestFit | None, told: Sequence[Named]) -> Sorted:
    """Sort the readings of a set.

    A reading is the hole whose number it bears, else the one at which it lies. What is of no hole goes to the strays,
    whatever its number, and so does what lies at a hole whose number another bears.

    Args:
        fit: of them, None where too few were read to be laid on and each bears its number.
        told: what is named in them.
    """
    if fit is None:
        return Sorted({one.number: one for one in readings if one.number is not None})
    of_holes = [(readings[at], int(fit.pattern.numbers[hole])) for at, hole in fit.matching.pairs]
    holes = {one.number: one for one, _ in of_holes if one.number is not None}
    again = {row for one in told if one.kind is Kind.READ_TWICE for row in one.rows}
    extra = [readings[at] for at in fit.matching.extra]
    strays = [one for one in extra if one.row not in again]
    for one, lies_at in of_holes:
        if one.number is None and holes.setdefault(lies_at, one) is not one:
            strays.append(one)
    repeats = tuple(one for one in extra if one.row in again)
    return Sorted(holes, tuple(sorted(strays, key=lambda one: one.row)), repeats)
