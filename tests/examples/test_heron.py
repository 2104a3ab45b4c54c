"""HERON: a curved tailcone side with round ends, where the manufacturer's data come first.

Expected figures are worked by hand from the entries of the job (invented); their geometry is school geometry.
"""

from __future__ import annotations

import math

import pytest

from examples.answers import examined, found, one
from hatchwright.judged import Status
from told import advice_of, subject_of


@pytest.fixture(scope="module")
def heron():
    return examined("heron")


def test_the_manufacturers_data_come_first(heron):
    found = one(heron, "R903")
    assert (found.status, found.cause) == (Status.PASS, "")
    assert "departs from them in nothing" in subject_of(found)


def test_the_doubler_comes_out_longer_when_it_is_drilled_flat(heron):
    """Chord 8, rise .44: R = 8^2 / (8 x .44) + .44 / 2 = 18.4018; the middle of the doubler, .0245 as measured and half
    of .032 inside it, is .0405 or .041 deeper."""
    radius = 8.0**2 / (8 * 0.44) + 0.44 / 2
    pattern = one(heron, "T704", "Hole pattern")
    least, most = (6.92 * (radius / (radius - depth) - 1) for depth in (0.0405, 0.041))
    assert least - 1e-4 <= pattern.value <= most + 1e-4
    assert "0.99777" in advice_of(pattern)  # 1 - .041 / 18.4018


def test_the_doubler_is_wider_than_the_longest_chord_of_the_opening(heron):
    wide = one(heron, "R304", "7.500 wide")
    # a strip as thick as the doubler, .032, across a circle of 5.00
    assert wide.limit == pytest.approx((5.0**2 - 0.032**2) ** 0.5, abs=3e-4)
    assert wide.value == pytest.approx(7.5)
    assert wide.status is Status.CAUTION


def test_the_drill_must_stop_short_of_the_cable_and_of_the_wires(heron):
    """The point goes .125 beyond skin and doubler, and .125 stay free: .025 + .032 + .125 and depth less .125.

    The cable moves: it comes .1 nearer than 1.4, and .25 is kept from it."""
    cable, wires = found(heron, "R702")
    assert ".182 in" in advice_of(cable)
    assert "1.050 in" in advice_of(cable)
    assert ".182 in" in advice_of(wires)
    assert ".375 in" in advice_of(wires)


def test_the_opening_is_the_one_that_the_directive_asks_for(heron):
    """An obround 5.0 by 4.0 is 5.0 long along X and 4.0 high; its straight sides are 1.0 long."""
    assert {f.status for f in found(heron, "R911")} == {Status.PASS}
    assert heron.layout.opening.area_sq_in == pytest.approx(4.0 * 1.0 + math.pi * 2.0**2)
