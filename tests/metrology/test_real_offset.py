"""Student's t against its closed forms for one and two degrees of freedom, its density integrated, and the normal law.

The printed table stands in tests/published/test_trial_cases.py.
"""

from __future__ import annotations

import math

import pytest
from scipy.integrate import quad

from hatchwright.metrology.real_offset import t_quantile

PROBABILITIES = [0.005, 0.2, 0.6, 0.9, 0.975, 0.995, 0.999_999]


@pytest.mark.parametrize("probability", PROBABILITIES)
def test_one_degree_of_freedom_is_the_law_of_cauchy(probability):
    assert t_quantile(probability, 1.0) == pytest.approx(math.tan(math.pi * (probability - 0.5)), rel=1e-9)


@pytest.mark.parametrize("probability", PROBABILITIES)
def test_two_degrees_of_freedom(probability):
    closed = (2.0 * probability - 1.0) / math.sqrt(2.0 * probability * (1.0 - probability))
    assert t_quantile(probability, 2.0) == pytest.approx(closed, rel=1e-9)


@pytest.mark.parametrize("freedom", [0.7, 1.313, 4.0, 8.0, 18.7778, 100.0])
@pytest.mark.parametrize("probability", [0.6, 0.9, 0.975, 0.995])
def test_the_density_integrated_up_to_the_quantile_is_the_probability(freedom, probability):
    front = math.exp(math.lgamma(0.5 * (freedom + 1.0)) - math.lgamma(0.5 * freedom))
    front /= math.sqrt(math.pi * freedom)

    def density(t: float) -> float:
        return front * (1.0 + t * t / freedom) ** (-0.5 * (freedom + 1.0))

    below, _ = quad(density, 0.0, t_quantile(probability, freedom), epsabs=1e-12, epsrel=1e-12, limit=200)
    assert 0.5 + below == pytest.approx(probability, abs=1e-10)


def test_many_readings_give_the_normal_law():
    assert t_quantile(0.975, math.inf) == pytest.approx(1.959963985, abs=1e-9)
    assert t_quantile(0.975, 9.9e5) == pytest.approx(t_quantile(0.975, math.inf), rel=3e-6)
