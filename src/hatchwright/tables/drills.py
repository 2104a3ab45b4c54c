"""Twist drills by number, letter, 64ths of an inch and tenths of a millimeter."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from functools import cache
from types import MappingProxyType

from msgspec import Struct

from hatchwright.errors import TableError
from hatchwright.said import inch, said
from hatchwright.tables.columns import OptionalText
from hatchwright.tables.table import Record, Table
from hatchwright.units import MM_PER_IN, Unit
from hatchwright.workings import Grade, Source

_FRACTIONS = Source("GEOMETRY", "64ths of an inch, exact")
_METRIC = Source("GEOMETRY", "tenths of a millimeter, exact")
_METRIC_TENTHS = range(10, 131)
"""Metric drills from 1 to 13 mm [0.1 mm]."""


class _Listed(Record, frozen=True):
    drill: str
    kind: str
    diameter_in: float
    note: OptionalText


DRILLS = Table(_Listed, "drills", is_open=False)


class Drill(Struct, frozen=True):
    """One drill: its name, its diameter [in], and where that stands."""

    name: str
    diameter_in: float
    source: Source
    grade: Grade

    @property
    def is_metric(self) -> bool:
        """Whether it is known by millimeters."""
        return self.name.endswith(" mm")

    def __str__(self) -> str:
        return f"#{self.name}" if self.name.isdigit() else self.name


@cache
def drill_sizes() -> Mapping[str, float]:
    """Diameters of the number drills "1" to "80" and the letter drills "A" to "Z", by name, read only [in].

    >>> drill_sizes()["30"], drill_sizes()["F"]
    (0.1285, 0.257)
    """
    return MappingProxyType({row.drill: row.diameter_in for row in DRILLS.all()})


def drill(name: str) -> Drill:
    """The drill of a name: number, letter, fraction or millimeters, such as "30", "#30", "F", "3/32" or "4.3 mm".

    Raises:
        TableError: there is no such drill.

    >>> drill("3/32").diameter_in
    0.09375
    """
    found = _by_name().get(name.strip().removeprefix("#").upper())
    if found is None:
        raise TableError(
            said("error.no_drill", name=name),
            remedy=said("error.no_drill.fractions"),
        )
    return found


def nearest_drill(diameter_in: float, unit: Unit = "in") -> Drill:
    """The number, letter or fraction drill nearest to a diameter, or the metric one.

    Of two equally near the smaller, of two equal the fraction.

    Args:
        unit: "mm" for a metric drill.
    Raises:
        TableError: the diameter is smaller than the smallest drill or larger than the largest.

    >>> nearest_drill(0.1285).name, nearest_drill(0.25).name
    ('30', '1/4')
    """
    by_size = _by_size(unit)
    smallest_in, largest_in = by_size[0].diameter_in, by_size[-1].diameter_in
    if not smallest_in <= diameter_in <= largest_in:
        raise DRILLS.refusal(
            inch(diameter_in, fine=True),
            [said("table.span", first=inch(smallest_in, fine=True), last=inch(largest_in, fine=True))],
        )
    return min(by_size, key=lambda one: round(abs(one.diameter_in - diameter_in), 9))


@cache
def _by_name() -> dict[str, Drill]:
    named = {row.drill: Drill(row.drill, row.diameter_in, row.source, row.grade) for row in DRILLS.all()}
    for count in range(1, 64):
        name = str(Fraction(count, 64))
        named[name] = Drill(name, count / 64, _FRACTIONS, Grade.COMPUTED)
    return named | {one.name.upper(): one for one in _metric()}


@cache
def _metric() -> tuple[Drill, ...]:
    return tuple(
        Drill(f"{tenths / 10:.1f} mm", tenths / 10 / MM_PER_IN, _METRIC, Grade.COMPUTED)
        for tenths in _METRIC_TENTHS
    )


@cache
def _by_size(unit: Unit) -> tuple[Drill, ...]:
    if unit == "mm":
        return _metric()
    in_inches = set(_by_name().values()) - set(_metric())
    return tuple(sorted(in_inches, key=lambda one: (one.diameter_in, "/" not in one.name)))
