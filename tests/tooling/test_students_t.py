"""Student's t against SciPy, a general-purpose library of its own making."""

from __future__ import annotations

import math

import pytest
from scipy import stats

from hatchwright.tooling.students_t import t_probability, t_quantile


@pytest.mark.parametrize("freedom", [0.5, 0.7, 1.0, 1.313, 2.0, 4.0, 8.0, 18.7778, 100.0, 1e4])
@pytest.mark.parametrize("probability", [0.005, 0.2, 0.6, 0.9, 0.975, 0.995, 0.999_999])
def test_quantile(freedom, probability):
    assert t_quantile(probability, freedom) == pytest.approx(stats.t.ppf(probability, freedom), rel=1e-9)


@pytest.mark.parametrize("value", [-3.0, -0.1, 0.0, 1.0, 40.0])
def test_probability(value):
    assert t_probability(value, 3.5) == pytest.approx(stats.t.cdf(value, 3.5), rel=1e-10)


def test_many_readings_give_the_normal_law():
    assert t_quantile(0.975, math.inf) == pytest.approx(1.959963985, abs=1e-9)
    assert t_quantile(0.975, 9.9e5) == pytest.approx(t_quantile(0.975, math.inf), rel=3e-6)
