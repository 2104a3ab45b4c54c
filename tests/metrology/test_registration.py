"""The rigid fit against an independent least squares (SciPy), and its uncertainties against simulation.

Tolerances of simulations: four standard errors of the rate or deviation found.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.optimize import least_squares
from scipy.stats import f as fisher

from hatchwright.errors import GeometryError
from hatchwright.metrology.points_apart import critical_statistic, points_apart, statistics
from hatchwright.metrology.registration import Common, registered

RING = np.array([[x, y] for x in (0.0, 2.0, 4.0, 6.0) for y in (0.0, 4.0)])
OWN = np.array([0.002, 0.002, 0.004, 0.002, 0.002, 0.010, 0.002, 0.002])


def moved(points, turn_rad, shift):
    c, s = math.cos(turn_rad), math.sin(turn_rad)
    return points @ np.array([[c, s], [-s, c]]) + shift


def test_weighted_fit_equals_an_independent_least_squares():
    rng = np.random.default_rng(1)
    measured = moved(RING, 0.3, [1.0, -2.0]) + OWN[:, None] * rng.normal(size=(8, 2))
    fit = registered(RING, measured, own_in=OWN)
    weighted = least_squares(
        lambda p: ((moved(RING, p[0], p[1:]) - measured) / OWN[:, None]).ravel(), [0.0, 0.0, 0.0], xtol=1e-14
    )
    assert fit.turn_rad == pytest.approx(weighted.x[0], abs=1e-9)
    shift = np.array(fit.found_middle_in) - fit.rotation @ np.array(fit.middle_in)
    assert shift == pytest.approx(weighted.x[1:], abs=1e-8)
    k = max(1.0, math.sqrt(2.0 * weighted.cost / 13.0))
    assert fit.turn_standard_rad == pytest.approx(
        k * math.sqrt(np.linalg.inv(weighted.jac.T @ weighted.jac)[0, 0]), rel=1e-6
    )


def test_a_mirror_image_is_never_fitted():
    fit = registered(RING, RING * [-1.0, 1.0], own_in=np.full(8, 0.002))
    assert np.linalg.det(fit.rotation) == pytest.approx(1.0)
    assert fit.ratio > 100.0


def test_intervals_hold_what_they_say():
    """Every reading scattered by drilling three times what was stated for measuring: 95 % all the same."""
    rng = np.random.default_rng(2)
    runs, holds = 1500, np.zeros(4)
    for _ in range(runs):
        measured = moved(RING, 0.01, [0.05, -0.02]) + 0.006 * rng.normal(size=(8, 2))
        fit = registered(RING, measured, own_in=np.full(8, 0.002))
        middle = moved(RING.mean(axis=0), 0.01, [0.05, -0.02]) - RING.mean(axis=0)
        off = [fit.turn_rad - 0.01, *(np.array(fit.shift_in) - middle), fit.scale - 1.0]
        half = [fit.turn_effect, *fit.shift_effects, fit.scale_effect]
        holds += [abs(o) <= h.expanded_in for o, h in zip(off, half, strict=True)]
    assert holds / runs == pytest.approx(np.full(4, 0.95), abs=4.0 * math.sqrt(0.95 * 0.05 / runs))


def test_fitted_places_scatter_as_told():
    rng = np.random.default_rng(3)
    far = np.array([[20.0, 3.0]])
    own = np.full(8, 0.004)
    found = [
        registered(RING, RING + 0.004 * rng.normal(size=(8, 2)), own_in=own).placed(far)[0]
        for _ in range(1500)
    ]
    fit = registered(RING, RING, own_in=own)
    assert np.std(found, axis=0) == pytest.approx(fit.place_standard_in(far)[0], rel=4.0 / math.sqrt(3000))


def test_what_is_common_is_not_divided_by_the_number_of_points():
    many = np.vstack([np.add(RING, [k, 0.0]) for k in np.linspace(0.0, 1.0, 200)])
    common = Common(place_in=0.003, turn_rad=0.001, scale=0.0005)
    fit = registered(many, many, own_in=np.full(len(many), 0.002), common=common)
    assert fit.shift_effects[0].expanded_in > 1.9 * 0.003
    assert fit.turn_effect.expanded_in > 1.9 * 0.001
    assert fit.scale_effect.expanded_in > 1.9 * 0.0005
    at_the_middle = fit.place_standard_in(many.mean(axis=0)[None])[0]
    assert at_the_middle == pytest.approx([0.003, 0.003], rel=0.01)


def test_a_pattern_made_too_large_shows_in_the_scale_alone():
    rng = np.random.default_rng(4)
    fit = registered(RING, RING * 1.01 + 0.001 * rng.normal(size=(8, 2)), own_in=np.full(8, 0.001))
    assert fit.scale_effect.shows
    assert fit.scale_effect.size_in == pytest.approx(0.01, abs=0.001)
    assert not fit.turn_effect.shows


def test_residuals_of_one_point_follow_fishers_law():
    """F of each point of a clean set: as many beyond the 5 % point of SciPy's F(2, 2n - 5) as there should be."""
    rng = np.random.default_rng(5)
    runs, own, beyond = 1000, np.where(np.arange(8) == 3, 0.02, 0.008), np.zeros(8)
    for _ in range(runs):
        measured = RING + own[:, None] * 2.0 * rng.normal(size=(8, 2))
        fit = registered(RING, measured, own_in=own)
        beyond += statistics(fit, RING, own_in=own) > fisher.isf(0.05, 2, 11)
    assert beyond / runs == pytest.approx(np.full(8, 0.05), abs=4.0 * math.sqrt(0.05 * 0.95 / runs))


@pytest.mark.parametrize("count", [4, 8, 30, 500])
def test_critical_statistic_is_the_quantile_of_fishers_law(count):
    assert critical_statistic(count, level=0.99) == pytest.approx(
        fisher.isf(0.01 / count, 2, 2 * count - 5), rel=1e-9
    )


def test_clean_sets_rarely_have_a_point_apart():
    """1 % of sets at most by the level: at most 1 % and four standard errors of 800."""
    rng = np.random.default_rng(6)
    own = np.full(8, 0.001)
    alarms = sum(
        bool(points_apart(RING, RING + 0.005 * rng.normal(size=(8, 2)), own_in=own)) for _ in range(800)
    )
    assert alarms / 800 < 0.01 + 4.0 * math.sqrt(0.01 * 0.99 / 800)


def test_two_points_apart_do_not_hide_each_other():
    rng = np.random.default_rng(7)
    measured = RING + 0.004 * rng.normal(size=(8, 2))
    measured[2] += [0.06, 0.06]
    measured[5] += [0.06, 0.05]
    assert {one.index for one in points_apart(RING, measured, own_in=np.full(8, 0.002))} == {2, 5}


def test_what_its_own_uncertainty_explains_is_not_called_out():
    measured = RING.copy()
    measured[2] += [0.001, 0.0]
    assert points_apart(RING, measured, own_in=np.full(8, 0.002)) == ()


@pytest.mark.parametrize(
    ("drawn", "own", "said"),
    [
        (RING[:1], [0.002], "too few"),
        (RING[[1, 1, 1]], [0.002] * 3, "one place"),
        (RING, [0.0] * 8, "above 0"),
        (RING, [math.nan] * 8, "above 0"),
    ],
)
def test_what_cannot_be_fitted_is_refused(drawn, own, said):
    with pytest.raises(GeometryError, match=said):
        registered(drawn, drawn, own_in=np.array(own))
