"""Budgets: components together, their freedom, and what is refused. Published examples are in tests/published."""

from __future__ import annotations

import math

import numpy as np
import pytest

from hatchwright.errors import GeometryError
from hatchwright.metrology.budget import RECTANGULAR, Component, budget
from hatchwright.metrology.real_offset import coverage_factor


def test_components_against_simulation():
    """Three components, one of them twice and backwards in the result: the spread of 200,000 drawn sums, within four
    standard errors."""
    parts = (Component("a", 1.0), Component("b", 1.0, sensitivity=-2.0), Component("c", 0.5, RECTANGULAR))
    rng = np.random.default_rng(1)
    a, b, c = *rng.normal(size=(2, 200_000)), rng.uniform(-0.5, 0.5, 200_000)
    assert budget(parts).standard == pytest.approx(np.std(a - 2.0 * b + c), rel=4.0 / math.sqrt(400_000))


def test_freedom_of_all_together():
    """4 with 3 degrees of freedom, and 9 with 10: 13^2 / (16/3 + 81/10) by hand."""
    found = budget((Component("a", 2.0, freedom=3), Component("c", 3.0, freedom=10)))
    assert found.standard**2 == pytest.approx(13.0)
    assert found.freedom == pytest.approx(169.0 / (16.0 / 3.0 + 81.0 / 10.0))


def test_sure_limits_have_no_end_of_freedom():
    found = budget([Component("a", 1.0), Component("b", 2.0)])
    assert found.freedom == math.inf
    assert coverage_factor(found.freedom, 0.95) == pytest.approx(1.959964, abs=1e-6)


def test_nothing_contributes_nothing():
    assert budget([]).standard == 0.0


@pytest.mark.parametrize(
    "part",
    [
        Component("a", -1.0),
        Component("a", 1.0, 0.0),
        Component("a", 1.0, freedom=0.5),
        Component("a", math.nan),
    ],
)
def test_what_cannot_be_is_refused(part):
    with pytest.raises(GeometryError, match="component a"):
        budget([part])
