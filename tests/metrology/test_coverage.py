"""The stated 95 % interval holds the real offset in 95 of 100 simulated trials, within one."""

from __future__ import annotations

import numpy as np
import pytest

from hatchwright.metrology.edge_fit import EdgeRun, fit_edges
from hatchwright.metrology.real_offset import between_directions, drift, real_offset

TRIALS = 10_000
"""Standard error of a share of .95 over 10,000 trials: .0022, so that one percent is more than four of them."""


@pytest.mark.parametrize(
    ("count", "scatter", "limit", "template"),
    [(5, 0.0016, 0.001, 0.0005), (10, 0.0030, 0.001, 0.0005), (3, 0.0040, 0.0005, 0.0002)],
)
def test_offset_is_held_in_95_of_100_trials(count, scatter, limit, template):
    """Readings scatter, the caliper has one error within its limit a trial, the template's size one of its own."""
    random = np.random.default_rng(20_231)
    true = 0.1535
    held = 0
    for _ in range(TRIALS):
        errors = (
            random.normal(0.0, scatter, count) + random.uniform(-limit, limit) + random.normal(0.0, template)
        )
        found = real_offset(2.0 * true + errors, gauge_limit_in=limit, template_standard_in=template)
        held += abs(found.offset_in - true) <= found.expanded_in
    assert held / TRIALS == pytest.approx(0.95, abs=0.01)


NORMALS = np.repeat([[1.0, 0.0], [0.0, 1.0], [-1.0, 0.0], [0.0, -1.0]], 3, axis=0)
AHEAD = np.column_stack([-NORMALS[:, 1], NORMALS[:, 0]]) * np.tile([-0.7, 0.0, 0.7], 4)[:, None]
PLACES = 1.485 * NORMALS + AHEAD
LEVERS = PLACES[:, 0] * NORMALS[:, 1] - PLACES[:, 1] * NORMALS[:, 0]


def square_run(random, *, turned: bool, growth: float, shift, ecc, turn: float, scatter: float) -> EdgeRun:
    """Three places on each side of a square, and what they read."""
    sign = -1.0 if turned else 1.0
    beyond = growth + NORMALS @ (sign * np.array(shift) + np.array(ecc)) + turn * LEVERS
    return EdgeRun(PLACES, NORMALS, beyond + random.normal(0.0, scatter, 12), turned)


def test_edges_of_two_trials_hold_every_unknown_in_95_of_100():
    random = np.random.default_rng(7)
    truth = {"growth": 0.003, "shift": (0.004, -0.002), "ecc": (0.001, 0.005), "turn": 0.0004}
    held = np.zeros(6)
    for _ in range(TRIALS):
        fit = fit_edges(tuple(square_run(random, turned=t, scatter=0.001, **truth) for t in (False, True)))
        effects = [fit.growth, *fit.shift, *fit.eccentricity, fit.turn_rad]
        values = [truth["growth"], *truth["shift"], *truth["ecc"], truth["turn"]]
        held += [abs(e.size_in - v) <= e.expanded_in for e, v in zip(effects, values, strict=True)]
    assert held / TRIALS == pytest.approx(np.full(6, 0.95), abs=0.01)


def test_no_wear_and_no_direction_is_called_so_in_95_of_100():
    random = np.random.default_rng(11)
    no_wear, no_direction = 0, 0
    for _ in range(TRIALS):
        x, y = random.normal(2.970, 0.0015, 5), random.normal(2.970, 0.0015, 5)
        no_wear += not drift((x, y)).shows
        no_direction += not between_directions(x, y).shows
    assert no_wear / TRIALS == pytest.approx(0.95, abs=0.01)
    assert no_direction / TRIALS == pytest.approx(0.95, abs=0.01)


def test_the_next_cut_is_held_in_95_of_100_trials():
    """Half of what one more cut differs from the template by, with the scatter of a single reading."""
    random = np.random.default_rng(23)
    limit, template, scatter, held = 0.001, 0.0005, 0.0016, 0
    for _ in range(TRIALS):
        off = random.uniform(-limit, limit) + random.normal(0.0, template)
        found = real_offset(
            0.307 + random.normal(0.0, scatter, 6) + off, gauge_limit_in=limit, template_standard_in=template
        )
        held += (
            abs(found.offset_in - (0.307 + random.normal(0.0, scatter)) / 2.0) <= found.next_cut_expanded_in
        )
    assert held / TRIALS == pytest.approx(0.95, abs=0.01)


def test_directions_are_held_with_the_errors_of_caliper_and_template():
    """Each direction has a template size and an error of the caliper of its own."""
    random = np.random.default_rng(29)
    limit, template, scatter, held = 0.001, 0.0005, 0.0010, 0
    for _ in range(TRIALS):
        x, y = (
            0.193
            + random.normal(0.0, scatter, 5)
            + random.uniform(-limit, limit)
            + random.normal(0.0, template)
            for _ in range(2)
        )
        found = between_directions(x, y, gauge_limit_in=limit, template_standard_in=template)
        held += not found.shows
    assert held / TRIALS == pytest.approx(0.95, abs=0.015)


def test_edges_and_drift_are_held_when_every_reading_is_off_within_the_limit():
    """Errors of each reading by itself partly cancel, so that the interval is wider than it need be: never narrower."""
    random = np.random.default_rng(31)
    limit, trials, held, still = 0.001, 3000, np.zeros(4), 0
    truth = {"growth": 0.0, "shift": (0.004, -0.002), "ecc": (0.0, 0.0), "turn": 0.0004}
    for _ in range(trials):
        run = square_run(random, turned=False, scatter=0.0002, **truth)
        off = EdgeRun(run.places, run.normals, run.beyond_in + random.uniform(-limit, limit, 12), False)
        fit = fit_edges((off,), gauge_limit_in=limit)
        effects, values = [fit.growth, *fit.shift, fit.turn_rad], [0.0, 0.004, -0.002, 0.0004]
        held += [abs(e.size_in - v) <= e.expanded_in for e, v in zip(effects, values, strict=True)]
        widths = tuple(2.970 + random.uniform(-limit, limit, 5) for _ in range(2))
        still += not drift(widths, gauge_limit_in=limit).shows
    assert np.all(held / trials >= 0.95)
    assert still / trials >= 0.95
