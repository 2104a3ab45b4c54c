"""Flush heads: how thin a sheet may be countersunk, how wide, and how far a dimple opens its hole."""

from __future__ import annotations

from dataclasses import dataclass

from hatchwright.errors import TableError
from hatchwright.tables.catalog import COUNTERSINK_DIAMETERS, COUNTERSINK_THRESHOLDS, DIMPLE_SPREAD
from hatchwright.tables.cited import Cited
from hatchwright.tables.drills import drill
from hatchwright.tables.table import Row, ShopTables
from hatchwright.workings import Grade, Source


@dataclass(frozen=True, slots=True)
class CountersinkThreshold:
    """One document's word on the thinnest sheet for a machine countersink.

    Args:
        document: the document in short.
        is_default: whether it is the one that a rule judges by.
        thickness: thinnest sheet [in].
    """

    document: str
    is_default: bool
    thickness: Cited


@dataclass(frozen=True, slots=True)
class CountersinkDiameter:
    """Least and greatest diameter of the countersink for one rivet [in]."""

    least_in: float
    greatest_in: float
    source: Source
    grade: Grade


def countersink_thresholds(
    diameter_in: float, shop: ShopTables | None = None
) -> tuple[CountersinkThreshold, ...]:
    """What every document says of the thinnest sheet for a machine countersink, the default first.

    Of two defaults a published one comes before the shop's own, and that before one from memory.

    Args:
        diameter_in: nominal rivet diameter [in].
        shop: a shop's own rows, when there are any.
    Returns:
        tuple[CountersinkThreshold, ...]: at least five thresholds are about; all that are listed for the size.
    Raises:
        TableError: none is listed for the size.
    """
    rows = [row for row in COUNTERSINK_THRESHOLDS.rows(shop) if row.is_size("diameter_in", diameter_in)]
    if not rows:
        raise _not_listed("thinnest sheet", diameter_in, COUNTERSINK_THRESHOLDS.rows(shop))
    return tuple(
        sorted(
            map(_threshold, rows),
            key=lambda one: (not one.is_default, one.thickness.grade is not Grade.PUBLISHED),
        )
    )


def countersink_minimum(diameter_in: float, shop: ShopTables | None = None) -> Cited:
    """The thinnest sheet for a machine countersink that a rule judges by.

    Args:
        diameter_in: nominal rivet diameter [in].
        shop: a shop's own rows, when there are any.
    Returns:
        Cited: thinnest sheet [in].
    Raises:
        TableError: none is listed for the size.
    Source: [TM-9-2320-363-34-2], table 4; its 1/4 in entry is less than the head is deep and is not used.

    >>> countersink_minimum(0.125).value
    0.05
    """
    return countersink_thresholds(diameter_in, shop)[0].thickness


def countersink_diameter(diameter_in: float, shop: ShopTables | None = None) -> CountersinkDiameter:
    """Least and greatest countersink for a flush rivet.

    Args:
        diameter_in: nominal rivet diameter [in].
        shop: a shop's own rows, when there are any.
    Returns:
        CountersinkDiameter: both limits.
    Raises:
        TableError: the size is not listed.
    Source: [TM-9-2320-363-34-2], table 3.

    >>> countersink_diameter(0.125).greatest_in
    0.228
    """
    for row in COUNTERSINK_DIAMETERS.rows(shop):
        if row.is_size("diameter_in", diameter_in):
            return CountersinkDiameter(
                row.number("countersink_min_in"), row.number("countersink_max_in"), row.source, row.grade
            )
    raise _not_listed("countersink", diameter_in, COUNTERSINK_DIAMETERS.rows(shop))


def dimple_spread(drill_name: str, shop: ShopTables | None = None) -> Cited:
    """How large a drilled hole is after dimpling.

    Args:
        drill_name: the drill before dimpling, such as "40".
        shop: a shop's own rows, when there are any.
    Returns:
        Cited: hole after dimpling, its note naming the drill that then passes [in].
    Raises:
        TableError: no spread is listed for the drill; measure it on a trial piece.

    >>> dimple_spread("40").value
    0.104
    """
    name = drill_name.strip().removeprefix("#").upper()
    rows = DIMPLE_SPREAD.rows(shop)
    for row in rows:
        if row.text("drill") == name:
            after = drill(row.text("opens_to"))
            return Cited(after.diameter_in, "in", row.source, row.grade, f"passes drill {after}")
    raise TableError(
        f"no spread by dimpling is listed for drill {drill_name}",
        where="dimple spread",
        remedy=f"Listed: {', '.join(row.text('drill') for row in rows)}; measure a trial piece",
    )


def _threshold(row: Row) -> CountersinkThreshold:
    thickness = Cited(row.number("thickness_in"), "in", row.source, row.grade, row.text("note"))
    return CountersinkThreshold(row.text("document"), row.text("use") == "default", thickness)


def _not_listed(what: str, diameter_in: float, rows: tuple[Row, ...]) -> TableError:
    there = ", ".join(f"{size_in:g}" for size_in in sorted({row.number("diameter_in") for row in rows}))
    return TableError(
        f"no {what} is listed for a flush rivet of {diameter_in:.4f} in",
        where="countersinks",
        remedy=f"Listed diameters: {there} in",
    )
