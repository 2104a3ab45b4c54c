"""Stress-life curves as restated from MIL-HDBK-5J, figures 3.2.3.1.8(e), (g) and 3.7.6.1.8(d), (f), 31 Jan 2003.

log10 N = A1 - A2 log10(Seq - A4), Seq = Smax (1 - R)^A3, ksi. The logs were worked out from the printed constants apart
from this program; tolerance 1e-4 is their rounding.
"""

from __future__ import annotations

import math

import pytest

from hatchwright.tables.fatigue_curves import FATIGUE_CURVES, fatigue_curves
from hatchwright.workings import Grade

EXAMPLES = {
    ("2024", "T3", 1.0): (5.6063, 6.7479),
    ("2024", "T3", 2.0): (4.3965, 5.2245),
    ("7075", "T6", 1.0): (5.5681, 6.4227),
    ("7075", "T6", 2.0): (4.2272, 5.0681),
}


@pytest.mark.parametrize("which", EXAMPLES, ids=str)
def test_median_lives(which):
    """Smax 40 ksi at R 0, and 30 ksi at R .1."""
    alloy, temper, kt = which
    curve = next(one for one in fatigue_curves(alloy, temper) if one.kt_ratio == kt)
    at_40, at_30 = EXAMPLES[which]
    assert math.log10(curve.life(40e3)) == pytest.approx(at_40, abs=1e-4)
    assert math.log10(curve.life(30e3 * 0.9**curve.a3_ratio)) == pytest.approx(at_30, abs=1e-4)


def test_only_curves_that_were_seen_restated_are_listed():
    """Kt 1.5, 4 and 5 are remembered, and their page was not seen."""
    rows = FATIGUE_CURVES.all()
    assert {row.grade for row in rows} == {Grade.RESTATED}
    assert {(row.alloy, row.temper, row.kt_ratio) for row in rows} == set(EXAMPLES)


def test_up_to_its_least_stress_a_curve_foresees_no_failure():
    curve = fatigue_curves("2024", "T3")[0]
    assert math.isinf(curve.life(15_800.0))
    assert math.isfinite(curve.life(15_900.0))
    assert curve.endures(cycles=1e8, errors=3).value == 15_800.0


def test_a_curve_without_a_least_stress_takes_that_of_a_long_life():
    """7075-T6, Kt 1: (14.86 - 8 - 3 x .41) / 5.8 = .9707, 9.35 ksi."""
    found = fatigue_curves("7075", "T6")[0].endures(cycles=1e8, errors=3)
    assert found.value == pytest.approx(9.35e3, rel=1e-3)
