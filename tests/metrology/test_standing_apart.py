"""Readings that stand apart: Grubbs' critical values as tabulated, a worked example, and the level of false alarms.

Table: Grubbs, Procedures for Detecting Outlying Observations in Samples, Technometrics 11 (1969), table 1, one-sided
2.5 % and 0.5 %, which are the two-sided 5 % and 1 % (from memory, unverified). Tolerance: the third decimal, in the
last place of which printed tables differ.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from hatchwright.metrology.real_offset import t_quantile
from hatchwright.metrology.standing_apart import critical_ratio, standing_apart

TABLE = {
    3: (1.155, 1.155),
    4: (1.481, 1.496),
    5: (1.715, 1.764),
    6: (1.887, 1.973),
    7: (2.020, 2.139),
    8: (2.126, 2.274),
    9: (2.215, 2.387),
    10: (2.290, 2.482),
    12: (2.412, 2.636),
    15: (2.549, 2.806),
    20: (2.709, 3.001),
}


def mean_alone(count):
    return np.ones((count, 1))


@pytest.mark.parametrize(("count", "printed"), TABLE.items())
def test_critical_values_of_the_table(count, printed):
    found = [critical_ratio(count, level=level) for level in (0.95, 0.99)]
    assert found == pytest.approx(printed, abs=1.1e-3)


MASSES = np.array([199.31, 199.53, 200.19, 200.82, 201.92, 201.95, 202.18, 245.57])


def test_worked_example_of_the_handbook():
    """NIST/SEMATECH e-Handbook 1.3.5.17.1: G = 2.4687646, one-sided 5 % critical value 2.032 (from memory)."""
    found = standing_apart(MASSES, mean_alone(8), gauge_limit_in=0.0)
    assert found.index == 7
    assert found.ratio == pytest.approx(2.4687646, abs=5e-8)
    assert found.is_outlier
    assert found.beyond_in == pytest.approx(245.57 - MASSES[:7].mean())
    assert critical_ratio(8, level=0.90) == pytest.approx(2.032, abs=5e-4)  # one-sided 5 %


def test_transposed_digits_among_five():
    """2.970 four times and 2.790: G = 4 / sqrt 5 = 1.789, the greatest that five readings can give."""
    found = standing_apart(np.array([2.970, 2.970, 2.790, 2.970, 2.970]), mean_alone(5), gauge_limit_in=0.001)
    assert (found.index, found.is_outlier) == (2, True)
    assert found.ratio == pytest.approx(4.0 / math.sqrt(5.0), abs=1e-4)
    assert found.beyond_in == pytest.approx(-0.180)


@pytest.mark.parametrize("off", [0.0, 0.001, 0.002])
def test_nothing_that_the_caliper_cannot_read_is_called_out(off):
    readings = np.array([2.970, 2.970, 2.970 + off, 2.970, 2.970])
    assert standing_apart(readings, mean_alone(5), gauge_limit_in=0.001) is None


@pytest.mark.parametrize("count", [1, 2])
def test_two_readings_cannot_say_which_is_wrong(count):
    assert standing_apart(np.array([2.970, 2.790])[:count], mean_alone(count), gauge_limit_in=0.001) is None


def test_false_alarms_come_as_often_as_the_levels_say():
    """Normal readings: 5 % stragglers and more, 1 % outliers; 8,000 trials, within four standard errors."""
    random = np.random.default_rng(3)
    trials, called, outliers = 8000, 0, 0
    for _ in range(trials):
        found = standing_apart(random.normal(2.970, 0.001, 6), mean_alone(6), gauge_limit_in=0.0)
        called += found is not None
        outliers += found is not None and found.is_outlier
    assert called / trials == pytest.approx(0.05, abs=0.010)
    assert outliers / trials == pytest.approx(0.01, abs=0.0045)


def test_false_alarms_about_a_fitted_line_stay_below_the_level():
    """With several unknowns the level is an upper bound, for each residual is tested as if it were the worst."""
    random = np.random.default_rng(4)
    matrix = np.column_stack([np.ones(12), np.arange(12.0)])
    trials = 4000
    called = sum(
        standing_apart(matrix @ [1.0, 0.1] + random.normal(0, 1e-3, 12), matrix, gauge_limit_in=0.0)
        is not None
        for _ in range(trials)
    )
    assert 0.03 < called / trials < 0.05 + 0.014


def test_largest_studentised_residual_by_leaving_one_out():
    """r_i from a fit without reading i: e_(i) / s_(i) has Student's t; the same reading must come out beyond it."""
    random = np.random.default_rng(9)
    matrix = np.column_stack([np.ones(10), random.normal(size=(10, 2))])
    values = matrix @ [1.0, 2.0, 3.0] + random.normal(0, 1e-3, 10)
    values[4] += 0.012
    left_out = []
    for i in range(10):
        rest = np.arange(10) != i
        fit, squares, *_ = np.linalg.lstsq(matrix[rest], values[rest], rcond=None)
        spread = squares[0] / 6 * (1.0 + matrix[i] @ np.linalg.inv(matrix[rest].T @ matrix[rest]) @ matrix[i])
        left_out.append(((values[i] - matrix[i] @ fit), (values[i] - matrix[i] @ fit) / math.sqrt(spread)))
    worst = max(range(10), key=lambda i: abs(left_out[i][1]))
    assert abs(left_out[worst][1]) > t_quantile(1.0 - 0.01 / 20, 6)
    found = standing_apart(values, matrix, gauge_limit_in=0.0)
    assert (found.index, found.is_outlier) == (worst, True)
    assert found.beyond_in == pytest.approx(left_out[worst][0])
