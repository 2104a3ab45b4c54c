"""Load sharing in riveted joints, against worked exercises of a course text.

Source: aerospace engineering course text (university, 2025), riveted and bolted joints. Shares are printed to
three figures and forces to four; the tolerance is half of the last figure, 0.3 percent, or two figures where
a case says so.
"""

from __future__ import annotations

import pytest

from hatchwright.strength.checks.rivets import rivets_for_load
from hatchwright.strength.load_sharing import capacity, shares
from hatchwright.strength.worked import work_out


def joint(*, fastener: float, plates: tuple[float, float] = (1.0, 1.0), rows: int) -> tuple[float, ...]:
    """The text's notation: how far a fastener and each plate between rows give under the unit load."""
    giving, taking = plates
    return shares(
        flexibilities_in_per_lbf=[fastener] * rows,
        gaps_in=[1.0] * (rows - 1),
        giving_lbf=1.0 / giving,
        taking_lbf=1.0 / taking,
    )


def test_three_equal_rivets() -> None:
    assert joint(fastener=1.0, rows=3) == pytest.approx((0.4, 0.2, 0.4), abs=5e-4)


def test_four_equal_rivets() -> None:
    assert joint(fastener=1.0, rows=4) == pytest.approx((0.375, 0.125, 0.125, 0.375), abs=5e-4)


def test_three_rivets_softer_than_the_plates() -> None:
    """Fastener three times as soft as the plate between rows; printed to two figures."""
    assert joint(fastener=3.0, rows=3) == pytest.approx((0.36, 0.27, 0.36), abs=5e-3)


def test_two_rivets_between_unequal_plates() -> None:
    """Exercise 1: the receiving plate gives 2/3, the loaded one 1.."""
    first, second = joint(fastener=1.0, plates=(1.0, 2.0 / 3.0), rows=2)
    assert (first, second) == pytest.approx((0.545, 0.455), abs=1e-3)


def test_a_real_joint_of_three_rivets() -> None:
    """2 mm plates, strip 30, pitch 20, rivets 4.8 mm, 9 kN: the rivet gives 5.84e-5 mm/N, the plate 4.63e-6 mm/N;
    3075, 2849 and 3075 N."""
    plate = 20.0 / (72_000.0 * 30.0 * 2.0)
    assert plate == pytest.approx(4.63e-6, rel=3e-3)
    found = joint(fastener=5.84e-5, plates=(plate, plate), rows=3)
    assert [9000 * share for share in found] == pytest.approx([3075, 2849, 3075], rel=3e-3)


def test_pitch_of_rivets_that_hand_over_a_shear_flow() -> None:
    """Exercise 2: 30 kN on a section of H = 48,000 mm3 and I = 4.2e6 mm4 is 342.9 N/mm; two rivets of 6.5 kN carry it
    at 37.9 mm. Ten such pairs so carry ten pitches of it, and not eleven; printed to three figures."""
    flow = 30_000.0 * 48_000.0 / 4.2e6
    assert flow == pytest.approx(342.9, abs=0.05)
    pair = work_out(13_000.0, "P one = given [N]")
    for pitch, pairs in ((37.85, 10), (37.95, 11)):
        assert rivets_for_load(load_lbf=flow * 10 * pitch, one=pair).value == pairs


def test_bolts_of_unequal_strength_near_failure() -> None:
    """10, 10 and 15 kN under 20 kN: 5.71, 5.71 and 8.57 kN, each in proportion to its strength; the joint
    carries 35.
    """
    strengths = [10.0, 10.0, 15.0]
    whole = capacity([work_out(value, "P = given [kN]") for value in strengths])
    assert whole.value == 35.0
    assert [20 * value / whole.value for value in strengths] == pytest.approx([5.71, 5.71, 8.57], abs=5e-3)
