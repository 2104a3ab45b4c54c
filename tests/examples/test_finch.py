"""FINCH: a crack in a lower wing skin, cut out clean and patched flush: the sound job of its kind.

Expected figures are worked by hand from the entries of the job (invented); their geometry is school geometry.
"""

from __future__ import annotations

import math

import pytest

from examples.answers import examined, found, one
from hatchwright.judged import Status
from hatchwright.layout.mass import sheet_masses
from told import subject_of


@pytest.fixture(scope="module")
def finch():
    return examined("finch")


def test_nothing_stops_and_nothing_is_not_shown(finch):
    assert {finding.status for finding in finch.findings} == {Status.PASS, Status.CAUTION}
    assert finch.strength is not None


def test_both_ends_of_the_crack_are_cut_out_beyond_their_uncertainty(finch):
    """The half round of R 1 at the left end is centered at X 6.00 Y 5.50, .40 and .08 from the left end of the crack;
    its other end lies nearer to the middle."""
    crack = one(finch, "R305", "crack end 1")
    assert crack.value == pytest.approx(1.0 - math.hypot(0.40, 0.08))
    assert crack.value - 0.06 > 0.125


def test_the_rivets_of_the_plug_are_beside_those_that_count(finch):
    """Three rows of 20 in the skin; in the plug four on the straights, two bays of .5 each, and three on each half
    round of R .66875 between: 2.101 / .53 makes four bays."""
    through = {}
    for hole in finch.layout.holes:
        through[hole.stack] = through.get(hole.stack, 0) + 1
    assert through == {("skin", "doubler"): 60, ("plug", "doubler"): 12}


def test_the_circulars_table_is_met_on_all_four_sides(finch):
    """Table 4-10: .032 clad 2024-T3 with 1/8 rivets 4.9 an inch, note c 75 percent: 7.35 for 2.00 and 11.03 for 3.00,
    rounded up."""
    sides = {subject_of(side)[:7]: side for side in found(finch, "R601")}
    assert {name: side.limit for name, side in sides.items()} == {
        "side X+": 8,
        "side X-": 8,
        "side Y+": 12,
        "side Y-": 12,
    }


def test_the_solid_doubler_puts_back_more_than_was_cut(finch):
    """.040 x 5.20 over .032 x 2.00 along X, .040 x 6.20 over .032 x 3.00 along Y."""
    along_x, along_y = found(finch, "S306")
    assert along_x.value == pytest.approx(0.040 * 5.20 / (0.032 * 2.00))
    assert along_y.value == pytest.approx(0.040 * 6.20 / (0.032 * 3.00), rel=1e-5)  # cut along chords


def test_the_plug_is_weighed(finch):
    """Of the sheet of the skin: an obround of R .96875 over one of R 1 that is cut away, with straights of 1.00."""
    skin, _, plug = sheet_masses(finch.layout)
    assert plug.mass_lb / -skin.mass_lb == pytest.approx(
        (1.9375 + math.pi * 0.96875**2) / (2.0 + math.pi * 1.0**2)
    )


def test_the_doubler_is_wider_than_the_cut_out_is_long(finch):
    assert one(finch, "R304").status is Status.CAUTION


def test_its_words_are_those_of_a_patch(finch):
    for finding in finch.findings:
        told = subject_of(finding).lower()
        assert "opening" not in told, told
        assert "cover" not in told.replace("data do not cover", ""), told
