"""The offset from a trial cut, case C23, and unit standard errors of an edge fit.

Method: JCGM 100:2008, effective degrees of freedom Eq. (G.2b) and G.6.4; mean 4.2.3, rectangular 4.3.7 and combination
5.1.2 (these three clause numbers from memory, unverified).
    delta = (T - mean y)/2 ; u = 1/2 sqrt(s^2/n + a^2/3 + u_T^2) ; nu = (sum)^2/((s^2/n)^2/(n-1)) ; U95 = t0.975(18) u
Tolerance: half of the last printed digit of each value.
"""

from __future__ import annotations

import numpy as np
import pytest

from hatchwright.metrology.real_offset import real_offset, t_quantile


def test_c23_offset_from_a_trial_cut():
    readings = np.array([9.998, 10.002, 10.001, 9.999, 10.0])
    found = real_offset(10.5 - readings, gauge_limit_in=0.001, template_standard_in=0.0005)
    assert found.offset_in == pytest.approx(0.25, abs=5e-7)
    assert found.scatter_in == pytest.approx(0.001581139, abs=5e-10)
    assert found.standard_in == pytest.approx(0.000520416, abs=5e-10)
    assert found.freedom == pytest.approx(18.777777778, abs=5e-9)
    assert found.expanded_in == pytest.approx(0.001093354, abs=5e-9)
    assert found.next_cut_in == pytest.approx(0.00095, abs=5e-6)


T_TABLE = {
    1: 12.706,
    2: 4.303,
    3: 3.182,
    4: 2.776,
    5: 2.571,
    8: 2.306,
    10: 2.228,
    18: 2.101,
    30: 2.042,
    120: 1.980,
}
"""Two-sided 95 % points of Student's t, as tabulated in every statistics text to three decimals."""


@pytest.mark.parametrize(("freedom", "printed"), T_TABLE.items())
def test_quantiles_of_the_printed_table(freedom, printed):
    assert t_quantile(0.975, freedom) == pytest.approx(printed, abs=6e-4)
