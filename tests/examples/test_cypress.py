"""Scenario CYPRESS: the numbered answers that the job must give.

Expected figures are those of the scenario sheet (invented job, its arithmetic made independently of this program).
"""

from __future__ import annotations

import pytest

from examples.answers import examined, found, one
from hatchwright.judged import Status
from told import advice_of, subject_of


@pytest.fixture(scope="module")
def cypress():
    return examined("cypress")


def test_answer_4_the_drag_is_no_certificate_of_strength(cypress):
    """.000327 x .135 x 210^2 = 1.95 lb, the formula from memory."""
    drag = one(cypress, "R925")
    assert drag.working[0].result.value == pytest.approx(1.95, abs=0.005)
    assert drag.status is Status.CAUTION
    assert "Show by test or analysis" in advice_of(drag)
    assert "from memory" in advice_of(drag)


def test_answer_5_the_doubler_clears_the_stringer_flanges(cypress):
    for side in ("left", "right"):
        gap = one(cypress, "R701", f"{side} stringer flange")
        assert gap.value == pytest.approx(0.45)
        assert gap.status is Status.PASS


def test_answer_5_the_edge_distance_in_diameters(cypress):
    edge = one(cypress, "R101", "doubler outer edge")
    assert edge.value == pytest.approx(0.30)
    assert edge.working[0].result.value == pytest.approx(2.4)
    assert edge.status is Status.PASS


def test_answer_6_bonding_against_paint(cypress):
    bonding = one(cypress, "R917")
    assert bonding.status is Status.CAUTION
    assert "bonding against paint" in subject_of(bonding)
    assert "Mask the contact" in advice_of(bonding)


def test_answer_6_sealing_and_drain(cypress):
    assert "drain" in advice_of(one(cypress, "R919")).lower()


def test_answer_6_the_distance_to_other_antennas_is_asked_for(cypress):
    assert one(cypress, "R920").status is Status.UNKNOWN


def test_the_mount_screws_share_the_drag_at_its_own_height(cypress):
    """2.92 lb at ultimate load, 4.1 out: .73 of shear, and 2.92 x 4.1 x 2.15 / (4 x 2.15^2) = 1.392 of tension each."""
    screws = one(cypress, "S901")
    assert screws.value == pytest.approx(1.15 * (0.730 / 560 + 1.392 / 880), abs=1e-5)
    assert screws.status is Status.CAUTION  # by a formula from memory


def test_answer_6_the_doubler_edge_beside_frames_and_stringers(cypress):
    gaps = {subject_of(f).removeprefix("doubler edge to "): f.value for f in found(cypress, "R922")}
    # the doubler is 7.00 x 5.00, the frames stand at 5.5 and the stringer rows at 3.30
    assert gaps == {
        "forward frame": pytest.approx(2.0),
        "aft frame": pytest.approx(2.0),
        "left stringer": pytest.approx(0.8),
        "right stringer": pytest.approx(0.8),
    }


def test_the_drag_load_is_not_taken_for_granted(cypress):
    assert one(cypress, "R921").status is Status.CAUTION
