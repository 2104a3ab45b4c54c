"""Rivet length in college aircraft-maintenance riveting notes (undated, seen as a public copy): two sheets of .040.

The notes print .267 needed and take -4, the nearest; [TM-10-5410-229-13P], par. 5-6, takes the next length above, -5.
Tolerance: .001, the notes cut the fourth decimal off.
"""

from __future__ import annotations

import pytest

from hatchwright.layout.rivet_length import rivet_length
from hatchwright.tables.limits import limit
from hatchwright.tables.rivet_part import parse_rivet
from hatchwright.tables.rivets import hole_drill


def test_both_ways_of_rounding_a_length():
    found = rivet_length(
        parse_rivet("MS20470AD4"),
        grip_in=0.040 + 0.040,
        hole_in=hole_drill(1 / 8).diameter_in,
        allowance_ratio=limit("upset_allowance").value,
    )
    assert found.calculated_in == pytest.approx(0.267, abs=0.001)
    assert found.nearest.length_in == 0.250
    assert found.next_up.length_in == 0.3125
