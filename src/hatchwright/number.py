"""Numbers as people type them: the one grammar, and the one table of what a number of each kind can be.

Outside its range a number is a slip of the pen or of its unit, and is refused at the door. A range says what can be at
all, never what is good: that is for the rules. Common practice, no source, where nothing else is said.
"""

from __future__ import annotations

import math
import re
from fractions import Fraction

from msgspec import Struct

from hatchwright.errors import EntryError

_DECIMAL = re.compile(r"[-+]?(?:\d++(?:[.,]\d*+)?|[.,]\d++)", re.ASCII)
_THOUSANDS = re.compile(r"[-+]?[1-9]\d{0,2}(?:,\d{3})++", re.ASCII)
_LONGEST_TEXT = 40


def decimal(text: str, *, most: float = math.inf) -> Fraction | None:
    """The value of a plain decimal number; None for any other text.

    A comma is taken for the decimal mark where it can mean nothing else: it can't set off thousands where other than
    three digits stand behind it, or a zero or more than three digits before it, or where the number would then be
    larger than anything of its kind. Otherwise it is asked about, in either unit, and never guessed.

    Args:
        most: what a number of its kind can be at most.
    Raises:
        EntryError: its comma could be a thousands or a decimal mark, as in "1,500".

    >>> decimal(".5"), decimal("21,5"), decimal("1,375", most=1000), decimal("1e3")
    (Fraction(1, 2), Fraction(43, 2), Fraction(11, 8), None)
    """
    if len(text) > _LONGEST_TEXT or not _DECIMAL.fullmatch(text):
        return None
    if _THOUSANDS.fullmatch(text) and abs(int(text.replace(",", ""))) <= most:
        raise EntryError.saying("error.number_comma", where=repr(text))
    whole, _, part = text.replace(",", ".").partition(".")
    return Fraction(int(whole + part), 10 ** len(part))


class Range(Struct, frozen=True):
    """What a number of one kind can be, both ends included."""

    least: float
    most: float

    def __contains__(self, value: float) -> bool:
        """Whether it can be; what is no number cannot."""
        return self.least <= value <= self.most


SIZE_IN = Range(1e-5, 1000.0)
"""Any size but zero: nothing finer is measured, and no part of a light aircraft's skin is longer [in]."""

SHEET_IN = Range(0.004, 1.0)
"""Thickness of a sheet [in]."""

DIAMETER_IN = Range(0.01, 36.0)
"""Diameter of a hole, a drill or a tool [in]."""

UNCERTAINTY_IN = Range(1e-5, 0.25)
"""How far off a reading on the aircraft may be, a tape's at worst [in]."""

GAUGE_IN = Range(1e-5, 1 / 32)
"""How far off a caliper or a template may be: two graduations of a scale in 64ths [in]."""

STEP_IN = Range(0.0005, 0.125)
"""What drawn lengths end on: finer is not laid out by hand, and coarser leaves no place for a row [in]."""

TAB_IN = Range(0.01, 2.0)
"""Width and height of a tab; a thinner one does not hold while it is cut [in]."""

MOST_HOLES = 2000
"""More holes than this, in a row or in a job, are a slip of the pitch or its unit [-]."""

COUNT = Range(1, 9999)
SPINDLE_RPM = Range(1, 100_000)
TURN_DEG = Range(-360.0, 360.0)

RUNNING_LOAD_LBF_PER_IN = Range(-5e4, 5e4)
"""Twice what the thickest sheet of the strongest alloy carries [lbf/in]."""

PRESSURE_PSI = Range(-100.0, 100.0)
FORCE_LBF = Range(0.0, 1e5)
ALLOWABLE_LBF = Range(10.0, 50_000.0)
WEIGHT_LB = Range(0.001, 200.0)
EMPTY_WEIGHT_LB = Range(100.0, 50_000.0)

AIRCRAFT_LB = Range(100.0, 1_000_000.0)
"""Weight of an aircraft, of any that a limit is published for [lb]."""

LOAD_LB = Range(0.0, 500_000.0)
"""What stands on a scale or goes aboard [lb]."""

VOLUME_GAL = Range(0.1, 50_000.0)
POWER_HP = Range(10.0, 20_000.0)

HINGE_IN_LB = Range(-5000.0, 5000.0)
"""Out of balance of a control surface about its hinge line, nose heavy positive [in-lb]."""

AREA_FT2 = Range(0.001, 5.0)
SPEED_MPH = Range(20.0, 600.0)
FACTOR = Range(1.0, 10.0)

MARGIN_OF_SAFETY = Range(0.0, 5.0)
"""What may be kept over what is asked; more is a slip for a factor in percent [-]."""

HOLES_PER_100_JOBS = Range(0.001, 1000.0)
"""Holes that end short in a hundred jobs [-]."""

EFFICIENCY = Range(0.5, 1.0)
"""No seam that holds a skin leaves less of it: a lower one is a slip, and would ask for too little [-]."""

BY_UNIT = {
    "in": Range(0.0, 12.0),
    "in_lbf": Range(1.0, 500.0),
    "psi": Range(1000.0, 4e7),
    "lbf": Range(1.0, 20000.0),
    "lb_per_in3": Range(0.03, 0.4),
    "per_in": Range(0.5, 90.0),
    "deg": Range(0.0, 180.0),
    "ratio": Range(0.0, 1e4),
    "h": Range(0.1, 500.0),
}
"""What a number of a table can be, by the unit that its heading ends with."""

BY_HEADING = {
    "thickness_in": Range(0.004, 0.3),
    "diameter_in": Range(0.01, 1.0),
    "weight_lb": Range(1e-5, 5.0),
    "pressure_psi": Range(5.0, 150.0),
}
"""The same where the heading says more than its unit."""
