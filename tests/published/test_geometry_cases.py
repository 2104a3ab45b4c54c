"""Source: geometry check cases, closed forms.

Elementary plane geometry of circles that roll along lines and arcs; the closed form stands beside each case, and the
printed values were computed from it, apart from this project's code, to the digits given. Here the chain of offsets is
written out on the shapes alone: rc half the cut, rg half the guide, dm the end mill of the template.

Tolerance: 1e-9 in, the last printed digit of the values and the accuracy that the offsets promise; where a value is
printed shorter its last digit is the tolerance.
"""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np
import pytest

from hatchwright.search.risk.errors import Errors
from hatchwright.search.risk.gaps import below
from hatchwright.search.risk.margin import edge_deviation_in
from hatchwright.shapes.boolean import union
from hatchwright.shapes.corners import smallest_corner
from hatchwright.shapes.deviation import Deviation, deviation
from hatchwright.shapes.distance import distances
from hatchwright.shapes.offset import erode, grow
from hatchwright.shapes.outlines import circle, polygon, rounded_rectangle
from hatchwright.shapes.profile import Profile, profile_of

TOL_IN = 1e-9


class Chain(NamedTuple):
    """Path, needed template, the end mill's path, and the cut that results."""

    path: Profile
    template: Profile
    mill_path: Profile
    result: Profile


def window(wanted: Profile, *, rc: float, rg: float, dm: float) -> Chain:
    """C = erode(W, rc), T0 = grow(C, rg), T = grow(erode(T0, dm/2), dm/2), R = grow(erode(T, rg), rc)."""
    path = erode(wanted, rc)
    template = grow(path, rg)
    mill_path = erode(template, dm / 2)
    return Chain(path, template, mill_path, grow(erode(grow(mill_path, dm / 2), rg), rc))


def rectangle(*, width_in: float, height_in: float, radius_in: float) -> Profile:
    return profile_of(rounded_rectangle(width_in=width_in, height_in=height_in, radius_in=radius_in))


def size(profile: Profile) -> tuple[float, float]:
    x_min, y_min, x_max, y_max = profile.bounds
    return x_max - x_min, y_max - y_min


def corner_radius(profile: Profile, *, reentrant: bool = False) -> float:
    (loop,) = profile.loops
    corner = smallest_corner(loop, reentrant=reentrant)
    assert corner is not None
    return corner.radius_in


def assert_deviates(
    found: Deviation, *, under: float = 0.0, over: float = 0.0, left: float = 0.0, lost: float = 0.0
):
    assert found.under_cut.depth_in == pytest.approx(under, abs=TOL_IN)
    assert found.over_cut.depth_in == pytest.approx(over, abs=TOL_IN)
    assert found.left_area_sq_in == pytest.approx(left, abs=TOL_IN)
    assert found.over_area_sq_in == pytest.approx(lost, abs=TOL_IN)


def test_c01_every_radius_is_reachable():
    """path = W-2rc x H-2rc, corner r-rc; template = W-2rc+2rg, corner r-rc+rg; the mill's path dm/2 less; path length
    2(W-2r) + 2(H-2r) + 2 pi (r-rc)."""
    wanted = rectangle(width_in=10.0, height_in=6.0, radius_in=1.0)
    path, template, mill_path, result = window(wanted, rc=0.125, rg=0.375, dm=0.25)
    assert size(path) == pytest.approx((9.75, 5.75), abs=TOL_IN)
    assert corner_radius(path) == pytest.approx(0.875, abs=TOL_IN)
    assert path.loops[0].length_in == pytest.approx(29.497787143782, abs=TOL_IN)
    assert size(template) == pytest.approx((10.5, 6.5), abs=TOL_IN)
    assert corner_radius(template) == pytest.approx(1.25, abs=TOL_IN)
    assert corner_radius(mill_path) == pytest.approx(1.125, abs=TOL_IN)
    assert corner_radius(result) == pytest.approx(1.0, abs=TOL_IN)
    assert_deviates(deviation(result, wanted))


@pytest.mark.parametrize(
    ("r", "rg", "dm", "radius", "under", "left"),
    [
        pytest.param(0.05, 0.375, 0.25, 0.125, 0.031066017178, 0.011266596422, id="C02-cutter-limits"),
        pytest.param(0.0, 0.375, 0.25, 0.125, 0.051776695297, 0.013412614788, id="C03-square-corner"),
        pytest.param(0.25, 0.15, 0.75, 0.35, 0.041421356237, 0.051504440785, id="C04-end-mill-limits"),
    ],
)
def test_c02_to_c04_a_window_corner(r, rg, dm, radius, under, left):
    """R = max(r, rc, dm/2 - rg + rc); depth (R-r)(sqrt2-1); area per corner (1 - pi/4)(R^2 - r^2)."""
    wanted = rectangle(width_in=10.0, height_in=6.0, radius_in=r)
    result = window(wanted, rc=0.125, rg=rg, dm=dm).result
    assert corner_radius(result) == pytest.approx(radius, abs=TOL_IN)
    assert_deviates(deviation(result, wanted), under=under, left=left)


