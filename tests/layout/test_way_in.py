"""How a doubler gets in: chords and strips against closed forms and shapely, bowing against SciPy's elliptic integrals.

Elastica: c/s = 2E/K - 1, rise k s/K, least radius s/(4 k K); textbooks of elastic stability. Slit ring: Castigliano,
integrated here by SciPy.
"""

from __future__ import annotations

from math import asin, cos, hypot, pi, radians, sin, sqrt, tan

import numpy as np
import pytest
from scipy.integrate import quad, solve_bvp
from scipy.optimize import brentq
from scipy.special import ellipe, ellipk
from shapely import LineString, Polygon, box
from shapely.affinity import rotate, translate

from hatchwright.layout.bowed import bow, elliptic, sharper_at_window
from hatchwright.layout.lay_out import lay_out
from hatchwright.layout.way_in import CLEAR_IN, flat_way, least_bow, on_chord, slit_ring_psi, way_in
from hatchwright.shapes.across import longest_chord, narrowest, strip_in, width_along
from hatchwright.shapes.outlines import obround, polygon, rounded_rectangle
from rules.cases import FLUSH, job_of

OPENINGS = ((5.0, 4.0, 0.75), (4.0, 4.0, 1.0), (8.0, 3.0, 0.3125), (3.0, 6.0, 0.5))


def rounded(width, height, radius):
    return rounded_rectangle(width_in=width, height_in=height, radius_in=radius)


ALDER = {
    "opening__width": "5",
    "opening__height": "4",
    "opening__radius": ".75",
    "doubler__outer": {"shape": "rounded rectangle", "width": "7", "height": "6", "radius": "1"},
    "doubler__inner": {"shape": "rounded rectangle", "width": "3.7", "height": "2.7", "radius": ".5"},
    "rows": [],
}
"""Opening and ring of scenario S1, its sheets too."""


def alder_way(**changes):
    return way_in(lay_out(job_of(FLUSH, **(ALDER | changes))))


def shape_of(loop) -> Polygon:
    return Polygon(loop.points(1e-5))


@pytest.mark.parametrize("size", OPENINGS)
@pytest.mark.parametrize("thickness", [0.0, 0.04, 0.3])
def test_a_strip_along_the_longest_chord(size, thickness):
    width, height, radius = size
    loop = rounded(*size)
    chord = longest_chord(loop)
    exact = hypot(width - 2 * radius, height - 2 * radius) + 2 * sqrt(radius**2 - thickness**2 / 4)
    length = strip_in(loop, chord, thickness)
    assert length == pytest.approx(exact, abs=5e-4)
    assert length <= exact + 1e-9
    laid = translate(
        rotate(
            box(-length / 2, -thickness / 2 - 1e-6, length / 2, thickness / 2 + 1e-6), chord.angle_deg, (0, 0)
        ),
        *chord.middle,
    )
    assert laid.difference(shape_of(loop)).area < 1e-5


def test_in_a_sharp_corner_the_thickness_of_the_sheet_counts():
    # a strip t thick in the corners of a square loses t/2 at each end
    loop = rounded(4.0, 4.0, 0.0)
    assert strip_in(loop, longest_chord(loop), 0.04) == pytest.approx(4 * sqrt(2) - 0.04, abs=1e-9)


def test_a_line_that_leaves_an_opening_is_no_chord():
    corners = [(0, 0), (4, 0), (4, 1), (1, 1), (1, 4), (0, 4)]
    chord = longest_chord(polygon(corners, [0.0] * 6))
    assert chord.length_in == pytest.approx(sqrt(17), abs=1e-9)
    assert LineString([chord.start, chord.end]).difference(Polygon(corners).buffer(1e-9)).is_empty


def test_the_direction_of_the_least_width():
    turned = obround(length_in=6.0, width_in=2.0, angle_deg=30.0)
    width, across = narrowest(turned)
    assert (width, across) == (pytest.approx(2.0, abs=2e-4), pytest.approx(120.0, abs=0.1))
    assert width_along(turned, across + 90.0) == pytest.approx(6.0, abs=1e-3)


@pytest.mark.parametrize("modulus", [1e-5, 0.1, 0.5, 0.8])
def test_elliptic_integrals(modulus):
    assert elliptic(modulus) == pytest.approx((ellipk(modulus**2), ellipe(modulus**2)), rel=1e-12)


