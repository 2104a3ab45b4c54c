"""Stations on loops: equal bays, exact symmetry, forced places."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hatchwright.errors import GeometryError
from hatchwright.shapes.distance import distances
from hatchwright.shapes.outlines import circle, polygon, rounded_rectangle
from hatchwright.shapes.profile import Profile
from hatchwright.shapes.stations import corner_middles, nearest_station, places_at, stations, tangent_points
from shapes.drawn import convex_loops

TOL_IN = 1e-12
PLATE = rounded_rectangle(width_in=10.0, height_in=6.0, radius_in=1.0)


def test_places_on_lines_and_arcs():
    """From (-4, -3): 8 along the lower side, then pi/2 round the corner of radius 1 about (4, -2)."""
    start = nearest_station(PLATE, (-4.0, -3.0))
    along = start + np.array([0.0, 3.0, 8.0, 8.0 + math.pi / 4, 8.0 + math.pi / 2])
    found = places_at(PLATE, along)
    half = math.sqrt(0.5)
    assert found.points == pytest.approx(
        np.array([(-4, -3), (-1, -3), (4, -3), (4 + half, -2 - half), (5, -2)]), abs=TOL_IN
    )


def test_a_place_may_be_any_number_of_turns_away():
    turns = places_at(PLATE, [1.0, 1.0 + PLATE.length_in, 1.0 - 2 * PLATE.length_in])
    assert turns.points == pytest.approx(np.tile(turns.points[0], (3, 1)), abs=1e-9)


def test_bays_are_equal_and_no_longer_than_the_pitch():
    """Length 24 + 2 pi = 30.283 at a pitch of 1: ceil gives 31 bays."""
    found = stations(PLATE, pitch_in=1.0)
    assert len(found.along_in) == 31
    assert np.diff(found.along_in) == pytest.approx(PLATE.length_in / 31, abs=TOL_IN)


def test_a_whole_number_of_bays_is_not_rounded_up():
    assert (
        len(stations(rounded_rectangle(width_in=3.0, height_in=2.0, radius_in=0.0), pitch_in=0.1).along_in)
        == 100
    )


def test_forced_places_are_kept_and_bays_between_them_equal():
    forced = corner_middles(PLATE)
    found = stations(PLATE, pitch_in=1.0, forced=forced)
    at = np.sort(np.mod(forced, PLATE.length_in))
    assert np.abs(found.along_in[:, None] - at).min(axis=0).max() < TOL_IN
    long, short = 8.0 + math.pi / 2, 4.0 + math.pi / 2
    bays = np.diff(np.append(np.sort(found.along_in), np.sort(found.along_in)[0] + PLATE.length_in))
    assert sorted(set(np.round(bays, 9))) == sorted({round(short / 6, 9), round(long / 10, 9)})
    assert len(found.along_in) == 2 * (6 + 10)


@pytest.mark.parametrize("forced", [corner_middles, tangent_points])
@pytest.mark.parametrize("shift_ratio", [0.0, 0.5])
def test_a_pattern_is_as_symmetric_as_its_loop(forced, shift_ratio):
    found = stations(PLATE, pitch_in=0.9, forced=forced(PLATE), shift_ratio=shift_ratio).points
    for mirrored in (found * (-1.0, 1.0), found * (1.0, -1.0)):
        apart = np.hypot(*(mirrored[:, None, :] - found).transpose(2, 0, 1)).min(axis=1)
        assert apart.max() < 1e-9


def test_staggered_stations_lie_in_the_middle_of_the_bays():
    plain, moved = stations(PLATE, pitch_in=1.0), stations(PLATE, pitch_in=1.0, shift_ratio=0.5)
    assert moved.along_in - plain.along_in == pytest.approx(PLATE.length_in / 62, abs=TOL_IN)


def test_corners_and_tangent_points():
    middles = places_at(PLATE, corner_middles(PLATE)).points
    reach = (4 + math.sqrt(0.5), 2 + math.sqrt(0.5))
    assert np.abs(middles) == pytest.approx(np.tile(reach, (4, 1)), abs=TOL_IN)
    ends = places_at(PLATE, tangent_points(PLATE)).points
    assert len(ends) == 8
    assert {tuple(np.round(np.abs(end), 9)) for end in ends} == {(4.0, 3.0), (5.0, 2.0)}
    sharp = polygon([(0, 0), (2, 0), (2, 1), (0, 1)])
    assert places_at(sharp, corner_middles(sharp)).points == pytest.approx(sharp.rows[:, :2], abs=TOL_IN)
    assert tangent_points(sharp) == ()


def test_a_pitch_must_be_a_length():
    for wrong in (0.0, -1.0, math.nan, math.inf, 1e-9):
        with pytest.raises(GeometryError, match="pitch"):
            stations(PLATE, pitch_in=wrong)


@pytest.mark.property
@settings(max_examples=200, deadline=None)
@given(convex_loops(), st.floats(0.3, 3.0), st.floats(0.0, 0.99))
def test_every_station_lies_on_the_loop_where_it_says(loop, pitch_in, shift_ratio):
    found = stations(loop, pitch_in=pitch_in, forced=corner_middles(loop), shift_ratio=shift_ratio)
    assert distances(Profile((loop,)), found.points).distance_in.max() < 1e-11
    gaps = np.diff(np.append(np.sort(found.along_in), np.sort(found.along_in)[0] + loop.length_in))
    if shift_ratio == 0.0:
        assert gaps.max() <= pitch_in + 1e-9
    back = [nearest_station(loop, (float(x), float(y))) for x, y in found.points]
    around = np.abs(np.array(back) - found.along_in)
    assert np.minimum(around, loop.length_in - around).max() < 1e-9


def test_quarters_of_a_circle():
    quarter = places_at(circle(diameter_in=2.0), np.arange(4) * math.pi / 2).points
    assert quarter == pytest.approx(np.array([(1, 0), (0, 1), (-1, 0), (0, -1)]), abs=TOL_IN)
