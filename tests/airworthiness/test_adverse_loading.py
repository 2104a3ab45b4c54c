"""The worst loading against other ways to find it: linear programming for one limit, and loadings drawn at random."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import linprog

from hatchwright.airworthiness.balance import Weighed, balance_of
from hatchwright.airworthiness.envelope import Envelope
from hatchwright.airworthiness.loading import Load, adverse_case, full_cases

KINDS = ("crew", "passengers", "fuel", "oil", "baggage")


@st.composite
def aircraft(draw, *, points):
    """An empty aircraft, what goes aboard, and limits at some weights."""

    def number(least, most):
        return draw(st.integers(int(least * 10), int(most * 10))) / 10.0

    empty = Weighed(number(800, 1600), number(70, 100))
    loads = tuple(
        Load(str(at), draw(st.sampled_from(KINDS)), number(-60, 200), least, least + number(0, 400))
        for at in range(draw(st.integers(1, 6)))
        for least in [number(0, 60)]
    )
    least_lb = empty.weight_lb + sum(one.least_lb for one in loads)
    weights = sorted({number(700, 1500) for _ in range(points - 1)} | {least_lb + number(1, 900)})
    forward = tuple(number(60, 85) for _ in weights)
    return empty, loads, Envelope(tuple(weights), forward, tuple(one + number(3, 20) for one in forward))


@given(aircraft(points=1))
@settings(max_examples=60)
def test_one_limit_is_a_linear_program(made):
    """No other loading within the same bounds and weight has a worse moment about the limit (scipy's simplex)."""
    empty, loads, limits = made
    for toward, sign, limit_in in (("forward", 1.0, limits.forward_in[0]), ("aft", -1.0, limits.aft_in[0])):
        case = adverse_case(empty, loads, limits, toward)
        found = sign * (case.total.moment_lb_in - case.total.weight_lb * limit_in)
        program = linprog(
            [sign * (one.arm_in - limit_in) for one in loads],
            A_ub=[[1.0] * len(loads)],
            b_ub=[limits.heaviest_lb - empty.weight_lb],
            bounds=[(one.least_lb, one.most_lb) for one in loads],
        )
        worst = program.fun + sign * empty.weight_lb * (empty.arm_in - limit_in)
        assert found == pytest.approx(worst, abs=1e-4)


@given(aircraft(points=3), st.integers(0, 2**32 - 1))
@settings(max_examples=60)
def test_no_loading_is_worse_where_limits_change_with_weight(made, seed):
    empty, loads, limits = made
    rng = np.random.default_rng(seed)
    least = np.array([one.least_lb for one in loads])
    most = np.array([one.most_lb for one in loads])
    share = rng.random((4000, len(loads)))
    share[:2000] = np.round(share[:2000])  # corners
    aboard = least + share * (most - least)
    weight = empty.weight_lb + aboard.sum(axis=1)
    moment = empty.moment_lb_in + aboard @ np.array([one.arm_in for one in loads])
    may_fly = weight <= limits.heaviest_lb
    for toward, ends, sign in (("forward", limits.forward_in, 1.0), ("aft", limits.aft_in, -1.0)):
        case = adverse_case(empty, loads, limits, toward)
        total = case.total
        assert total.weight_lb <= limits.heaviest_lb + 1e-9
        assert all(
            one.load.least_lb - 1e-9 <= one.weight_lb <= one.load.most_lb + 1e-9 for one in case.aboard
        )
        at_limit = np.interp(weight, limits.weights_lb, ends)
        random_lb_in = (sign * (moment - weight * at_limit))[may_fly]
        found = sign * (
            total.moment_lb_in - total.weight_lb * np.interp(total.weight_lb, limits.weights_lb, ends)
        )
        assert random_lb_in.size == 0 or found <= random_lb_in.min() + 1e-4


@given(aircraft(points=1))
@settings(max_examples=40)
def test_a_full_case_is_full_and_no_heavier_than_it_must_be(made):
    empty, loads, limits = made
    for case in full_cases(empty, loads, limits):
        assert all(one.weight_lb == one.load.most_lb for one in case.aboard if one.load.kind == case.name)
        least_lb = empty.weight_lb + sum(
            one.load.most_lb if one.weight_lb == one.load.most_lb else one.load.least_lb
            for one in case.aboard
        )
        assert case.total.weight_lb <= max(limits.heaviest_lb, least_lb) + 1e-6


def test_an_aircraft_that_is_too_heavy_with_the_least_has_no_loading():
    limits = Envelope((1000.0,), (80.0,), (90.0,))
    assert (
        adverse_case(Weighed(990.0, 85.0), (Load("pilot", "crew", 85.0, 170.0, 170.0),), limits, "aft")
        is None
    )


@given(st.lists(st.tuples(*(st.floats(-9, 9), st.floats(-50, 250), st.floats(0, 3), st.floats(0, 2))), max_size=8),
       st.integers(0, 2**32 - 1))  # fmt: skip
def test_no_error_within_its_bounds_moves_the_cg_beyond_what_is_told(parts, seed):
    """Weights and arms drawn at random within what each may be out by: never farther than the bound."""
    each = (Weighed(1400.0, 85.0), *(Weighed(*one) for one in parts))
    told = balance_of(each).total
    rng = np.random.default_rng(seed)
    for _ in range(40):
        off = [
            Weighed(one.weight_lb + u * one.u_lb, one.arm_in + v * one.u_in)
            for one in each
            for u, v in [np.sign(rng.uniform(-1, 1, 2)) * rng.choice([1.0, 0.5])]
        ]
        drawn = balance_of(off).total
        assert abs(drawn.weight_lb - told.weight_lb) <= told.u_lb + 1e-6
        assert abs(drawn.arm_in - told.arm_in) <= told.u_in + 1e-6


def test_a_rearward_limit_that_grows_with_weight_is_worst_between_least_and_most():
    """With x lb at arm 110 the room is -5,000 - 10 x + .02 x^2 lb-in by hand, which is least at 250 lb."""
    limits = Envelope((1000.0, 2000.0), (10.0, 10.0), (80.0, 100.0))
    load = Load("baggage", "baggage", 110.0, 0.0, 600.0)
    case = adverse_case(Weighed(1000.0, 85.0), (load,), limits, "aft")
    assert case.aboard[0].weight_lb == pytest.approx(250.0)
    assert case.total.moment_lb_in - case.total.weight_lb * case.aft_in == pytest.approx(6250.0)
