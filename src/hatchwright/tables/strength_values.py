"""The numbers that the hand methods of strength use: single values and small charts."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Sequence

from hatchwright.errors import TableError
from hatchwright.judged import FLOAT_NOISE
from hatchwright.tables.catalog import (
    INTER_RIVET_ENDS,
    OPENING_STRESS_CONCENTRATION,
    PLATE_BUCKLING,
    STRENGTH_VALUES,
)
from hatchwright.tables.cited import Cited
from hatchwright.tables.table import Row, ShopTables

_ENDLESS = 100.0
"""A plate longer than this many widths buckles like an endless one [-]."""


def strength_value(key: str, shop: ShopTables | None = None) -> Cited:
    """One value.

    Args:
        key: its name, such as "fatigue_screen_cap"; the names stand in `strength_values.csv`.
        shop: a shop's own rows, when there are any.
    Returns:
        Cited: value, unit, source, grade and note.
    Raises:
        TableError: there is no value of that name.

    >>> strength_value("opening_over_bay_max").value
    0.5
    """
    for row in STRENGTH_VALUES.rows(shop):
        if row.text("key") == key:
            return Cited(row.number("value"), row.text("unit"), row.source, row.grade, row.text("note"))
    raise TableError(
        f"there is no value '{key}'", where="strength_values", remedy="See strength_values.csv for the names"
    )


def inter_rivet_end(*, is_flush: bool, shop: ShopTables | None = None) -> Cited:
    """End-fixity coefficient of sheet that buckles between rivets [-].

    Args:
        is_flush: whether the rivets have flush heads.
        shop: a shop's own rows, when there are any.
    Returns:
        Cited: the lower of what texts give.

    >>> inter_rivet_end(is_flush=False).value
    3.0
    """
    head = "flush" if is_flush else "protruding"
    row = next(row for row in INTER_RIVET_ENDS.rows(shop) if row.text("head") == head)
    return Cited(row.number("end_ratio"), "-", row.source, row.grade, row.text("note"))


def shear_buckling_coefficient(*, side_ratio: float) -> Cited:
    """Shear buckling coefficient of a flat plate on simple supports all round.

    Args:
        side_ratio: long over short side, 1 or more [-].
    Returns:
        Cited: Ks in F = Ks pi^2 E / (12 (1 - nu^2)) (t / short side)^2 [-].
    Raises:
        TableError: the ratio is below 1.
    Method: straight lines over (short / long)^2 between the rows.

    >>> shear_buckling_coefficient(side_ratio=1.0).value
    9.325
    """
    rows = PLATE_BUCKLING.rows()
    low, high, share = _between(rows, "side_ratio", min(side_ratio, _ENDLESS), run=lambda ratio: -(ratio**-2))
    value = low.number("ks_ratio") * (1 - share) + high.number("ks_ratio") * share
    nearer = low if share < 0.5 else high
    return Cited(value, "-", nearer.source, nearer.grade)


def opening_concentration(load: str, *, side_ratio: float, radius_ratio: float) -> Cited:
    """Stress concentration of a rounded rectangle in a wide sheet.

    Args:
        load: "across long side", "along long side", "shear", "equal biaxial" or "two to one".
        side_ratio: long over short side, 1 or more [-].
        radius_ratio: corner radius over half the short side, at most 1 [-].
    Returns:
        Cited: peak edge stress over the stress far away [-].
    Raises:
        TableError: the shape lies outside the table.
    Method: straight lines between the rows, which lie above the curve because it is hollow towards larger radii.

    >>> opening_concentration("shear", side_ratio=1.0, radius_ratio=1.0).value
    4.0
    """
    rows = [row for row in OPENING_STRESS_CONCENTRATION.rows() if row.text("load") == load]
    if not rows:
        raise TableError(f"there is no load '{load}'", where="opening_stress_concentration")

    def over_radius(side: float) -> float:
        of_side = [row for row in rows if row.number("side_ratio") == side]
        low, high, share = _between(of_side, "radius_ratio", radius_ratio)
        return low.number("kt_ratio") * (1 - share) + high.number("kt_ratio") * share

    low, high, share = _between(rows, "side_ratio", side_ratio)
    ends = over_radius(low.number("side_ratio")), over_radius(high.number("side_ratio"))
    return Cited(ends[0] * (1 - share) + ends[1] * share, "-", low.source, low.grade)


def _between(
    rows: Sequence[Row], heading: str, value: float, run: Callable[[float], float] = float
) -> tuple[Row, Row, float]:
    """The rows on both sides of a value, and how far it lies from the first to the second."""
    ordered = sorted({row.number(heading): row for row in rows}.items())
    listed = [number for number, _ in ordered]
    if not listed[0] - FLOAT_NOISE <= value <= listed[-1] + FLOAT_NOISE:
        raise TableError(
            f"{heading.removesuffix('_ratio')} ratio {value:.4g} is outside the table",
            where=heading,
            remedy=f"It runs from {listed[0]:g} to {listed[-1]:g}; nothing is read beyond it",
        )
    at = min(max(bisect_right(listed, value) - 1, 0), len(listed) - 2)
    start, end = run(listed[at]), run(listed[at + 1])
    share = min(max((run(value) - start) / (end - start), 0.0), 1.0)
    return ordered[at][1], ordered[at + 1][1], share
