"""Figures as a shop reads them: in the job's own unit, with the decimals of that unit."""

from __future__ import annotations

import math
import re
from typing import Literal, TypeAlias

from hatchwright.job.job import Job
from hatchwright.units import MM_PER_IN, decimal_inch

Unit: TypeAlias = Literal["in", "mm"]

_EXACT = 1e-9


def unit_of(job: Job) -> Unit:
    """The unit that a job's papers are in.

    Args:
        job: as entered.
    Returns:
        Unit: "in" or "mm".
    """
    return "mm" if job.units == "mm" else "in"


def figure(value_in: float, unit: Unit, *, fine: bool = False) -> str:
    """Write a length without its unit mark.

    A value that ends one decimal later, such as a drill or 5/16 in, is written out rather than rounded.

    Args:
        value_in: the length [in].
        unit: "in": three places, no zero before the point; "mm": two places, a zero before it.
        fine: one place more in any case, for offsets and drills.
    Returns:
        str: such as ``5.277`` or ``.1535``, ``134.04`` or ``3.899``.

    >>> figure(0.1535, "in"), figure(5.277, "in"), figure(1 / 3, "in"), figure(5.277, "mm")
    ('.1535', '5.277', '.333', '134.04')
    """
    value, places = (value_in, 3) if unit == "in" else (value_in * MM_PER_IN, 2)
    ends_later = abs(round(value, places + 1) - value) < _EXACT < abs(round(value, places) - value)
    text = f"{value:.{places + (fine or ends_later)}f}"
    if float(text) == 0.0:
        text = text.removeprefix("-")
    return re.sub(r"^(-?)0\.", r"\1.", text) if unit == "in" else text


def shortfall_figure(missing_in: float, unit: Unit) -> str:
    """Write by how much a value is short, rounded up, so that a shortfall never reads smaller than it is.

    Args:
        missing_in: the shortfall, not negative [in].
        unit: thousandths of an inch, or hundredths of a millimetre.
    Returns:
        str: such as ``.002``.

    >>> shortfall_figure(0.0021, "in"), shortfall_figure(0.002, "in")
    ('.003', '.002')
    """
    if unit == "in":
        return decimal_inch(math.ceil(missing_in * 1e3 - 1e-6) / 1e3)
    return f"{math.ceil(missing_in * MM_PER_IN * 1e2 - 1e-6) / 1e2:.2f}"


def size_words(bounds: tuple[float, float, float, float], unit: Unit) -> str:
    """The over-all size of a box as it is said in the trade.

    Args:
        bounds: x_min, y_min, x_max, y_max in the job's frame [in].
        unit: of the figures.
    Returns:
        str: along X by along Y, such as ``5.000 x 4.000``.
    """
    return f"{figure(bounds[2] - bounds[0], unit)} x {figure(bounds[3] - bounds[1], unit)}"
