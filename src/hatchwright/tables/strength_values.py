"""The numbers that the hand methods of strength use: single values and small charts."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Sequence
from operator import attrgetter

from hatchwright.judged import FLOAT_NOISE
from hatchwright.said import said
from hatchwright.tables.cited import Cited
from hatchwright.tables.columns import OptionalText
from hatchwright.tables.limits import Value
from hatchwright.tables.table import Order, R, Record, ShopTables, Table

_ENDLESS = 100.0
"""A plate longer than this many widths buckles like an endless one [-]."""


class _End(Record, frozen=True):
    head: str
    end_ratio: float
    note: OptionalText


class _Plate(Record, frozen=True):
    side_ratio: float
    ks_ratio: float


class _Concentration(Record, frozen=True):
    load: str
    side_ratio: float
    radius_ratio: float
    kt_ratio: float


STRENGTH_VALUES = Table(Value, "strength_values", otherwise=True, asks=("key",))

INTER_RIVET_ENDS = Table(_End, "inter_rivet_ends")

PLATE_BUCKLING = Table(
    _Plate,
    "plate_buckling",
    orders=(Order("ks_ratio", along="side_ratio", falls=True),),
    is_open=False,
    otherwise=True,
)

OPENING_STRESS_CONCENTRATION = Table(
    _Concentration, "opening_stress_concentration", named_by=3, is_open=False, otherwise=True
)


def strength_value(key: str, shop: ShopTables | None = None) -> Cited:
    """One value by its name; the names stand in `strength_values.csv`.

    Raises:
        TableError: there is no value of that name.

    >>> strength_value("opening_over_bay_max").value
    0.5
    """
    return STRENGTH_VALUES.one(shop, key=key).as_cited


def inter_rivet_end(*, is_flush: bool, shop: ShopTables | None = None) -> Cited:
    """End-fixity coefficient of sheet that buckles between rivets, the lower of what texts give [-].

    >>> inter_rivet_end(is_flush=False).value
    3.0
    """
    row = INTER_RIVET_ENDS.one(shop, head="flush" if is_flush else "protruding")
    return row.cited("end_ratio", row.note)


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
    low, high, share = _between(
        PLATE_BUCKLING,
        PLATE_BUCKLING.some(),
        "side_ratio",
        min(side_ratio, _ENDLESS),
        run=lambda ratio: -(ratio**-2),
    )
    value = low.ks_ratio * (1 - share) + high.ks_ratio * share
    nearer = low if share < 0.5 else high
    return Cited(value, "-", nearer.source, nearer.grade)


def opening_concentration(load: str, *, side_ratio: float, radius_ratio: float) -> Cited:
    """Stress concentration of a rounded rectangle in a wide sheet: peak edge stress over the stress far away [-].

    Args:
        load: "across long side", "along long side", "shear", "equal biaxial" or "two to one".
        side_ratio: long over short side, 1 or more [-].
        radius_ratio: corner radius over half the short side, at most 1 [-].
    Raises:
        TableError: the shape lies outside the table.
    Method: straight lines between the rows, which lie above the curve because it is hollow towards larger radii.

    >>> opening_concentration("shear", side_ratio=1.0, radius_ratio=1.0).value
    4.0
    """
    table = OPENING_STRESS_CONCENTRATION
    rows = table.some(load=load)

    def over_radius(side: float) -> float:
        of_side = [row for row in rows if row.side_ratio == side]
        low, high, share = _between(table, of_side, "radius_ratio", radius_ratio)
        return low.kt_ratio * (1 - share) + high.kt_ratio * share

    low, high, share = _between(table, rows, "side_ratio", side_ratio)
    value = over_radius(low.side_ratio) * (1 - share) + over_radius(high.side_ratio) * share
    return Cited(value, "-", low.source, low.grade)


def _between(
    table: Table[R], rows: Sequence[R], name: str, value: float, run: Callable[[float], float] = float
) -> tuple[R, R, float]:
    """The rows on both sides of a value, and how far it lies from the first to the second."""
    at_number = attrgetter(name)
    ordered = sorted({at_number(row): row for row in rows}.items())
    listed = [number for number, _ in ordered]
    if not listed[0] - FLOAT_NOISE <= value <= listed[-1] + FLOAT_NOISE:
        raise table.refusal(
            said("table.ratio", label=table.columns[name].label, value=f"{value:.4g}"),
            [said("table.span", first=f"{listed[0]:g}", last=f"{listed[-1]:g}")],
        )
    at = min(max(bisect_right(listed, value) - 1, 0), len(listed) - 2)
    start, end = run(listed[at]), run(listed[at + 1])
    share = min(max((run(value) - start) / (end - start), 0.0), 1.0)
    return ordered[at][1], ordered[at + 1][1], share
