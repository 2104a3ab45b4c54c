"""Best estimate of routes, their consistency and gap: against closed forms, SciPy's least squares, simulation."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.optimize import least_squares
from scipy.stats import chi2

from hatchwright.errors import GeometryError
from hatchwright.metrology.propagated import added, as_read, combined, covariance, less
from hatchwright.metrology.routes import apart, best_place, chi_square_point


def route(name: str, x: float, y: float, u_x: float, u_y: float | None = None):
    return as_read(f"{name}.x", x, u_x), as_read(f"{name}.y", y, u_x if u_y is None else u_y)


def test_two_routes_weigh_by_the_inverse_of_their_variances():
    """By hand: (5.50/.01^2 + 5.52/.02^2) / (1/.01^2 + 1/.02^2) = 5.504; u = 1/sqrt(1/.01^2 + 1/.02^2)."""
    found = best_place([route("a", 5.50, 4.50, 0.01), route("b", 5.52, 4.50, 0.02)])
    assert found.at_in == pytest.approx((5.504, 4.5))
    assert found.place[0].u == pytest.approx(1.0 / math.sqrt(1e4 + 2500.0))
    # by hand: off .02 with u(.02) = sqrt(.005^2 + .01^2) as standard uncertainties
    assert found.chi_square == pytest.approx(0.02**2 / (0.005**2 + 0.01**2))
    assert found.freedom == 2
    assert found.chance == pytest.approx(chi2.sf(found.chi_square, 2))


def test_a_reading_that_two_routes_share_does_not_average_out():
    """Both routes stand on one row with u .03; own tapes of .01: u^2 = .03^2 + .01^2 / 2, by hand."""
    row = as_read("row", 11.0, 0.03)
    y = [as_read(f"y{k}", 4.5, 0.01) for k in (0, 1)]
    x = [less(row, as_read(f"tape{k}", 5.5, 0.01)) for k in (0, 1)]
    found = best_place([(x[0], y[0]), (x[1], y[1])])
    assert found.place[0].u == pytest.approx(math.sqrt(0.03**2 + 0.01**2 / 2))
    # in the gap between them the row is gone: both axes have sqrt(2) .01 left
    assert apart((x[0], y[0]), (x[1], y[1])).u_in == pytest.approx(0.01 * math.sqrt(2.0))


def test_three_correlated_routes_against_least_squares():
    """Ten drawn cases: SciPy's minimum of the same weighed misses, and the curvature there."""
    rng = np.random.default_rng(7)
    for case in range(10):
        common = as_read("zero", 0.0, 0.02)
        tapes = [
            route(f"{case}.{k}", *rng.normal(5.0, 0.02, 2), *rng.uniform(0.01, 0.04, 2)) for k in range(3)
        ]
        routes = [(added(x, common), y) for x, y in tapes]
        found = best_place(routes)
        numbers = [one for place in routes for one in place]
        root = np.linalg.inv(np.linalg.cholesky(covariance(numbers)))
        values = np.array([one.value for one in numbers])
        fit = least_squares(
            lambda at, root=root, values=values: root @ (values - np.tile(at, 3)), (5.0, 5.0), xtol=1e-15
        )
        assert found.at_in == pytest.approx(tuple(fit.x), abs=1e-8)
        assert found.chi_square == pytest.approx(2.0 * fit.cost, rel=1e-6)
        spread = np.linalg.inv(fit.jac.T @ fit.jac)
        assert [one.budget.standard for one in found.place] == pytest.approx(
            np.sqrt(np.diag(spread)), rel=1e-6
        )


def test_spread_of_the_best_estimate_against_simulation():
    """40,000 surveys drawn with their stated u: the scatter of the estimate, and how often chi-square passes 5 %."""
    rng, trials = np.random.default_rng(3), 40_000
    row = as_read("row", 11.0, 0.03)
    routes = [
        route("a", 5.5, 4.5, 0.02),
        (less(row, as_read("tape", 5.5, 0.01)), as_read("b.y", 4.5, 0.04)),
    ]
    found = best_place(routes)
    gains = np.array([_gain_of(routes, k) for k in range(4)])
    draws = rng.multivariate_normal(
        np.zeros(4), covariance([one for place in routes for one in place]), size=trials
    )
    drawn = draws @ gains
    of_itself = math.sqrt(2 * trials)
    for axis in (0, 1):
        assert np.std(drawn[:, axis]) == pytest.approx(found.place[axis].budget.standard, rel=4.0 / of_itself)
    weights = np.linalg.inv(covariance([one for place in routes for one in place]))
    off = draws - np.tile(drawn, 2)
    beyond = np.mean(np.einsum("ij,jk,ik->i", off, weights, off) > chi_square_point(0.05, 2))
    assert beyond == pytest.approx(0.05, abs=4.0 * math.sqrt(0.05 * 0.95 / trials))


def _gain_of(routes, k: int) -> tuple[float, float]:
    """How the estimate moves with one of the numbers that the routes give."""
    step = 1e-4
    numbers = [one for place in routes for one in place]
    moved = [combined(one.value + step * (j == k), [(1.0, one)]) for j, one in enumerate(numbers)]
    before, after = best_place(routes), best_place([(moved[0], moved[1]), (moved[2], moved[3])])
    return tuple((b - a) / step for a, b in zip(before.at_in, after.at_in, strict=True))


@pytest.mark.parametrize("freedom", [2, 4, 6, 10])
def test_chance_and_point_against_scipy(freedom):
    assert chi_square_point(0.05, freedom) == pytest.approx(chi2.isf(0.05, freedom))
    routes = [route(f"r{k}", 0.01 * k, 0.0, 0.02) for k in range(freedom // 2 + 1)]
    found = best_place(routes)
    assert found.freedom == freedom
    assert found.chance == pytest.approx(chi2.sf(found.chi_square, freedom))


def test_gap_lies_along_its_own_direction():
    """A 3-4-5 gap with u only along X: by hand .6 of it."""
    one = (as_read("x", 0.0, 0.05), as_read("y", 0.0, 0.0))
    other = (as_read("x2", 0.3, 0.0), as_read("y2", 0.4, 0.0))
    found = apart(one, other)
    assert (found.distance_in, found.u_in) == pytest.approx((0.5, 0.6 * 0.05))
    assert apart(one, one).distance_in == 0.0


def test_a_gap_of_nothing_has_the_greatest_u_of_any_direction():
    one = (as_read("x", 1.0, 0.03), as_read("y", 1.0, 0.01))
    other = (as_read("x2", 1.0, 0.04), as_read("y2", 1.0, 0.0))
    assert apart(one, other).u_in == pytest.approx(0.05)


def test_few_readings_take_students_factor():
    """Two readings of freedom: t for 2 at 95 % is 4.303, table G.2."""
    found = as_read("a", 1.0, 0.02, freedom=2)
    assert found.u == pytest.approx(0.01 * 4.303, abs=1e-5)


def test_one_route_told_twice_is_refused_and_none_too():
    once = (as_read("x", 1.0, 0.01), as_read("y", 1.0, 0.01))
    with pytest.raises(GeometryError, match="same readings"):
        best_place([once, once])
    with pytest.raises(GeometryError, match="no route"):
        best_place([])
