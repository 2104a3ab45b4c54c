"""Worked examples of the circular that need no more than its tables.

FAA Advisory Circular 43.13-1B, Acceptable Methods, Techniques, and Practices: Aircraft Inspection and Repair,
8 September 1998, Change 1 of 27 September 2001; par. 4-57, 4-58g, figure 4-20 and page 4-14.

Tolerance: the printed digits, unless a test says otherwise.
"""

from __future__ import annotations

import math

import pytest

from hatchwright.tables.bends import setback
from hatchwright.tables.limits import limit
from hatchwright.tables.rivet_part import parse_rivet
from hatchwright.tables.rivets import next_rivet_diameter, substitution
from hatchwright.tables.rivets_per_inch import rivets_per_inch, table_note, tables_for


def test_diameter_of_the_splice_rivets() -> None:
    """Par. 4-58g(2)(a), page 4-27: clad 2024 of .032; 3 x .032 = .096, next size up 1/8 (5/32 will do as well)."""
    aim_in = limit("diameter_rule").value * 0.032
    assert aim_in == pytest.approx(0.096)
    assert next_rivet_diameter(aim_in).value == 0.125


def test_number_of_the_splice_rivets() -> None:
    """Par. 4-58g(2)(b), page 4-27: table 4-10 gives 4.9; 75 percent of it, printed 3.7; 10 in wide, 37 rivets."""
    per_in = rivets_per_inch("4-10", thickness_in=0.032, diameter_in=0.125).value
    assert per_in == 4.9
    reduced_per_in = per_in * table_note("4-10", "c").value
    assert round(reduced_per_in, 1) == 3.7
    assert math.ceil(reduced_per_in * 10.0) == 37


def test_the_same_splice_by_table_4_9() -> None:
    """The conflict: table 4-9 lists clad 2024-T3 too and gives 6.2 an inch: 47 rivets (counted here)."""
    assert tables_for("2024", "T3", True) == ("4-9", "4-10")
    per_in = rivets_per_inch("4-9", thickness_in=0.032, diameter_in=0.125).value
    assert math.ceil(per_in * table_note("4-9", "c").value * 10.0) == 47


def test_flange_leg_of_the_frame_splice() -> None:
    """Figure 4-20, page 4-41: 2017-T3 of .040, leg .6 in: .6 x 6.2 = 3.72, use 4; 60 percent, 2.4, use 3."""
    assert tables_for("2017", "T3", False) == ("4-10",)
    raw = 0.6 * rivets_per_inch("4-10", thickness_in=0.040, diameter_in=0.125).value
    assert raw == pytest.approx(3.72)
    reduced = math.ceil(raw) * table_note("4-10", "b").value
    assert reduced == pytest.approx(2.4)
    assert math.ceil(reduced) == 3


def test_setback_of_a_closed_bend() -> None:
    """Page 4-14, item b(3): .064 sheet, radius .250, bent 135 degrees: K 2.4142, setback .758."""
    assert setback(bend_deg=135, radius_in=0.75, thickness_in=0.25).value == pytest.approx(2.4142, abs=5e-5)
    assert setback(bend_deg=135, radius_in=0.250, thickness_in=0.064).value == pytest.approx(0.758, abs=5e-4)


def test_a_half_length_rivet() -> None:
    """Par. 4-57a(4), page 4-16: MS20470AD4-3.5 is 1/8 across and 3.5 sixteenths long."""
    part = parse_rivet("MS20470AD4-3.5")
    assert (part.diameter_in, part.length) == (0.125, 0.21875 * 16)


def test_substitution_by_the_next_larger_size() -> None:
    """Par. 4-57b, page 4-16: 2117 for a 5/32 rivet of 2017 is 1/32 larger (the rule is printed, not this instance)."""
    found = substitution("D", diameter_in=0.15625)
    assert (found.letters, found.diameter_in) == ("AD", 0.1875)
