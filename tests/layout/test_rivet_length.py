"""Rivet length and shop head.

Length = grip + 1.5 D: [NAVEDTRA-14018] ch. 13, rule 8. A calculated .267 is a length that a technical-school note
rounds to -4 and an Army manual ([TM-10-5410-229-13P], par. 5-6: next standard length above) to -5.
"""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hatchwright.layout.rivet_length import rivet_length, shop_head
from hatchwright.tables.rivet_part import parse_rivet

AD4 = parse_rivet("MS20470AD4")


def test_both_roundings_are_shown():
    found = rivet_length(AD4, grip_in=0.0795, hole_in=0.1285, allowance_ratio=1.5)
    assert found.calculated_in == pytest.approx(0.267)
    assert [str(head.rivet) for head in found.candidates] == [
        "MS20470AD4-4",
        "MS20470AD4-4.5",
        "MS20470AD4-5",
    ]
    assert found.nearest.length_in == 0.25
    assert found.next_up.length_in == 0.3125


def test_metric_rivets_come_in_whole_millimeters():
    # grip 2.0 mm + 1.5 x 3.2 = 6.8 mm; 1.6 + 4.8 = 6.4 mm
    metric = parse_rivet("3.2 mm universal 2117")
    found = rivet_length(metric, grip_in=2.0 / 25.4, hole_in=3.3 / 25.4, allowance_ratio=1.5)
    assert [str(head.rivet) for head in found.candidates] == ["3.2 x 7 mm universal 2117"]
    assert found.nearest.length_in == pytest.approx(7 / 25.4)
    thin = rivet_length(metric, grip_in=1.6 / 25.4, hole_in=3.3 / 25.4, allowance_ratio=1.5)
    assert [head.rivet.length_called for head in thin.candidates] == ["6 mm", "7 mm"]


def test_an_exact_length_is_one_candidate():
    found = rivet_length(AD4, grip_in=0.0625, hole_in=0.1285, allowance_ratio=1.5)
    assert [str(head.rivet) for head in found.candidates] == ["MS20470AD4-4"]


def test_the_head_holds_the_volume_of_the_protruding_shank():
    head = shop_head(AD4, 4, grip_in=0.072, hole_in=0.1285)
    shank = math.pi / 4 * 0.125**2 * 0.25
    in_hole = math.pi / 4 * 0.1285**2 * 0.072
    flat = math.pi / 4 * head.diameter_in**2 * (0.5 * 0.125)
    assert flat == pytest.approx(shank - in_hole)


def test_a_shank_that_does_not_reach_through_makes_no_head():
    assert shop_head(AD4, 1, grip_in=0.1, hole_in=0.1285).diameter_in == 0.0


@pytest.mark.property
@given(grip=st.floats(0.01, 1.0), dash=st.integers(1, 20))
def test_a_longer_rivet_never_makes_a_smaller_head(grip, dash):
    def head(d):
        return shop_head(AD4, d, grip_in=grip, hole_in=0.1285).diameter_in

    assert head(dash + 0.5) >= head(dash)
