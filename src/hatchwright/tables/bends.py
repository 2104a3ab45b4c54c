"""Bends: radius by alloy, temper and thickness, and the setback of a bend."""

from __future__ import annotations

from math import radians, tan
from typing import Annotated

from hatchwright.errors import TableError
from hatchwright.tables.cited import Cited
from hatchwright.tables.columns import Heading
from hatchwright.tables.limits import limit
from hatchwright.tables.table import Order, Record, ShopTables, Table
from hatchwright.workings import Grade, Source

_SETBACK = Source("AC43.13-1B", "table 4-7, page 4-15")


class BendRadius(Record, frozen=True):
    """Inside radius for a bend of 90 degrees, as a range.

    Args:
        thickness_in: of the column that was read [in].
        least_ratio: least radius [sheet thicknesses].
        greatest_ratio: radius that will do for every batch [sheet thicknesses].
    """

    alloy: str
    temper: str
    thickness_in: float
    least_ratio: Annotated[float, Heading("radius_min_ratio")]
    greatest_ratio: Annotated[float, Heading("radius_max_ratio")]


AC43_TABLE_4_6 = Table(
    BendRadius,
    "ac43_13_1b_table_4_6",
    named_by=3,
    orders=(Order("radius_min_ratio", along="thickness_in"), Order("radius_max_ratio", along="thickness_in")),
    title="table 4-6",
    asks=("alloy", "temper", "thickness_in"),
)


def bend_radius(
    alloy: str, temper: str, *, thickness_in: float, shop: ShopTables | None = None
) -> BendRadius:
    """Bend radius for 90 degrees by the circular; clad sheet may take slightly less.

    Args:
        thickness_in: thickness; the column at it or next above it is read [in].
    Raises:
        TableError: the alloy or the thickness is not in the table.
    Source: [AC43.13-1B], table 4-6, page 4-14.

    >>> bend_radius("2024", "T3", thickness_in=0.032).least_ratio
    2.0
    """
    return AC43_TABLE_4_6.at_least(
        "thickness_in", thickness_in, shop, within=True, same=True, alloy=alloy, temper=temper
    )


def setback(*, bend_deg: float, radius_in: float, thickness_in: float) -> Cited:
    """Setback of a bend, from the mold line to the tangent line: K (R + T), R the inside radius [in].

    Raises:
        TableError: the angle is not between 0 and 180 degrees, where the setback has no end.
    Method: K = tan(angle / 2), which the table prints; its cells for 159 and 176 degrees are misprints.
    Source: [AC43.13-1B], page 4-14, and table 4-7, page 4-15.

    >>> round(setback(bend_deg=135, radius_in=0.16, thickness_in=0.04).value, 4)
    0.4828
    """
    if not 0.0 < bend_deg < 180.0:
        raise TableError.saying("error.bend", where="table 4-7", bend=f"{bend_deg:g}")
    factor = tan(radians(bend_deg) / 2.0)
    return Cited(factor * (radius_in + thickness_in), "in", _SETBACK, Grade.PUBLISHED, "K (R + T)")


def bend_allowances(
    *, bend_deg: float, radius_in: float, thickness_in: float, shop: ShopTables | None = None
) -> tuple[Cited, ...]:
    """Length of sheet that a bend takes up between its tangent lines, by each document.

    Returns:
        tuple[Cited, ...]: (a R + b T) N, the document that was seen first [in].
    Source: [NAVEDTRA-14018], chapter 13; [FAA-H-8083-31], chapter 4, whose figure for a was seen only restated.

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
