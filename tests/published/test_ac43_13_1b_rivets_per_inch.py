"""Rivets per inch of width from first principles, against the circular.

Source: FAA Advisory Circular 43.13-1B, 8 Sep 1998 with Change 1 of 27 Sep 2001, par. 4-58g page 4-27 and
tables 4-9, 4-10 and 4-11, pages 4-37 to 4-39. The tables print one decimal, so the tolerance is half of the
last digit, and one percent of play for the printed percentages of shear (40, 50 and 70) and bearing (160).
"""

from __future__ import annotations

import math

import pytest

from hatchwright.rules.rivets_per_inch import rivets_needed
from hatchwright.strength.checks.rivets import rivets_for_load
from hatchwright.strength.worked import work_out
from hatchwright.tables.rivets_per_inch import rivets_per_inch, table_note
from hatchwright.workings import Quantity

NOMINAL_HOLE_IN = {0.125: 0.1285, 0.15625: 0.159, 0.1875: 0.191, 0.25: 0.257}


@pytest.mark.parametrize(
    ("table", "thickness_in", "diameter_in", "shear_ratio", "printed", "governs"),
    [
        ("4-10", 0.040, 0.125, 0.5, 6.2, "shear"),
        ("4-10", 0.025, 0.125, 0.5, 4.9, "bearing"),
        ("4-9", 0.064, 0.15625, 0.4, 8.1, "shear"),
        ("4-11", 0.081, 0.1875, 0.7, 4.0, "shear"),
        ("4-10", 0.102, 0.25, 0.5, 3.9, "shear"),
    ],
)
def test_entries_follow_from_shear_and_bearing(
    table: str, thickness_in: float, diameter_in: float, shear_ratio: float, printed: float, governs: str
) -> None:
    """n = load of one inch of sheet at its tensile strength over what one rivet carries."""
    hole_in = NOMINAL_HOLE_IN[diameter_in]
    ftu_psi = 55_000.0  # any value: both sides scale with it
    shear = work_out(
        shear_ratio * ftu_psi * math.pi / 4 * hole_in**2,
        "P shear = r Ftu pi/4 Dh^2 [lbf]",
        Quantity("Dh", hole_in, "in"),
    )
    bearing = work_out(
        1.6 * ftu_psi * thickness_in * hole_in,
        "P bearing = 1.6 Ftu t Dh [lbf]",
        Quantity("Dh", hole_in, "in"),
    )
    one = min(shear, bearing, key=lambda strength: strength.value)
    assert one.symbol == f"P {governs}"
    per_inch = ftu_psi * thickness_in / one.value
    assert per_inch == pytest.approx(printed, rel=0.01, abs=0.05)
    assert rivets_per_inch(table, thickness_in=thickness_in, diameter_in=diameter_in).value == printed
    assert rivets_for_load(load_lbf=10 * ftu_psi * thickness_in, one=one).value == math.ceil(10 * per_inch)


def test_the_splice_of_page_4_27() -> None:
    """Clad 2024, .032, 10 in wide, 1/8 AD: 4.9 an inch, three quarters of it, 37 rivets in all."""
    per_inch = rivets_per_inch("4-10", thickness_in=0.032, diameter_in=0.125)
    assert per_inch.value == 4.9
    assert rivets_needed(10.0, per_inch, table_note("4-10", "c")) == 37
