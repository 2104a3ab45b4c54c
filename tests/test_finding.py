"""How a value is judged against a limit."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from hatchwright.judged import RANKED, Status, judge


def judged(value: float, limit: float, **how: object) -> Status:
    """The answer on one number."""
    return RANKED[int(judge(value, limit, **how))]


@pytest.mark.parametrize(
    ("value", "u", "status"),
    [
        (0.250, 0.0, Status.PASS),
        (0.2499, 0.0, Status.STOP),
        (0.250, 0.005, Status.UNKNOWN),
        (0.248, 0.005, Status.UNKNOWN),
        (0.243, 0.005, Status.STOP),
        (0.2549, 0.005, Status.UNKNOWN),
        (0.255, 0.005, Status.PASS),
    ],
)
def test_a_measured_value_passes_only_by_its_uncertainty(value, u, status):
    assert judged(value, 0.250, u=u) is status
    assert judged(0.5 - value, 0.250, u=u, at_least=False) is status


def test_a_limit_that_only_cautions_never_stops():
    assert judged(0.1, 0.25, fails_as=Status.CAUTION) is Status.CAUTION
    assert judged(0.249, 0.25, u=0.005, fails_as=Status.CAUTION) is Status.CAUTION


@pytest.mark.parametrize(
    ("value", "u", "status"),
    [
        (0.0001, 0.0, Status.PASS),
        (0.0, 0.0, Status.STOP),
        (0.005, 0.005, Status.PASS),
        (0.0, 0.005, Status.UNKNOWN),
        (-0.0051, 0.005, Status.STOP),
    ],
)
def test_a_strict_limit_is_missed_by_what_only_touches_it(value, u, status):
    assert RANKED[int(judge(value, 0.0, u=u, strict=True))] is status
    assert RANKED[int(judge(-value, 0.0, u=u, at_least=False, strict=True))] is status
    many = judge(np.array([value, 1.0]), 0.0, u=np.array([u, 0.0]), strict=True)
    assert [RANKED[rank] for rank in many] == [status, Status.PASS]


@pytest.mark.property
@given(value=st.floats(-10, 10), limit=st.floats(-10, 10), u=st.floats(0, 1), more=st.floats(0, 5))
def test_more_never_worsens(value, limit, u, more):
    before, after = judged(value, limit, u=u), judged(value + more, limit, u=u)
    order = [Status.STOP, Status.UNKNOWN, Status.PASS]
    assert order.index(after) >= order.index(before)
