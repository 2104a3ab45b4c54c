"""Places where the cut misses the line: their names, depths and areas."""

from __future__ import annotations

import math

import numpy as np
import pytest

from hatchwright.making.cutter.remnants import remnants
from hatchwright.making.template.guide_template import Guide, guide_chain
from hatchwright.shapes.boolean import difference
from hatchwright.shapes.outlines import polygon, rounded_rectangle
from hatchwright.shapes.profile import profile_of

GUIDE = Guide(cut_in=0.25, guide_in=0.75, end_mill_in=0.25, kind="female")


def found(*points, radii):
    return remnants(guide_chain(profile_of(polygon(points, radii)), GUIDE))


def test_a_cut_that_fits_leaves_nothing():
    opening = profile_of(rounded_rectangle(width_in=5.0, height_in=4.0, radius_in=0.75))
    assert remnants(guide_chain(opening, GUIDE)) == ()


def test_four_sharp_corners():
    """(R - 0)(sqrt 2 - 1) and (1 - pi/4) R^2 with R = .125."""
    opening = profile_of(rounded_rectangle(width_in=5.0, height_in=4.0, radius_in=0.0))
    places = remnants(guide_chain(opening, GUIDE))
    assert [one.name for one in places] == ["corner"] * 4
    for one in places:
        assert not one.is_over
        assert one.depth_in == pytest.approx(0.125 * (math.sqrt(2.0) - 1.0), abs=1e-9)
        assert one.area_sq_in == pytest.approx((1.0 - math.pi / 4.0) * 0.125**2, abs=1e-9)
        assert np.abs(one.place) == pytest.approx((2.5, 2.0), abs=1e-9), "on the wanted line, not on the cut"
    assert {tuple(np.sign(one.place)) for one in places} == {(1, 1), (-1, 1), (-1, -1), (1, -1)}


def test_a_re_entrant_corner_comes_first():
    places = found((0, 0), (8, 0), (8, 3), (4, 3), (4, 6), (0, 6), radii=[0, 0.5, 0.5, 0.1, 0.5, 0.5])
    assert [(one.name, one.is_over) for one in places] == [("re-entrant corner", True), ("corner", False)]
    assert places[0].depth_in == pytest.approx(
        0.062132034356, abs=1e-9
    )  # (Q - q)(sqrt 2 - 1), Q = .25, q = .1


def test_a_tongue_is_told_from_a_corner():
    points = [(-5, -3), (-0.2, -3), (-0.2, 0), (0.2, 0), (0.2, -3), (5, -3), (5, 3), (-5, 3)]
    (tongue,) = found(*points, radii=[0.5, 0.5, 0.2, 0.2, 0.5, 0.5, 0.5, 0.5])
    assert (tongue.name, tongue.is_over) == ("tongue", True)
    assert tongue.depth_in > 2.0
    assert tongue.area_sq_in == pytest.approx(0.4 * 2.8, abs=0.2)


def test_a_slot_narrower_than_the_cut():
    """The cutter rests on both rounded mouths, centers (3.3, +-.4): its own lies at 3.3 - sqrt(.425^2 - .4^2)."""
    points = [(-3, -2), (3, -2), (3, -0.1), (5, -0.1), (5, 0.1), (3, 0.1), (3, 2), (-3, 2)]
    places = found(*points, radii=[0.5, 0.5, 0.3, 0.0, 0.0, 0.3, 0.5, 0.5])
    slot = next(one for one in places if one.name == "slot")
    assert not slot.is_over
    assert slot.place[0] == pytest.approx(5.0)
    cutter = 3.3 - math.sqrt(0.425**2 - 0.4**2)
    assert slot.depth_in == pytest.approx(math.hypot(5.0 - cutter, 0.1) - 0.125, abs=1e-9)


def test_a_neck_between_two_rooms():
    points = [
        (0, 0),
        (3, 0),
        (3, 1.4),
        (5, 1.4),
        (5, 0),
        (8, 0),
        (8, 3),
        (5, 3),
        (5, 1.6),
        (3, 1.6),
        (3, 3),
        (0, 3),
    ]
    radii = [0.5, 0.5, 0.3, 0.3, 0.5, 0.5, 0.5, 0.5, 0.3, 0.3, 0.5, 0.5]
    places = found(*points, radii=radii)
    assert [one.name for one in places] == ["neck"]
    assert not places[0].is_over


def test_a_wall_between_two_openings_close_together():
    left = rounded_rectangle(width_in=3.0, height_in=3.0, radius_in=0.5, center=(-1.65, 0.0))
    right = rounded_rectangle(width_in=3.0, height_in=3.0, radius_in=0.5, center=(1.65, 0.0))
    places = remnants(guide_chain(profile_of(left, right), GUIDE))
    assert [(one.name, one.is_over) for one in places] == [("wall", True)]


def test_regions_add_up_to_what_the_booleans_say():
    opening = profile_of(polygon([(0, 0), (6, 0), (6, 3), (3.2, 3), (3.0, 5), (0, 5)], 0.05))
    chain = guide_chain(opening, GUIDE)
    places = remnants(chain)
    left, over = difference(chain.wanted, chain.predicted), difference(chain.predicted, chain.wanted)
    assert sum(one.area_sq_in for one in places if not one.is_over) == pytest.approx(
        left.area_sq_in, abs=1e-9
    )
    assert sum(one.area_sq_in for one in places if one.is_over) == pytest.approx(over.area_sq_in, abs=1e-9)
    deepest = max(one.depth_in for one in places if not one.is_over)
    assert deepest == pytest.approx(chain.deviation.under_cut.depth_in, abs=1e-6)
