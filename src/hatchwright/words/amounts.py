"""Numbers as a reader writes them: in the unit of the job, and never rounded in the passing direction."""

from __future__ import annotations

import math

from hatchwright.said import Amount, Place
from hatchwright.units import (
    LB_PER_KG,
    MM_PER_IN,
    N_PER_LBF,
    PSI_PER_KPA,
    Unit,
    decimal_inch,
    figure,
    places_to_tell,
)

_METRIC = {
    "in": ("mm", MM_PER_IN),
    "in^2": ("mm²", MM_PER_IN**2),
    "lbf": ("N", N_PER_LBF),
    "lbf/in": ("N/mm", N_PER_LBF / MM_PER_IN),
    "in/lbf": ("mm/N", MM_PER_IN / N_PER_LBF),
    "lbf/in^2": ("MPa", 1e-3 / PSI_PER_KPA),
    "psi": ("MPa", 1e-3 / PSI_PER_KPA),
    "1/in": ("1/mm", 1.0 / MM_PER_IN),
    "in-lbf/in": ("N·mm/mm", N_PER_LBF),
    "in-lbf": ("N·m", N_PER_LBF * MM_PER_IN / 1000.0),
    "lb-in": ("kg·mm", MM_PER_IN / LB_PER_KG),
    "in-lb": ("N·m", N_PER_LBF * MM_PER_IN / 1000.0),
    "lb": ("kg", 1.0 / LB_PER_KG),
    "lb/in^3": ("g/cm³", 1e3 / LB_PER_KG / (MM_PER_IN / 10.0) ** 3),
}
"""Unit inside to the unit of a metric job, and what to multiply by."""

_SHORT_OF = 1e-6
"""Rounding of the arithmetic, in units of the last place: a value this near to a figure is that figure."""


def amount_text(amount: Amount, unit: Unit, *, marked: bool = False, bare: bool = False) -> str:
    """Write an amount in the unit of a job.

    A length in an inch job bears no mark unless it is asked for, as on a drawing; a metric one always does.

    Args:
        amount: what is to be written.
        unit: that of the job, "in" or "mm".
        marked: whether inches are marked too.
        bare: whether nothing is marked, where the unit stands behind another figure or over a column.
    Returns:
        str: such as ``.243``, ``6.17 mm``, ``450 lbf/in``, ``1.94D``.

    >>> amount_text(Amount(0.0021, toward="up"), "in"), amount_text(Amount(0.0021, toward="up"), "mm")
    ('.003', '0.06 mm')
    >>> amount_text(Amount(1.9440, "D", beside=2.0), "mm"), amount_text(Amount(62000.0, "psi"), "mm")
    ('1.94D', '427.5 MPa')
    """
    if amount.unit == "in":
        mark = "" if bare else " mm" if unit == "mm" else " in" if marked else ""
        return f"{_length_figure(amount, unit)}{mark}"
    if amount.unit == "%":
        return f"{_whole(amount.value * 10.0, amount.toward) / 10.0:.1f}%"
    if amount.unit in ("D", "t"):
        return f"{amount.value:.{places_to_tell(amount.value, amount.beside, 2)}f}{amount.unit}"
    if amount.unit == "times":
        return f"{amount.value:.5f}"
    value, named = in_unit_of(amount.value, amount.unit, unit)
    beside = None if amount.beside is None else in_unit_of(amount.beside, amount.unit, unit)[0]
    text = figures(value, named, amount.toward, beside)
    return text.removesuffix(f" {named}") if bare else text


def in_unit_of(value: float, of: str, unit: Unit) -> tuple[float, str]:
    """A value and its unit as a job has them.

    Args:
        of: the unit inside, such as "lbf/in".
        unit: that of the job, "in" or "mm".

    >>> in_unit_of(100.0, "psi", "in"), in_unit_of(2.0, "in", "mm")
    ((100.0, 'psi'), (50.8, 'mm'))
    """
    named, factor = _METRIC.get(of, (of, 1.0)) if unit == "mm" else (of, 1.0)
    return value * factor, named


def hundredth_lb(weight_lb: float, unit: Unit) -> float:
    """A weight as near as .01 of the unit that it is told in [lb]."""
    one, _ = in_unit_of(1.0, "lb", unit)
    return round(weight_lb * one, 2) / one


def _whole(scaled: float, toward: str) -> int:
    """The whole number that a scaled value is written as, never past it the other way."""
    if toward == "up":
        return math.ceil(scaled - _SHORT_OF)
    return math.floor(scaled + _SHORT_OF) if toward == "down" else round(scaled)


