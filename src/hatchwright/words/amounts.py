"""Numbers as a reader writes them: in the unit of the job, and never rounded in the passing direction."""

from __future__ import annotations

import math
import re

from hatchwright.said import Amount, Place
from hatchwright.units import LB_PER_KG, MM_PER_IN, N_PER_LBF, PSI_PER_KPA, Unit, figure, places_to_tell

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
        return _percent(amount)
    if amount.unit in ("D", "t"):
        return f"{amount.value:.{places_to_tell(amount.value, amount.beside, 2)}f}{amount.unit}"
    if amount.unit == "times":
        return f"{amount.value:.5f}"
    value, named = in_unit_of(amount.value, amount.unit, unit)
    return four_figures(value, "" if bare else named, amount.toward)


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


def _percent(amount: Amount) -> str:
    tenths = amount.value * 10.0
    whole = {"up": math.ceil(tenths - _SHORT_OF), "down": math.floor(tenths + _SHORT_OF)}.get(
        amount.toward, round(tenths)
    )
    return f"{whole / 10.0:.1f}%"


def _length_figure(amount: Amount, unit: Unit) -> str:
    if amount.toward == "near":
        return figure(amount.value, unit, fine=amount.fine, beside_in=amount.beside)
    scale, places = (1.0, 3) if unit == "in" else (MM_PER_IN, 2)
    whole = amount.value * scale * 10**places
    counted = math.ceil(whole - _SHORT_OF) if amount.toward == "up" else math.floor(whole + _SHORT_OF)
    text = f"{counted / 10**places:.{places}f}"
    return re.sub(r"^(-?)0\.", r"\1.", text) if unit == "in" else text


def four_figures(value: float, unit: str, toward: str = "near") -> str:
    """Write a value to four figures, without powers of ten, its unit after it.

    Args:
        value: to be lettered [unit].
        unit: "" or a bare dash when it has none.
        toward: "up" or "down" where it may not be rounded the other way.
    Returns:
        str: with thousands parted.

    >>> four_figures(11587.0, "lbf"), four_figures(0.88581, "-"), four_figures(10.5e6, "psi")
    ('11,590 lbf', '0.8858', '10,500,000 psi')
    """
    if value == 0.0 or not math.isfinite(value):
        figures = "0" if value == 0.0 else str(value)
    else:
        places = 3 - math.floor(math.log10(abs(value)))
        scaled = value * 10.0**places
        whole = {"up": math.ceil(scaled - _SHORT_OF), "down": math.floor(scaled + _SHORT_OF)}.get(
            toward, round(scaled)
        )
        figures = f"{whole / 10.0**places:,.{max(places, 0)}f}"
        figures = figures.rstrip("0").rstrip(".") if "." in figures else figures
    return f"{figures} {unit}" if unit not in ("", "-") else figures


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
