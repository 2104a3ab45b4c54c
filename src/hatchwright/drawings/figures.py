"""Figures as a shop reads them: in the job's own unit, with the decimals of that unit."""

from __future__ import annotations

import math

from hatchwright.job.job import Job
from hatchwright.units import MM_PER_IN, Unit, decimal_inch, figure

__all__ = ["Unit", "figure", "shortfall_figure", "size_words", "unit_of"]


def unit_of(job: Job) -> Unit:
    """The unit that a job's papers are in.

    Returns:
        Unit: "in" or "mm".
    """
    return job.unit


def shortfall_figure(missing_in: float, unit: Unit) -> str:
    """Write by how much a value is short, rounded up, so that a shortfall never reads smaller than it is.

    Args:
        missing_in: the shortfall, not negative [in].
        unit: thousandths of an inch, or hundredths of a millimeter.
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
    Returns:
        str: along X by along Y, such as ``5.000 x 4.000``.
    """
    return f"{figure(bounds[2] - bounds[0], unit)} x {figure(bounds[3] - bounds[1], unit)}"
