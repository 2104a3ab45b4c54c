"""Scenario BIRCH: the numbered answers that the job must give.

Expected figures are those of the scenario sheet (invented job, its arithmetic made independently of this program); the
limits behind them are the published ones that each finding names.
"""

from __future__ import annotations

import pytest

from examples.answers import EXAMPLES, examined, found, one
from hatchwright.job.file import edited, read_job
from hatchwright.job.text_file import load_text
from hatchwright.judged import Status
from hatchwright.workflow.examine import examine
from told import advice_of, subject_of


@pytest.fixture(scope="module")
def birch():
    return examined("birch")


def test_answer_1_the_ring_overlaps_the_flanges(birch):
    gaps = {subject_of(f).removeprefix("doubler outer edge to "): f for f in found(birch, "R701")}
    assert {name: f.value for name, f in gaps.items()} == {
        "rib 5 flange": pytest.approx(-0.20),
        "rib 6 flange": pytest.approx(-0.20),
        "spar flange": pytest.approx(-0.05),
        "rear stringer flange": pytest.approx(-0.10),
    }
    assert all(f.status is Status.STOP and "overlap" in advice_of(f) for f in gaps.values())


def test_answer_1_the_ring_edge_is_a_tenth_from_the_rivets_of_the_ribs(birch):
    for rib in ("rib 5", "rib 6"):
        heads = one(birch, "R210", rib)
        gap = {value.symbol: value.value for value in heads.working[0].values}["gap"]
        assert gap == pytest.approx(0.10)
        assert heads.status is Status.UNKNOWN


def test_answer_2_nineteen_and_fifteen_rivets_are_needed(birch):
    needed = {subject_of(f)[:7]: f.limit for f in found(birch, "R601")}
    # a cut of 5.00 along Y is held by the sides along X, one of 4.00 along X by the sides along Y
    assert needed == {"side X+": 19, "side X-": 19, "side Y+": 15, "side Y-": 15}


def test_answer_2_one_row_would_clear_but_only_fifteen_fit(birch):
    along_x, along_y = found(birch, "R704")
    assert ".140 and .140 clear of the flanges" in subject_of(along_x)
    assert (along_x.value, along_x.limit, along_x.status) == (15, 19, Status.STOP)
    assert ".290 and .240 clear of the flanges" in subject_of(along_y)
    overlap = {value.symbol: value.value for value in along_x.working[-1].values}["overlap"]
    assert overlap == pytest.approx(0.56)


def test_answer_3_the_largest_x_for_two_rows_and_for_one(birch):
    largest = one(birch, "R703", "along X")
    assert largest.limit == pytest.approx(3.35)
    assert "3.350 as drawn, 4.030 with one row" in subject_of(largest)
    assert largest.status is Status.STOP


def test_answer_4_the_bay_is_not_the_one_in_the_picture(birch):
    bay = one(birch, "R908")
    assert (bay.value, bay.limit, bay.status) == (pytest.approx(2.0), 0.25, Status.STOP)
    assert "Wrong bay" in advice_of(bay)
    assert "found 6.000, mandate shows 8.000" in subject_of(bay)
    assert "2.000 off, .250 allowed" in advice_of(bay)
    assert "Stop until you know" in advice_of(bay)
    assert birch.worst_first()[0] == bay


def test_answer_5_the_options_are_things_to_ask_for(birch):
    said = advice_of(one(birch, "R703", "along X"))
    for option in (
        "picking up the existing rows",
        "a doubler outside",
        "a smaller opening",
        "design approval holder",
    ):
        assert option in said
    assert "alternative method" in said


def test_answer_5_a_mandated_size_may_not_be_changed():
    text = edited(load_text(EXAMPLES / "birch.toml"), {"opening.width": "3.35"})
    changed = one(examine(read_job(text, name="birch")), "R911", "along X")
    assert changed.status is Status.STOP
    assert "alternative method" in advice_of(changed)


def test_answer_6_the_bay_is_out_of_square(birch):
    """Sides differ by .12 and diagonals by .13: one line, the worse of the two named."""
    bay = one(birch, "R909")
    assert (bay.value, bay.status) == (pytest.approx(0.13), Status.CAUTION)
    assert "diagonals" in subject_of(bay)


def test_answer_7_a_five_thirty_seconds_rivet_stands_on_rib_6(birch):
    there = one(birch, "R910")
    assert there.status is Status.CAUTION
    assert "rib 6: 5/32, assumed 1/8" in subject_of(there)
    assert there.place == pytest.approx((6.0, 3.1))