def test_a_squeezed_strip_of_6_to_5_80():
    found = bow(6.0, 5.8)
    k = brentq(lambda k: 6.0 * (2 * ellipe(k * k) / ellipk(k * k) - 1) - 5.8, 1e-6, 0.8)
    first = ellipk(k * k)
    assert found.rise_in == pytest.approx(k * 6.0 / first, rel=1e-9)
    assert found.least_radius_in == pytest.approx(6.0 / (4 * k * first), rel=1e-9)
    assert found.stress_psi(thickness_in=0.04, e_psi=10.5e6) == pytest.approx(
        10.5e6 * 0.04 * 2 * k * first / 6.0
    )
    # an even arc through the same ends, c = 2 r sin(s/2r), is bent less
    even = brentq(lambda r: 2 * r * sin(3.0 / r) - 5.8, 3.0, 100.0)
    assert even == pytest.approx(6.67, abs=0.01)
    assert found.least_radius_in < even
    points, _ = found.faces(0.0)
    line = points[: len(points) // 2]
    assert np.hypot(*np.diff(line, axis=0).T).sum() == pytest.approx(6.0, abs=1e-3)
    assert np.ptp(line[:, 0]) == pytest.approx(5.8, abs=1e-3)


def test_nothing_is_bowed_to_its_own_length_or_folded():
    assert bow(6.0, 6.0) is None
    assert bow(6.0, 0.5) is None


@pytest.mark.parametrize(("size", "over"), [(OPENINGS[0], 1.01), (OPENINGS[0], 6 / 5.8), (OPENINGS[1], 1.05)])
def test_a_bowed_strip_lies_inside_the_opening(size, over):
    loop = rounded(*size)
    chord = longest_chord(loop)
    curve, rises_left = least_bow(loop, chord, over * chord.length_in, 0.04)
    points, _ = curve.faces(0.04)
    placed = on_chord(points, chord, rises_left=rises_left)
    room = shape_of(loop).buffer(-CLEAR_IN + 1e-4)
    assert room.contains(LineString(placed[: len(placed) // 2]))
    assert room.contains(LineString(placed[len(placed) // 2 :]))


def test_no_bow_is_offered_that_leaves_a_tight_corner():
    loop = rounded(*OPENINGS[2])
    chord = longest_chord(loop)
    assert least_bow(loop, chord, 1.05 * chord.length_in, 0.04) is None


def test_a_slit_ring_against_its_integrals():
    radius, wide, thick, young, shear, apart = 2.5, 1.6, 0.04, 10.5e6, 4.0e6, 0.4
    bends, twists = young * wide * thick**3 / 12, shear * wide * thick**3 / 3
    give = quad(lambda f: (radius * sin(f)) ** 2 / bends, 0, 2 * pi)[0] * radius
    give += quad(lambda f: (radius * (1 - cos(f))) ** 2 / twists, 0, 2 * pi)[0] * radius
    force = apart / give
    bent, twisted = 6 * force * radius / (wide * thick**2), 3 * 2 * force * radius / (wide * thick**2)
    worked = slit_ring_psi(apart_in=apart, radius_in=radius, thickness_in=thick, e_psi=young, g_psi=shear)
    assert worked == pytest.approx(max(bent, twisted), rel=1e-9)


def test_a_tilted_sheet_takes_its_own_thickness_and_the_skins():
    opening, piece = rounded(5.0, 4.0, 0.75), rounded(7.0, 5.7, 1.0)
    flat = flat_way(opening, piece, thickness_in=0.04, skin_in=0.032)
    assert flat.fits
    assert flat.leads == "short"
    assert flat.behind_in == pytest.approx(7.032)
    # 5.7 long, a strip may be T thick: hypot(3.5, 2.5) + 2 sqrt(.75^2 - T^2/4) = 5.7
    half = (5.7 - hypot(3.5, 2.5)) / 2
    thickest = 2 * sqrt(0.75**2 - half**2)
    tilt = asin(0.072 / thickest)
    assert radians(flat.tilt_deg) == pytest.approx(tilt, abs=2e-3)
    assert radians(flat.tilt_deg) >= tilt
    assert flat.tilted_behind_in == pytest.approx(7.0 * sin(tilt) + 0.072, abs=0.02)


def test_alder_goes_in_only_cut():
    way = alder_way()
    assert not way.flat.fits
    assert way.is_proved
    assert (way.flat.width_in, way.flat.room_in) == (pytest.approx(6.0), pytest.approx(5.80, abs=0.002))
    assert way.bowed.stress_psi > 0.9 * 39000.0  # Fty of clad 2024-T3: [MIL-HDBK-5J], table 3.2.3.0(e1)
    assert not way.can_bow
    assert way.halves == (("y", 3.5), ("x", 3.0))
    # legs 1.65: eq. 7 and 8 of docs/theory/way_in.md with the room along the chord for a corner of 1.65 sqrt 2
    assert way.cut.leg_in == pytest.approx(1.65 * sqrt(2))
    assert way.cut.apart_in == pytest.approx(2 * (5.35 + 4.35) * tan(asin(0.072 / way.cut.room_in)), rel=1e-6)
    assert way.cut.leg_to_cut is None


def test_a_thinner_doubler_may_be_bowed():
    way = alder_way(doubler__thickness=".025")
    assert way.can_bow
    curve = way.bowed.bow
    # the whole bends over its 6.00, with legs of 1.65 beside a window that is 3.70 of 7.00 along
    sharper = sharper_at_window(beside_ratio=1.65 / 6.0, stiffer_ratio=7.0 / 3.3)
    assert way.bowed.stress_psi == pytest.approx(10.7e6 * 0.025 * sharper / (2 * curve.least_radius_in))


def test_loads_say_which_legs_carry_least():
    loads = {
        "basis": "running loads",
        "source": "invented",
        "cases": [{"name": "up", "nx": "100", "ny": "20"}],
    }
    assert alder_way(loads=loads).cut.leg_to_cut == "y"


def test_a_tube_in_the_way_is_named():
    tube = {"name": "tube", "x_from": "0", "x_to": "0", "depth": "2"}
    way = alder_way(bay__keep_outs=[tube])
    assert way.before == (("tube", 2.0),)


def bent_at_middle(length, chord, beside, stiffer):
    """The curvature at the middle of a strip squeezed to a chord, stiffer beside its window: integrated [1/in]."""
    even = bow(length, chord)

    def turns(at, state, load):
        slope, _, off = state
        stiff = 1.0 + (stiffer - 1.0) * 0.5 * (1.0 - np.tanh((at - beside) / 0.005))
        return np.vstack([-load[0] * off / stiff, np.cos(slope), np.sin(slope)])

    def ends(first, middle, load):
        return np.array([first[1], first[2], middle[0], middle[1] - chord / 2])

    at = np.linspace(0.0, length / 2, 801)
    guess = [
        2.0 * asin(even.modulus) * np.cos(pi * at / length),
        at * chord / length,
        even.rise_in * np.sin(pi * at / length),
    ]
    found = solve_bvp(turns, ends, at, np.vstack(guess), p=[(pi / length) ** 2], tol=1e-7, max_nodes=100_000)
    assert found.success
    return found.p[0] * found.y[2, -1]


@pytest.mark.parametrize(
    ("chord", "beside", "stiffer"),
    [(5.7, 1.65, 7 / 3.3), (5.7, 0.86, 7 / 1.72), (5.3, 2.0, 7 / 0.6), (5.3, 1.0, 3.5)],
)
def test_a_ring_bends_sharper_at_its_window(chord, beside, stiffer):
    even = bent_at_middle(6.0, chord, beside, 1.0)
    assert even * bow(6.0, chord).least_radius_in == pytest.approx(1.0, abs=1e-4)
    sharper = sharper_at_window(beside_ratio=beside / 6.0, stiffer_ratio=stiffer)
    assert sharper == pytest.approx(bent_at_middle(6.0, chord, beside, stiffer) / even, abs=0.01)
    assert sharper > 1.0


def test_a_sheet_without_a_window_bends_evenly():
    assert sharper_at_window(beside_ratio=0.5, stiffer_ratio=1.0) == 1.0
    assert sharper_at_window(beside_ratio=0.0, stiffer_ratio=4.0) == 1.0
    assert sharper_at_window(beside_ratio=0.45, stiffer_ratio=1.0001) == pytest.approx(1.0, abs=1e-4)


def test_an_opening_that_was_cut_too_small_counts_as_it_is():
    """5.70 goes through the 5.80 of the drawing, not through 4.90 by 3.80: hypot(3.4, 2.3) + 1.5 is 5.605."""
    outer = {"shape": "rounded rectangle", "width": "7", "height": "5.7", "radius": "1"}
    opening = {"shape": "rounded rectangle", "width": "4.9", "height": "3.8", "radius": ".75"}
    made = {"uncertainty": ".005", "opening": opening | {"center": ["0", "0"]}}
    drawn = ALDER | {"doubler__outer": outer}
    assert way_in(lay_out(job_of(FLUSH, **drawn))).flat.fits
    flat = way_in(lay_out(job_of(FLUSH, **drawn, as_made=made))).flat
    assert flat.room_in == pytest.approx(5.605, abs=0.001)
    assert not flat.fits


def test_of_an_opening_that_is_drawn_in_nothing_is_proved_nor_tilted():
    """Round a tongue a ring can be turned in, a leg on either side of it."""
    corners = [["-2.5", "-2.5"], ["2.5", "-2.5"], ["2.5", "2.5"], ["0.3", "2.5"], ["0.3", "0"]]
    corners += [["-0.3", "0"], ["-0.3", "2.5"], ["-2.5", "2.5"]]
    drawn = ALDER | {"opening": {"shape": "polygon", "corners": corners, "radii": [".1"] * 8}}
    way = way_in(lay_out(job_of(FLUSH, **drawn)))
    assert not way.flat.fits
    assert not way.is_proved
    assert way.cut is None
