"""The exaggerated picture: factor, labels, and how far off each drawn point lies."""

from __future__ import annotations

import numpy as np
import pytest

from hatchwright.making.cutter.remnants import exaggerated
from hatchwright.making.template.guide_template import Guide, guide_chain
from hatchwright.shapes.distance import distances
from hatchwright.shapes.outlines import polygon, rounded_rectangle
from hatchwright.shapes.profile import Profile, profile_of

GUIDE = Guide(cut_in=0.25, guide_in=0.75, end_mill_in=0.25, kind="female")


def chain_of(profile: Profile):
    return guide_chain(profile, GUIDE)


def test_a_cut_that_fits_is_drawn_as_it_is():
    picture = exaggerated(
        chain_of(profile_of(rounded_rectangle(width_in=5.0, height_in=4.0, radius_in=0.75)))
    )
    assert picture.factor == 1
    assert picture.labels == ()


def test_drawn_points_lie_the_factor_times_as_far_off():
    """Corners of .05 cut with .125: .0311 left, drawn ten times, .311 inwards along the corner's bisector."""
    chain = chain_of(profile_of(rounded_rectangle(width_in=5.0, height_in=4.0, radius_in=0.05)))
    picture = exaggerated(chain)
    assert picture.factor == 10
    (run,) = picture.runs
    corner = np.array([2.5, 2.0]) - 0.05 * (
        1.0 - np.sqrt(0.5)
    )  # middle of the wanted corner, on its bisector
    expected = corner - 10.0 * 0.031066017 * np.sqrt(0.5)
    assert np.hypot(*(run - expected).T).min() == pytest.approx(0.0, abs=1e-6)
    assert all(one.depth_in == pytest.approx(0.031066017, abs=1e-8) for one in picture.labels)


def test_straight_sides_stay_where_they_are():
    chain = chain_of(profile_of(rounded_rectangle(width_in=5.0, height_in=4.0, radius_in=0.05)))
    (run,) = exaggerated(chain).runs
    sides = run[np.abs(run[:, 0]) < 2.0]
    assert np.abs(sides[:, 1]) == pytest.approx(np.full(len(sides), 2.0), abs=1e-9)


def test_over_cut_is_drawn_outwards():
    points = [(0, 0), (8, 0), (8, 3), (4, 3), (4, 6), (0, 6)]
    chain = chain_of(profile_of(polygon(points, [0.5, 0.5, 0.5, 0.1, 0.5, 0.5])))
    picture = exaggerated(chain)
    assert [one.is_over for one in picture.labels] == [True]
    (run,) = picture.runs
    corner = np.array([4.0, 3.0]) + 0.1 * (
        1.0 - np.sqrt(0.5)
    )  # middle of the wanted re-entrant corner, in the skin
    drawn = corner + picture.factor * 0.062132034 * np.sqrt(0.5)
    assert np.hypot(*(run - drawn).T).min() == pytest.approx(0.0, abs=1e-6)


def test_what_is_far_off_is_drawn_as_it_is():
    """A tongue that is lost altogether: the line of the cut itself, in its own runs."""
    points = [(-5, -3), (-0.2, -3), (-0.2, 0), (0.2, 0), (0.2, -3), (5, -3), (5, 3), (-5, 3)]
    chain = chain_of(profile_of(polygon(points, [0.5, 0.5, 0.2, 0.2, 0.5, 0.5, 0.5, 0.5])))
    picture = exaggerated(chain)
    assert picture.factor == 1
    assert len(picture.runs) == len(chain.predicted.loops)
    assert distances(chain.predicted, picture.runs[0]).distance_in.max() < 1e-9
