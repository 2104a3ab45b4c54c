"""Closed forms of the guide template, each derived beside its case.

Source: elementary plane geometry of circles rolling along lines and arcs; docs/theory/guide_template.md,
docs/theory/scallop.md and docs/theory/misplacement.md derive every formula. The printed values were computed
apart from this project's code, from the formula beside each, to the digits given.
Tolerance: that of the printed digits, 1e-9 in where nothing else is said.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from hatchwright.errors import GeometryError
from hatchwright.making.cutter.misplacement import misplaced, trailing_error_in, yaw_error_in
from hatchwright.making.cutter.scallop import (
    inside_corner_scallop_in,
    reentrant_corner_scallop_in,
    straight_scallop_in,
)
from hatchwright.making.template.guide_template import Guide, guide_chain
from hatchwright.shapes.boolean import difference, union
from hatchwright.shapes.corners import corners, smallest_corner
from hatchwright.shapes.outlines import circle, polygon, rounded_rectangle
from hatchwright.shapes.profile import Loop, Profile, profile_of

TOL_IN = 1e-9


def rectangle(*, width_in: float, height_in: float, radius_in: float) -> Profile:
    return profile_of(rounded_rectangle(width_in=width_in, height_in=height_in, radius_in=radius_in))


def chain_of(profile: Profile, *, rc: float, rg: float, dm: float = 0.25, kind: str = "female"):
    return guide_chain(profile, Guide(cut_in=2 * rc, guide_in=2 * rg, end_mill_in=dm, kind=kind))


def size_of(profile: Profile) -> tuple[float, float]:
    x_min, y_min, x_max, y_max = profile.bounds
    return x_max - x_min, y_max - y_min


def corner_of(profile: Profile) -> float:
    corner = smallest_corner(*profile.loops, reentrant=False)
    assert corner is not None
    return corner.radius_in


def reentrant_corner_of(profile: Profile) -> float:
    return min(c.radius_in for loop in profile.loops for c in corners(loop) if c.is_reentrant)


def test_c01_every_radius_is_reachable():
    """path = W-2rc x H-2rc, corner r-rc; template = W-2rc+2rg, corner r-rc+rg;
    path length = 2(W-2r) + 2(H-2r) + 2 pi (r-rc)."""
    chain = chain_of(rectangle(width_in=10.0, height_in=6.0, radius_in=1.0), rc=0.125, rg=0.375)
    assert size_of(chain.path) == pytest.approx((9.75, 5.75), abs=TOL_IN)
    assert corner_of(chain.path) == pytest.approx(0.875, abs=TOL_IN)
    assert chain.path.loops[0].length_in == pytest.approx(29.497787143782, abs=TOL_IN)
    assert size_of(chain.machinable) == pytest.approx((10.5, 6.5), abs=TOL_IN)
    assert corner_of(chain.machinable) == pytest.approx(1.25, abs=TOL_IN)
    assert corner_of(chain.predicted) == pytest.approx(1.0, abs=TOL_IN)
    assert chain.deviation.under_cut.depth_in == pytest.approx(0.0, abs=TOL_IN)
    assert chain.deviation.over_cut.depth_in == pytest.approx(0.0, abs=TOL_IN)


@pytest.mark.parametrize(
    ("r", "rg", "dm", "template_corner", "result_corner", "under_cut", "left_area"),
    [
        pytest.param(
            0.05, 0.375, 0.25, 0.375, 0.125, 0.031066017178, 0.011266596422, id="C02 tighter than the cut"
        ),
        pytest.param(0.0, 0.375, 0.25, 0.375, 0.125, 0.051776695297, 0.013412614788, id="C03 sharp"),
        pytest.param(
            0.25, 0.15, 0.75, 0.375, 0.35, 0.041421356237, 0.051504440785, id="C04 end mill too large"
        ),
    ],
)
def test_c02_to_c04_corner_that_cannot_be_reached(
    r, rg, dm, template_corner, result_corner, under_cut, left_area
):
    """R = max(r, rc, dm/2-rg+rc); depth = (R-r)(sqrt2-1); area of four corners = (4-pi)(R^2-r^2)."""
    chain = chain_of(rectangle(width_in=10.0, height_in=6.0, radius_in=r), rc=0.125, rg=rg, dm=dm)
    assert corner_of(chain.machinable) == pytest.approx(template_corner, abs=TOL_IN)
    assert corner_of(chain.predicted) == pytest.approx(result_corner, abs=TOL_IN)
    assert chain.deviation.under_cut.depth_in == pytest.approx(under_cut, abs=TOL_IN)
    left = difference(chain.wanted, chain.predicted)
    assert left.area_sq_in == pytest.approx(left_area, abs=TOL_IN)
    assert chain.deviation.over_cut.depth_in == pytest.approx(0.0, abs=TOL_IN)


def l_shape(*, reentrant_in: float, other_in: float) -> Profile:
    """An opening with one corner of the skin that points into it, at (4, 3)."""
    points = [(0, 0), (8, 0), (8, 3), (4, 3), (4, 6), (0, 6)]
    radii = [other_in, other_in, other_in, reentrant_in, other_in, other_in]
    return profile_of(polygon(points, radii))


def test_c06_reentrant_corner_too_sharp_is_over_cut():
    """Q = max(q, rg-rc); over-cut (Q-q)(sqrt2-1); area (1-pi/4)(Q^2-q^2)."""
    chain = chain_of(l_shape(reentrant_in=0.1, other_in=0.5), rc=0.125, rg=0.375)
    assert reentrant_corner_of(chain.predicted) == pytest.approx(0.25, abs=TOL_IN)
    assert chain.deviation.over_cut.depth_in == pytest.approx(0.062132034356, abs=TOL_IN)
    over = difference(chain.predicted, chain.wanted)
    assert over.area_sq_in == pytest.approx(0.011266596422, abs=TOL_IN)


def test_c07_reentrant_corner_just_reachable():
    """q = rg-rc: nothing is over-cut. Tolerance 1e-8: the radius stands exactly at the limit."""
    chain = chain_of(l_shape(reentrant_in=0.25, other_in=0.5), rc=0.125, rg=0.375)
    assert reentrant_corner_of(chain.predicted) == pytest.approx(0.25, abs=1e-8)
    assert chain.deviation.over_cut.depth_in == pytest.approx(0.0, abs=1e-8)


def wedge(corner_deg: float) -> Profile:
    """An isosceles triangle with one sharp corner of that angle at the origin."""
    half = math.radians(corner_deg) / 2.0
    return profile_of(polygon([(0.0, 0.0), (4.0, -4.0 * math.tan(half)), (4.0, 4.0 * math.tan(half))]))


@pytest.mark.parametrize(
    ("corner_deg", "depth", "area"),
    [(60.0, 0.125, 0.010700832151), (120.0, 0.019337567297, 0.000839867176)],
    ids=["C09", "C10"],
)
def test_c09_c10_sharp_corner_of_any_angle(corner_deg, depth, area):
    """depth = (R-r)(1/sin(t/2)-1); area = (R^2-r^2)(1/tan(t/2)-(pi-t)/2), with R = rc and r = 0."""
    chain = chain_of(wedge(corner_deg), rc=0.125, rg=0.375)
    left = [piece for piece in difference(chain.wanted, chain.predicted).loops if piece.bounds[0] < 0.5]
    assert len(left) == 1
    assert left[0].area_sq_in == pytest.approx(area, abs=TOL_IN)
    tip = np.hypot(*chain.predicted.loops[0].points(1e-9).T).min()
    assert tip == pytest.approx(depth, abs=2e-9)


def tongue(width_in: float) -> Profile:
    """A 10 x 6 opening with a tongue of skin that stands 3 in into it from below."""
    half, tip = width_in / 2.0, min(width_in / 2.0, 0.25)
    points = [(-5, -3), (-half, -3), (-half, 0), (half, 0), (half, -3), (5, -3), (5, 3), (-5, 3)]
    return profile_of(polygon(points, [0.5, 0.25, tip, tip, 0.25, 0.5, 0.5, 0.5]))


def test_c11_tongue_of_skin_left_standing():
    """Wall of the template in the tongue = w - 2(rg-rc): 0.1 for w = 0.6; none for w <= 0.5."""
    standing = chain_of(tongue(0.6), rc=0.125, rg=0.375)
    row = standing.machinable.loops[0].points(1e-6)
    wall = row[np.abs(row[:, 1] + 1.0) < 1.2]
    assert 2.0 * np.abs(wall[:, 0]).min() == pytest.approx(0.1, abs=1e-9)
    assert standing.deviation.over_cut.depth_in == pytest.approx(0.0, abs=TOL_IN)
    lost = chain_of(tongue(0.4), rc=0.125, rg=0.375)
    assert lost.deviation.over_cut.depth_in > 2.0


def test_c12_to_c14_scallops():
    """C12 rc-sqrt(rc^2-(p/2)^2); C13 R-sqrt((R-rc)^2-(p/2)^2)-sqrt(rc^2-(p/2)^2);
    C14 sqrt((q+rc)^2-(p/2)^2)-sqrt(rc^2-(p/2)^2)-q."""
    assert straight_scallop_in(cut_in=0.25, advance_in=0.06) == pytest.approx(0.003653389005, abs=1e-9)
    inside = inside_corner_scallop_in(cut_in=0.25, advance_in=0.1, corner_in=0.5)
    assert inside == pytest.approx(0.013783882, abs=1e-7)
    reentrant = reentrant_corner_scallop_in(cut_in=0.25, advance_in=0.1, corner_in=0.5)
    assert reentrant == pytest.approx(0.008432375, abs=1e-7)


@pytest.mark.parametrize(
    ("advance", "small", "large"),
    [(1 / 32, 0.0013, 0.0010), (1 / 16, 0.0054, 0.0040), (3 / 32, 0.0126, 0.0091), (1 / 8, 0.0239, 0.0167)],
)
def test_quick_card_of_scallops(advance, small, large):
    """Ridges of 3/16 and 1/4 punches, to the four decimals of a shop card; the formula of C12."""
    assert straight_scallop_in(cut_in=3 / 16, advance_in=advance) == pytest.approx(small, abs=5e-5)
    assert straight_scallop_in(cut_in=1 / 4, advance_in=advance) == pytest.approx(large, abs=5e-5)


def test_c16_guide_not_concentric():
    """sqrt(rho^2+et^2)-rho; en(1-cos phi); et sin phi."""
    assert trailing_error_in(path_radius_in=0.5, trail_in=0.1) == pytest.approx(0.009901951, abs=1e-7)
    to_edge = yaw_error_in(towards_edge_in=0.1, along_feed_in=0.0, yaw_deg=10.0)
    assert to_edge == pytest.approx(0.001519225, abs=1e-7)
    along = yaw_error_in(towards_edge_in=0.0, along_feed_in=0.1, yaw_deg=10.0)
    assert along == pytest.approx(0.017364818, abs=1e-7)


def test_c17_template_shift():
    """Rounded corners: hypot(dx, dy), both ways."""
    opening = rectangle(width_in=10.0, height_in=6.0, radius_in=1.0)
    found = misplaced(opening, opening, shift_in=(0.01, -0.004))
    assert found.under_cut.depth_in == pytest.approx(0.01077033, abs=1e-7)
    assert found.over_cut.depth_in == pytest.approx(0.01077033, abs=1e-7)


def test_c18_template_rotation():
    """First order: turn times the longer half straight, max(W/2-r, H/2-r); tolerance 1e-5 for the second order."""
    opening = rectangle(width_in=10.0, height_in=6.0, radius_in=1.0)
    found = misplaced(opening, opening, turn_deg=0.1)
    assert found.under_cut.depth_in == pytest.approx(0.0069813, abs=1e-5)
    assert found.over_cut.depth_in == pytest.approx(0.0069813, abs=1e-5)


def test_c27_corner_holes_then_straight_cuts():
    """Four holes tangent to both sides and two strips between them: area = W H - (4-pi) rh^2."""
    made = union(
        Profile((rounded_rectangle(width_in=10.0, height_in=4.5, radius_in=0.0),)),
        Profile((rounded_rectangle(width_in=8.5, height_in=6.0, radius_in=0.0),)),
    )
    for x in (-4.25, 4.25):
        for y in (-2.25, 2.25):
            made = union(made, Profile((circle(diameter_in=1.5, center=(x, y)),)))
    assert made.area_sq_in == pytest.approx(59.517145868, abs=1e-8)
    wanted = rectangle(width_in=10.0, height_in=6.0, radius_in=0.75)
    assert difference(wanted, made).area_sq_in == pytest.approx(0.0, abs=1e-8)
    assert difference(made, wanted).area_sq_in == pytest.approx(0.0, abs=1e-8)


def test_plug_corner_is_never_below_guide_and_cut():
    """Plug: every corner at least rg + rc; a 7.125 x 2.125 sharp plug, guide 5/8, cut 1/4: R = 0.4375."""
    chain = chain_of(
        rectangle(width_in=8.0, height_in=3.0, radius_in=0.3125), rc=0.125, rg=0.3125, kind="male"
    )
    assert size_of(chain.machinable) == pytest.approx((7.125, 2.125), abs=TOL_IN)
    assert corner_of(chain.machinable) == 0.0
    assert corner_of(chain.predicted) == pytest.approx(0.4375, abs=TOL_IN)


def test_cut_as_wide_as_the_opening_is_refused():
    slot = rectangle(width_in=4.0, height_in=0.25, radius_in=0.0)
    with pytest.raises(GeometryError, match="as wide as the opening"):
        chain_of(slot, rc=0.125, rg=0.375)


def test_guide_smaller_than_the_cut_is_refused():
    with pytest.raises(GeometryError, match="is smaller than the"):
        chain_of(rectangle(width_in=4.0, height_in=3.0, radius_in=0.5), rc=0.25, rg=0.2)


def test_loops_are_exact_arcs():
    """Nothing is tessellated: the template of a rounded rectangle has four lines and four arcs."""
    chain = chain_of(rectangle(width_in=5.0, height_in=4.0, radius_in=0.75), rc=0.0965, rg=0.25)
    loop: Loop = chain.machinable.loops[0]
    assert len(loop.rows) == 8
