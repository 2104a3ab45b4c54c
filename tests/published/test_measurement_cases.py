"""Fits and uncertainty budgets against published examples.

Budget: JCGM 100:2008, annex H.1, table H.1: inputs, u = 32 nm, 34 nm with terms of the second order as
reproduced in the documentation of an open library; nu_eff 16, t 2.92 and U99 = 93 nm from memory. The guide
rounds u to 32 before it multiplies, 92.5 without: both are allowed for.
Registration: Umeyama, IEEE TPAMI 13(4), 1991, section IV, three points; R, c and t as printed from memory. The
mean square is 8/15 by arithmetic, exactly; the 0.053 that is remembered in print is not tested against.
Circle: Gander, Golub, Strebel, BIT 34 (1994), first example, four printed decimals. Line: Pearson, Phil. Mag. 2
(1901) 559, y = 5.784 - 0.5456 x as printed.
t: JCGM 100:2008, table G.2, two decimals; its last may differ by one.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from hatchwright.metrology.budget import (
    RECTANGULAR,
    RESOLUTION,
    STANDARD,
    Component,
    budget,
)
from hatchwright.metrology.circle import fitted_circle
from hatchwright.metrology.line import fitted_line
from hatchwright.metrology.real_offset import coverage_factor, t_quantile
from hatchwright.metrology.registration import registered

H1 = (
    Component("standard", 25.0, freedom=18),
    Component("mean difference", 5.8, freedom=24),
    Component("comparator, random", 3.9, freedom=5),
    Component("comparator, systematic", 6.7, freedom=8),
    Component("expansion difference", 1e-6, RECTANGULAR, 5000062.3, freedom=50),
    Component("temperature difference", 0.05, RECTANGULAR, -575.007, freedom=2),
    Component("expansion", 2e-6, RECTANGULAR, 0.0),
    Component("bed temperature", 0.41, sensitivity=0.0),
)


def test_end_gauge_of_annex_h1():
    found = budget(H1)
    assert found.standard == pytest.approx(31.664, abs=0.02)
    assert round(found.standard) == 32
    assert math.floor(found.freedom) == 16
    assert found.freedom == pytest.approx(16.75, abs=0.05)
    factor = coverage_factor(found.freedom, 0.99)
    assert factor == pytest.approx(2.92, abs=0.005)
    assert factor * found.standard == pytest.approx(92.5, abs=0.1)
    assert round(factor * round(found.standard)) == 93


def test_second_order_terms_of_annex_h1():
    more = (Component("second order, 1", 1.7), Component("second order, 2", 11.7))
    assert round(budget((*H1, *more)).standard) == 34


def test_contributions_printed_in_table_h1():
    assert [abs(one.contribution) for one in H1[:6]] == pytest.approx(
        [25, 5.8, 3.9, 6.7, 2.9, 16.6], abs=0.05
    )


def test_bed_temperature_of_annex_h1():
    """Mean -0.1 with u 0.2, and a swing of 0.5 either way: 0.41."""
    found = budget((Component("mean", 0.2), Component("swing", 0.5, math.sqrt(2.0))))
    assert found.standard == pytest.approx(0.41, abs=0.005)


def test_divisors_are_the_deviations_of_their_laws():
    """Standard deviation of what is as likely all over half a width or a whole one of 1."""
    z = (np.arange(200_000) + 0.5) / 100_000 - 1.0
    assert np.std(z) == pytest.approx(1.0 / RECTANGULAR, rel=1e-6)
    assert np.std(0.5 * z) == pytest.approx(1.0 / RESOLUTION, rel=1e-6)


def test_pitch_with_a_caliper():
    """Own example, worked by hand: sqrt(0.015^2 + 0.002887^2 + 0.010^2 + 0.011547^2) = 0.0216 mm."""
    found = budget(
        (
            Component("certificate", 0.03, 2.0),
            Component("step", 0.01, RESOLUTION),
            Component("repeat", 0.020, math.sqrt(4)),
            Component("temperature", 0.02, RECTANGULAR),
        )
    )
    assert found.standard == pytest.approx(0.0216, abs=5e-5)
    assert 2.0 * found.standard == pytest.approx(0.043, abs=5e-4)


G2 = {
    1: (6.31, 12.71, 63.66),
    2: (2.92, 4.30, 9.92),
    3: (2.35, 3.18, 5.84),
    5: (2.02, 2.57, 4.03),
    8: (1.86, 2.31, 3.36),
    10: (1.81, 2.23, 3.17),
    16: (1.75, 2.12, 2.92),
    20: (1.72, 2.09, 2.85),
    50: (1.68, 2.01, 2.68),
    100: (1.66, 1.98, 2.63),
    math.inf: (1.64, 1.96, 2.58),
}


@pytest.mark.parametrize(("freedom", "printed"), G2.items())
def test_table_g2(freedom, printed):
    found = [t_quantile(0.5 + level / 2.0, freedom) for level in (0.90, 0.95, 0.99)]
    assert found == pytest.approx(printed, abs=0.0101)


def origin_shift(found):
    """The t of measured = R drawn + t."""
    return np.array(found.found_middle_in) - found.rotation @ np.array(found.middle_in)


DRAWN = np.array([[0.0, 0.0], [1.0, 0.0], [0.0, 2.0]])
MEASURED = np.array([[0.0, 0.0], [-1.0, 0.0], [0.0, 2.0]])


def test_three_points_of_umeyama():
    found = registered(DRAWN, MEASURED, own_in=np.ones(3))
    assert found.rotation == pytest.approx(np.array([[3.0, 2.0], [-2.0, 3.0]]) / math.sqrt(13), abs=1e-12)
    assert found.rotation == pytest.approx(np.array([[0.832, 0.555], [-0.555, 0.832]]), abs=5e-4)
    assert found.scale == pytest.approx(0.721, abs=5e-4)
    shift = MEASURED.mean(axis=0) - found.scale * found.rotation @ DRAWN.mean(axis=0)
    assert shift == pytest.approx([-0.800, 0.400], abs=5e-4)
    with_scale = MEASURED - found.scale * DRAWN @ found.rotation.T - shift
    assert np.mean(np.sum(with_scale**2, axis=1)) == pytest.approx(8 / 15)


def test_three_points_without_scale():
    """Own computation of the same points, c = 1."""
    found = registered(DRAWN, MEASURED, own_in=np.full(3, 0.01))
    assert origin_shift(found) == pytest.approx([-0.980484, 0.296867], abs=5e-7)
    assert found.mean_square_in2 == pytest.approx(0.619755, abs=5e-7)


def test_template_moved_by_a_3_4_5_turn():
    """Own construction, exact: R = [[.8, -.6], [.6, .8]], t = (10, -5)."""
    drawn = np.array([[0.0, 0.0], [100.0, 0.0], [100.0, 60.0], [0.0, 60.0]])
    measured = np.array([[10.0, -5.0], [90.0, 55.0], [54.0, 103.0], [-26.0, 43.0]])
    found = registered(drawn, measured, own_in=np.full(4, 0.01))
    assert found.rotation == pytest.approx(np.array([[0.8, -0.6], [0.6, 0.8]]), abs=1e-12)
    assert origin_shift(found) == pytest.approx([10.0, -5.0], abs=1e-12)
    assert found.mean_square_in2 == pytest.approx(0.0, abs=1e-20)
    assert found.placed(drawn) == pytest.approx(measured)
    assert found.taken_back(measured) == pytest.approx(drawn)


CIRCLE = np.array([[1, 7], [2, 6], [5, 8], [7, 7], [9, 5], [3, 7]], dtype=float)


def test_circle_of_gander():
    found = fitted_circle(CIRCLE)
    assert (*found.center_in, found.radius_in) == pytest.approx((4.7398, 2.9835, 4.7142), abs=5e-5)
    off = np.hypot(*(CIRCLE - found.center_in).T) - found.radius_in
    assert np.sum(off**2) == pytest.approx(1.2276, abs=5e-5)


PEARSON_X = 0.0, 0.9, 1.8, 2.6, 3.3, 4.4, 5.2, 6.1, 6.5, 7.4
PEARSON_Y = 5.9, 5.4, 4.4, 4.6, 3.5, 3.7, 2.8, 2.8, 2.4, 1.5


def test_line_of_pearson():
    points = np.column_stack([PEARSON_X, PEARSON_Y])
    found = fitted_line(points)
    slope = found.along[1] / found.along[0]
    assert slope == pytest.approx(-0.5456, abs=5e-5)
    assert found.middle_in[1] - slope * found.middle_in[0] == pytest.approx(5.784, abs=5e-4)
    off = (points - found.middle_in) @ (-found.along[1], found.along[0])
    assert np.sum(off**2) == pytest.approx(0.618573, abs=5e-7)


def test_standard_is_no_divisor():
    assert Component("u", 0.5, STANDARD).contribution == 0.5