@pytest.mark.parametrize(
    ("q", "over", "lost"),
    [
        pytest.param(0.1, 0.062132034356, 0.011266596422, id="C06-too-small"),
        pytest.param(0.25, 0.0, 0.0, id="C07-just-reachable"),
    ],
)
def test_c06_c07_a_reentrant_corner(q, over, lost):
    """Q = max(q, rg - rc) = 0.25; over-cut (Q-q)(sqrt2-1), its area (1 - pi/4)(Q^2 - q^2)."""
    points = [(0, 0), (8, 0), (8, 3), (4, 3), (4, 6), (0, 6)]
    wanted = profile_of(polygon(points, [0.5, 0.5, 0.5, q, 0.5, 0.5]))
    result = window(wanted, rc=0.125, rg=0.375, dm=0.25).result
    assert corner_radius(result, reentrant=True) == pytest.approx(0.25, abs=TOL_IN)
    assert_deviates(deviation(result, wanted), over=over, lost=lost)


@pytest.mark.parametrize(
    ("sides", "depth", "area"),
    [
        pytest.param(3, 0.125, 0.010700832151, id="C09-60-deg"),
        pytest.param(6, 0.019337567297, 0.000839867176, id="C10-120-deg"),
    ],
)
def test_c09_c10_a_sharp_corner_of_another_angle(sides, depth, area):
    """Of a regular polygon: depth (R-r)(1/sin(t/2) - 1), area (R^2-r^2)(1/tan(t/2) - (pi-t)/2), r = 0, R = 0.125."""
    angles = 2 * np.pi * np.arange(sides) / sides
    wanted = profile_of(polygon(4.0 * np.column_stack([np.cos(angles), np.sin(angles)])))
    result = grow(erode(wanted, 0.125), 0.125)
    assert_deviates(deviation(result, wanted), under=depth, left=sides * area)


def tongue(width_in: float) -> Profile:
    half = width_in / 2
    points = [(-4, 0), (4, 0), (4, 5), (half, 5), (half, 2), (-half, 2), (-half, 5), (-4, 5)]
    return profile_of(polygon(points))


def test_c11_a_thin_tongue_of_skin():
    """The wall that stands for a tongue of width w is w - 2(rg-rc) = 0.1 thick; below w = 0.5 there is none."""
    template = grow(erode(tongue(0.6), 0.125), 0.375)
    middle = distances(template, [(0.0, 4.0)])
    assert not middle.inside[0]
    assert 2 * middle.distance_in[0] == pytest.approx(0.1, abs=1e-12)
    walls = [grow(erode(tongue(width), 0.125), 0.375) for width in (0.4999, 0.5001)]
    assert [bool(wall.contains([(0.0, 4.0)])[0]) for wall in walls] == [True, False]


def test_c17_a_template_that_lies_off():
    """Rounded corners: the largest deviation is hypot(dx, dy) = 0.01077033 (8 digits printed), either way."""
    wanted = rectangle(width_in=10.0, height_in=6.0, radius_in=1.0)
    found = deviation(wanted.transformed(np.eye(2), (0.01, -0.004)), wanted)
    assert found.under_cut.depth_in == pytest.approx(0.01077033, abs=1e-8)
    assert found.over_cut.depth_in == pytest.approx(0.01077033, abs=1e-8)


def test_c18_a_template_that_lies_turned():
    """First order in the angle: rot max(W/2-r, H/2-r) = 0.0069813; second order is within 1e-5."""
    wanted = rectangle(width_in=10.0, height_in=6.0, radius_in=1.0)
    turn_rad = math.radians(0.1)
    turn = [[math.cos(turn_rad), -math.sin(turn_rad)], [math.sin(turn_rad), math.cos(turn_rad)]]
    found = deviation(wanted.transformed(turn), wanted)
    assert found.under_cut.depth_in == pytest.approx(0.0069813, abs=1e-5)
    assert found.over_cut.depth_in == pytest.approx(0.0069813, abs=1e-5)


def test_c27_corner_holes_and_straight_cuts():
    """Four holes of radius rh tangent to both sides and two strips: W H - (4 - pi) rh^2 = 59.517145868."""
    strips = (
        rectangle(width_in=10.0, height_in=4.5, radius_in=0.0),
        rectangle(width_in=8.5, height_in=6.0, radius_in=0.0),
    )
    opening = union(*strips)
    for x, y in ((4.25, 2.25), (-4.25, 2.25), (-4.25, -2.25), (4.25, -2.25)):
        opening = union(opening, profile_of(circle(diameter_in=1.5, center=(x, y))))
    assert opening.area_sq_in == pytest.approx(59.517145868, abs=1e-8)
    assert_deviates(deviation(opening, rectangle(width_in=10.0, height_in=6.0, radius_in=0.75)))


def test_c24_chance_that_an_edge_distance_comes_out_short():
    """.5 from the edge against .45; s^2 = .01^2 + .008^2 + (.0014 x 4)^2 + .004^2; P = Phi((limit - nominal)/s).

    Tolerance 1e-8 and 1e-7: s is printed to nine decimals, P is told to 1e-7."""
    errors = Errors(square_in=0.01, along_in=0.01, place_in=0.008, turn_rad=0.0014, filing_in=0.004)
    deviation_in = edge_deviation_in(errors, lever_in=4.0)
    assert deviation_in == pytest.approx(0.014538225, abs=1e-8)
    (chance,) = below(np.array([0.5 - 0.45]), np.array([deviation_in]))
    assert chance == pytest.approx(0.000291708, abs=1e-7)