def _length_figure(amount: Amount, unit: Unit) -> str:
    if amount.toward == "near":
        return figure(amount.value, unit, fine=amount.fine, beside_in=amount.beside)
    scale, places = (1.0, 3) if unit == "in" else (MM_PER_IN, 2)
    value = _whole(amount.value * scale * 10**places, amount.toward) / 10**places
    return decimal_inch(value, places) if unit == "in" else f"{value:.{places}f}"


def figures(value: float, unit: str, toward: str = "near", beside: float | None = None) -> str:
    """Write a value as finely as its unit is read in the trade, without powers of ten, its unit after it.

    A value that ends one decimal later, as most that were typed or published do, is written out rather than rounded.

    Args:
        value: to be lettered [unit].
        unit: "" or a bare dash when it has none; one that is not known gets four figures.
        toward: "up" or "down" where it may not be rounded the other way.
        beside: a value that it is set against and must not look like, such as its limit; None for none [unit].
    Returns:
        str: with thousands parted.

    >>> figures(11587.43, "lbf"), figures(5.684, "lbf", "up"), figures(0.17502, "of a pitch"), figures(36518.27, "psi")
    ('11,587 lbf', '5.7 lbf', '0.18 of a pitch', '36,520 psi')
    >>> figures(242.43, "lbf", beside=242.17), figures(242.17, "lbf", beside=242.43), figures(10.5e6, "psi")
    ('242.4 lbf', '242.2 lbf', '10,500,000 psi')
    """
    if value == 0.0 or not math.isfinite(value):
        text = "0" if value == 0.0 else str(value)
    else:
        places = _places(value, unit)
        if beside is not None and math.isfinite(beside):
            places = max(places, _places(beside, unit))
            while _rounded(value, places, toward) == _rounded(beside, places, toward) and abs(
                value - beside
            ) > _SHORT_OF * abs(value):
                places += 1
        text = f"{_rounded(value, places, toward):,.{max(places, 0)}f}"
        text = text.rstrip("0").rstrip(".") if "." in text else text
    return f"{text} {unit}" if unit not in ("", "-") else text


_READ_TO = {
    "": (2, 3),
    "-": (2, 3),
    "of a pitch": (2, 2),
    "deg": (2, 2),
    "lbf": (0, 2),
    "N": (0, 2),
    "lbf/in": (0, 3),
    "N/mm": (1, 3),
    "psi": (-1, 3),
    "MPa": (1, 3),
    "lb": (4, 2),
    "kg": (4, 2),
    "lb-in": (0, 4),
    "kg·mm": (0, 4),
}
"""Unit to the last place that is read, as decimals, and the figures that a small value keeps all the same."""


def _places(value: float, unit: str) -> int:
    """Decimals that a value is written to, fewer than none for tens."""
    if value == 0.0:
        return 0
    last, kept = _READ_TO.get(unit, (None, 4))
    by_figures = kept - 1 - math.floor(math.log10(abs(value)))
    places = by_figures if last is None else max(last, by_figures)
    ends_later = _is_same(value, round(value, places + 1)) and not _is_same(value, round(value, places))
    return places + ends_later


def _is_same(value: float, other: float) -> bool:
    return abs(value - other) <= 1e-9 * abs(value)


def _rounded(value: float, places: int, toward: str) -> float:
    return float(_whole(value * 10.0**places, toward) / 10.0**places)


def value_text(value: float | None, of: str, unit: Unit, *, beside: float | None = None) -> str:
    """A value with its unit, in as many figures as tell it apart from what it is set against; "" for None.

    >>> value_text(0.248, "in", "in"), value_text(17.0, "rivets", "in"), value_text(0.24996, "in", "mm", beside=0.25)
    ('.248 in', '17 rivets', '6.349 mm')
    """
    return "" if value is None else amount_text(Amount(value, of, beside=beside), unit, marked=True)


def place_text(place: Place, unit: Unit, *, marked: bool = False, bare: bool = False) -> str:
    """Write a point of the job's frame.

    Args:
        marked: whether inches are marked too.
        bare: whether nothing is marked.

    >>> place_text(Place(5.5, 4.5), "in"), place_text(Place(5.5, 4.5), "mm")
    ('X 5.500 Y 4.500', 'X 139.70 Y 114.30 mm')
    """
    mark = "" if bare else " mm" if unit == "mm" else " in" if marked else ""
    return f"X {figure(place.x_in, unit)} Y {figure(place.y_in, unit)}{mark}"
