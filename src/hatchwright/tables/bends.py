"""Bends: radius by alloy, temper and thickness, and the setback of a bend."""

from __future__ import annotations

from dataclasses import dataclass
from math import radians, tan

from hatchwright.errors import TableError
from hatchwright.judged import FLOAT_NOISE
from hatchwright.tables.catalog import AC43_TABLE_4_6, HANDBOOK_BEND_RADII
from hatchwright.tables.cited import Cited
from hatchwright.tables.limits import limit
from hatchwright.tables.table import Row, ShopTables
from hatchwright.workings import Grade, Source

_SETBACK = Source("AC43.13-1B", "table 4-7, page 4-15")
_SAME_THICKNESS_IN = 0.0006


@dataclass(frozen=True, slots=True)
class BendRadius:
    """Inside radius for a bend of 90 degrees, as a range.

    Args:
        least_ratio: least radius [sheet thicknesses].
        greatest_ratio: radius that will do for every batch [sheet thicknesses].
        least_in: the same [in].
        greatest_in: the same [in].
        source: where it stands.
        grade: how far it is to be trusted.
        note: which row was read when it is not the sheet's own.
    """

    least_ratio: float
    greatest_ratio: float
    least_in: float
    greatest_in: float
    source: Source
    grade: Grade
    note: str = ""


def bend_radius(
    alloy: str, temper: str, *, thickness_in: float, shop: ShopTables | None = None
) -> BendRadius:
    """Bend radius by the circular; clad sheet may take slightly less.

    Args:
        alloy: four digits, such as "2024".
        temper: such as "T3".
        thickness_in: thickness; the column at it or next above it is read [in].
        shop: a shop's own rows, when there are any.
    Returns:
        BendRadius: range for 90 degrees.
    Raises:
        TableError: the alloy or the thickness is not in the table.
    Source: [AC43.13-1B], table 4-6, page 4-14.

    >>> bend_radius("2024", "T3", thickness_in=0.032).least_ratio
    2.0
    """
    rows = _of(AC43_TABLE_4_6.rows(shop), alloy, temper, where="table 4-6")
    first_in, last_in = rows[0].number("thickness_in"), rows[-1].number("thickness_in")
    for row in rows:
        column_in = row.number("thickness_in")
        if first_in - FLOAT_NOISE <= thickness_in <= column_in + FLOAT_NOISE:
            least, greatest = row.number("radius_min_ratio"), row.number("radius_max_ratio")
            own = abs(column_in - thickness_in) < FLOAT_NOISE
            return BendRadius(
                least_ratio=least,
                greatest_ratio=greatest,
                least_in=least * thickness_in,
                greatest_in=greatest * thickness_in,
                source=row.source,
                grade=row.grade,
                note="" if own else f"column {column_in:.3f} for sheet of {thickness_in:.4f} in",
            )
    raise TableError(
        f"no bend radius for sheet of {thickness_in:.4f} in",
        where="table 4-6",
        remedy=f"Its columns run from {first_in:.3f} to {last_in:.3f} in",
    )


def handbook_bend_radius(
    alloy: str, temper: str, *, thickness_in: float, shop: ShopTables | None = None
) -> Cited:
    """Least bend radius by the handbook's chart, from memory.

    Args:
        alloy: four digits.
        temper: such as "T3".
        thickness_in: stock thickness, only as tabulated [in].
        shop: a shop's own rows, when there are any.
    Returns:
        Cited: least inside radius [in].
    Raises:
        TableError: the alloy or the thickness is not in the chart.
    """
    rows = _of(HANDBOOK_BEND_RADII.rows(shop), alloy, temper, where="handbook bend radii")
    for row in rows:
        if abs(row.number("thickness_in") - thickness_in) < _SAME_THICKNESS_IN:
            return Cited(row.number("radius_in"), "in", row.source, row.grade)
    raise TableError(
        f"no bend radius for sheet of {thickness_in:.4f} in",
        where="handbook bend radii",
        remedy=f"Listed thicknesses: {', '.join(row.text('thickness_in') for row in rows)} in",
    )


def setback_factor(bend_deg: float) -> Cited:
    """K, by which radius plus thickness is multiplied to get the setback.

    Args:
        bend_deg: angle through which the sheet is bent [deg].
    Returns:
        Cited: K = tan(angle / 2), which the table prints [-].
    Raises:
        TableError: the angle is not between 0 and 180 degrees, where the setback has no end.
    Source: [AC43.13-1B], table 4-7, page 4-15; its cells for 159 and 176 degrees are misprints.

    >>> round(setback_factor(135).value, 4)
    2.4142
    """
    if not 0.0 < bend_deg < 180.0:
        raise TableError(
            f"a bend of {bend_deg:g} degrees has no setback",
            where="table 4-7",
            remedy="Give an angle between 0 and 180 degrees",
        )
    return Cited(tan(radians(bend_deg) / 2.0), "-", _SETBACK, Grade.PUBLISHED)


def setback(*, bend_deg: float, radius_in: float, thickness_in: float) -> Cited:
    """Setback of a bend, from the mould line to the tangent line.

    Args:
        bend_deg: angle through which the sheet is bent [deg].
        radius_in: inside radius [in].
        thickness_in: thickness of the sheet [in].
    Returns:
        Cited: K (R + T) [in].
    Raises:
        TableError: the angle is not between 0 and 180 degrees.
    Source: [AC43.13-1B], page 4-14.
    """
    factor = setback_factor(bend_deg)
    return Cited(factor.value * (radius_in + thickness_in), "in", factor.source, factor.grade, "K (R + T)")


def bend_allowances(
    *, bend_deg: float, radius_in: float, thickness_in: float, shop: ShopTables | None = None
) -> tuple[Cited, ...]:
    """Length of sheet that a bend takes up between its tangent lines, by each document.

    Args:
        bend_deg: angle through which the sheet is bent [deg].
        radius_in: inside radius [in].
        thickness_in: thickness of the sheet [in].
        shop: a shop's own rows, when there are any.
    Returns:
        tuple[Cited, ...]: (a R + b T) N, the document that was seen first [in].
    Source: [NAVEDTRA-14018], chapter 13; [FAA-H-8083-31], chapter 4, whose figure for a is from memory.

    >>> [round(one.value, 4) for one in bend_allowances(bend_deg=90, radius_in=0.16, thickness_in=0.04)]
    [0.2772, 0.2791]
    """
    found = []
    for key in ("bend_allowance_radius_navy", "bend_allowance_radius_faa"):
        by_radius, by_thickness = limit(key, shop), limit("bend_allowance_thickness", shop)
        formula = f"({by_radius.value:g} R + {by_thickness.value:g} T) N"
        value_in = (by_radius.value * radius_in + by_thickness.value * thickness_in) * bend_deg
        found.append(Cited(value_in, "in", by_radius.source, by_radius.grade, formula))
    return tuple(found)


def _of(rows: tuple[Row, ...], alloy: str, temper: str, *, where: str) -> list[Row]:
    wanted = (alloy.strip().upper(), temper.strip().upper())
    found = [row for row in rows if (row.text("alloy"), row.text("temper")) == wanted]
    if not found:
        there = ", ".join(dict.fromkeys(f"{row.text('alloy')}-{row.text('temper')}" for row in rows))
        raise TableError(f"{wanted[0]}-{wanted[1]} is not in it", where=where, remedy=f"Listed: {there}")
    return sorted(found, key=lambda row: row.number("thickness_in"))
