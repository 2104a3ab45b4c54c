"""Shift, turn and eccentricity beyond the published cases."""

from __future__ import annotations

import math

import pytest

from hatchwright.errors import GeometryError
from hatchwright.making.cutter.misplacement import misplaced, yaw_error_in
from hatchwright.shapes.outlines import rounded_rectangle
from hatchwright.shapes.profile import profile_of

OPENING = profile_of(rounded_rectangle(width_in=10.0, height_in=6.0, radius_in=1.0, center=(3.0, 2.0)))


def test_a_sharp_rectangle_moves_as_a_whole():
    square = profile_of(rounded_rectangle(width_in=10.0, height_in=6.0, radius_in=0.0))
    found = misplaced(square, square, shift_in=(0.01, -0.004))
    assert found.over_cut.depth_in == pytest.approx(math.hypot(0.01, 0.004), abs=1e-9)  # at the vertex itself
    assert found.left_area_sq_in == pytest.approx(10 * 0.004 + 6 * 0.01 - 0.01 * 0.004, abs=1e-9)


def test_a_turn_goes_about_its_pivot():
    about_center = misplaced(OPENING, OPENING, turn_deg=0.2, pivot=(3.0, 2.0))
    about_corner = misplaced(OPENING, OPENING, turn_deg=0.2, pivot=(-2.0, -1.0))
    assert about_center.over_cut.depth_in < 0.02
    assert about_corner.over_cut.depth_in > 1.9 * about_center.over_cut.depth_in


def test_shift_and_turn_together_are_no_more_than_their_sum():
    both = misplaced(OPENING, OPENING, shift_in=(0.01, 0.0), turn_deg=0.1, pivot=(3.0, 2.0))
    turn = misplaced(OPENING, OPENING, turn_deg=0.1, pivot=(3.0, 2.0))
    assert max(0.01, turn.over_cut.depth_in) < both.over_cut.depth_in < 0.01 + turn.over_cut.depth_in + 1e-9


def test_no_heading_at_all_is_refused():
    with pytest.raises(GeometryError, match="not guided at all"):
        yaw_error_in(towards_edge_in=0.01, along_feed_in=0.0, yaw_deg=120.0)
