"""JCGM 100:2008, annexes H.1 and H.2, by numbers that know their readings and by the best estimate of routes.

H.1, a 50 mm end gauge: u_c 32 nm, 16 degrees of freedom, t 2.92, U 93 nm as printed; the last from u_c rounded
first, 92.5 without. Seen as an open library restates it; freedom, t and U from memory, and computed here.
H.2, resistance and reactance from five simultaneous observations: R 127.732 with u 0.071, X 219.847 with 0.295,
Z 254.260 with 0.236, correlations -0.588, -0.485 and 0.993 as printed there; from memory, all recomputed.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from hatchwright.metrology.budget import COVERAGE, STANDARD, Component
from hatchwright.metrology.propagated import Propagated, as_read, combined, covariance
from hatchwright.metrology.real_offset import coverage_factor
from hatchwright.metrology.routes import best_place
from published.test_measurement_cases import H1

GAUGE_NM = Propagated(50_000_838.0, H1)


def test_end_gauge_as_the_one_route_to_a_place():
    """One route is its own best estimate: X comes out with the digits printed in table H.1 and H.1.6."""
    x, _ = best_place([(GAUGE_NM, as_read("other axis", 0.0, 1.0))]).place
    found = x.budget
    assert round(found.standard) == 32
    assert math.floor(found.freedom) == 16
    t = coverage_factor(found.freedom, 0.99)
    assert t == pytest.approx(2.92, abs=0.005)
    assert round(t * found.standard, 1) == 92.5
    assert round(t * round(found.standard)) == 93


def test_end_gauge_by_two_comparisons_that_share_the_standard():
    """The same gauge compared twice with one standard: what is the standard's stays, what is the comparison's is
    halved in square; by hand sqrt(25^2 + 2.9^2 + 16.6^2 + (5.8^2 + 3.9^2 + 6.7^2) / 2) = 30.9."""
    own = ("mean difference", "comparator, random", "comparator, systematic")
    again = Propagated(GAUGE_NM.value, tuple(_renamed(one, own) for one in H1))
    y = [as_read(name, 0.0, 1.0) for name in ("y1", "y2")]
    x, _ = best_place([(GAUGE_NM, y[0]), (again, y[1])]).place
    assert x.budget.standard == pytest.approx(
        math.sqrt(25**2 + 2.887**2 + 16.599**2 + (5.8**2 + 3.9**2 + 6.7**2) / 2), abs=0.01
    )


def _renamed(one: Component, own: tuple[str, ...]) -> Component:
    if one.name not in own:
        return one
    return Component(f"{one.name}, again", one.limit, one.divisor, one.sensitivity, one.freedom)


VOLT = np.array([5.007, 4.994, 5.005, 4.990, 4.999])
AMPERE = np.array([19.663, 19.639, 19.640, 19.685, 19.678]) * 1e-3
RADIAN = np.array([1.0456, 1.0438, 1.0468, 1.0428, 1.0433])


def _mean(observed) -> Propagated:
    """A mean of five observations that were made at once with others: what each moment did is one reading."""
    shares = (observed - observed.mean()) / math.sqrt(5 * 4)
    return Propagated(
        observed.mean(),
        tuple(Component(f"moment {k}", 1.0, STANDARD, float(share)) for k, share in enumerate(shares)),
    )


def test_resistance_reactance_impedance_of_annex_h2():
    v, i, phi = map(_mean, (VOLT, AMPERE, RADIAN))
    z = v.value / i.value
    r, x = z * math.cos(phi.value), z * math.sin(phi.value)
    found = [
        combined(r, [(r / v.value, v), (-r / i.value, i), (-x, phi)]),
        combined(x, [(x / v.value, v), (-x / i.value, i), (r, phi)]),
        combined(z, [(1.0 / i.value, v), (-z / i.value, i)]),
    ]
    assert [round(one.value, 3) for one in found] == [127.732, 219.847, 254.260]
    # .2956 from the observations; printed from inputs rounded before
    assert [one.budget.standard for one in found] == pytest.approx([0.071, 0.295, 0.236], abs=0.0007)
    spread = covariance(found)
    root = np.sqrt(np.diag(spread))
    correlation = spread / np.outer(root, root)
    printed = (correlation[0, 1], correlation[0, 2], correlation[1, 2])
    assert [round(float(one), 3) for one in printed] == [-0.588, -0.485, 0.993]


def test_the_factor_of_a_u_that_is_entered():
    """6.3.3: about 95 % for k = 2."""
    assert as_read("a", 1.0, 0.02).budget.standard == pytest.approx(0.02 / COVERAGE)
