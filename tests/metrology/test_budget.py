"""Budgets: correlated components, their freedom, and what is refused. Published examples are in tests/published."""

from __future__ import annotations

import math

import numpy as np
import pytest

from hatchwright.errors import GeometryError
from hatchwright.metrology.budget import Component, budget


def test_correlated_components_against_simulation():
    """Three components, two of them sharing an error: the spread of 200,000 drawn sums, within four standard errors."""
    parts = (Component("a", 1.0), Component("b", 2.0, sensitivity=-1.0), Component("c", 0.5))
    drawn = np.random.default_rng(1).multivariate_normal(
        [0, 0, 0], [[1.0, 0.6 * 2.0, 0], [0.6 * 2.0, 4.0, 0], [0, 0, 0.25]], 200_000
    )
    found = budget(parts, correlated={("b", "a"): 0.6})
    assert found.standard == pytest.approx(np.std(drawn @ [1, -1, 1]), rel=4.0 / math.sqrt(400_000))


def test_correlated_components_enter_the_freedom_as_one():
    """(1 + 1)^2 = 4 with 3 degrees of freedom, and 9 with 10: 13^2 / (16/3 + 81/10) by hand."""
    parts = (Component("a", 1.0, freedom=3), Component("b", 1.0, freedom=30), Component("c", 3.0, freedom=10))
    found = budget(parts, correlated={("a", "b"): 1.0})
    assert found.standard**2 == pytest.approx(13.0)
    assert found.freedom == pytest.approx(169.0 / (16.0 / 3.0 + 81.0 / 10.0))


def test_sure_limits_have_no_end_of_freedom():
    found = budget([Component("a", 1.0), Component("b", 2.0)])
    assert found.freedom == math.inf
    assert found.expanded(0.95) == pytest.approx(1.959964 * math.sqrt(5.0), abs=1e-5)


def test_nothing_contributes_nothing():
    assert budget([]).standard == 0.0


@pytest.mark.parametrize(
    ("parts", "correlated", "said"),
    [
        ([Component("a", -1.0)], {}, "component a"),
        ([Component("a", 1.0, 0.0)], {}, "component a"),
        ([Component("a", 1.0, freedom=0.5)], {}, "component a"),
        ([Component("a", math.nan)], {}, "component a"),
        ([Component("a", 1.0)], {("a", "z"): 0.5}, "a and z"),
        ([Component("a", 1.0), Component("a", 1.0)], {("a", "a"): 0.5}, "a and a"),
        ([Component("a", 1.0), Component("b", 1.0)], {("a", "b"): 1.5}, "correlations"),
        (
            [Component(name, 1.0) for name in "abc"],
            {("a", "b"): -0.9, ("b", "c"): -0.9, ("a", "c"): -0.9},
            "correlations",
        ),
    ],
)
def test_what_cannot_be_is_refused(parts, correlated, said):
    with pytest.raises(GeometryError, match=said):
        budget(parts, correlated=correlated)
