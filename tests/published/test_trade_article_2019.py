"""Diameter and length in a riveting article of 2019 (trade press, seen as a public copy): two sheets of .050.

Printed: 3t = .15, so a 5/32 rivet; length .334. Tolerance: .0005, the last printed place.
"""

from __future__ import annotations

import pytest

from hatchwright.layout.rivet_length import rivet_length
from hatchwright.tables.limits import limit
from hatchwright.tables.rivet_part import parse_rivet
from hatchwright.tables.rivets import hole_drill, next_rivet_diameter


def test_diameter_and_length():
    three_t_in = limit("diameter_rule").value * 0.050
    assert three_t_in == pytest.approx(0.15)
    diameter_in = next_rivet_diameter(three_t_in).value
    assert diameter_in == 5 / 32
    found = rivet_length(
        parse_rivet("MS20470AD5"),
        grip_in=0.100,
        hole_in=hole_drill(diameter_in).diameter_in,
        allowance_ratio=limit("upset_allowance").value,
    )
    assert found.calculated_in == pytest.approx(0.334, abs=0.0005)
