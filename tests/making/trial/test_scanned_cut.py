"""A trial whose cut was measured from a flat scan, alone and beside a caliper."""

from __future__ import annotations

import pytest

from hatchwright.errors import JobError
from hatchwright.job.trial_readings import TrialReadings
from hatchwright.layout.lay_out import lay_out
from hatchwright.making.trial.trial import evaluate
from tests.making.trial.test_trial import SHEET

SCAN = """
[scan]
width = "{width}"
height = "2.976"
width_uncertainty = ".0018"
height_uncertainty = ".0018"
edge_uncertainty = ".0002"
scatter = ".0003"
places = 160
"""


def readings(*, x="", y="", width="2.978"):
    text = SHEET.format(units="in", piece="square", template="3.277 in", x=x, y=y, more="")
    return TrialReadings.read(text + SCAN.format(width=width))


def test_a_scan_alone_tells_the_offset(alder):
    trial = evaluate(readings(), lay_out(alder))
    assert trial.by_caliper is None
    # By hand: (3.277 - (2.978 + 2.976) / 2) / 2; u from hypot(.0018, .0018) / 4, .0002 and .0005 / 2.
    assert trial.offset.offset_in == pytest.approx(0.150, abs=1e-9)
    assert trial.offset.standard_in == pytest.approx(0.000713, abs=2e-6)


def test_scan_and_caliper_are_put_together(alder):
    trial = evaluate(readings(x='"2.978", "2.979"', y='"2.975", "2.976"'), lay_out(alder))
    assert trial.by_caliper is not None
    assert trial.by_scan is not None
    assert trial.offset.standard_in < min(trial.by_caliper.standard_in, trial.by_scan.standard_in)


def test_a_caliper_that_touched_crests_contradicts_the_scan(alder):
    with pytest.raises(JobError, match=r"differ by .* more than"):
        evaluate(readings(x='"2.966", "2.966"', y='"2.964", "2.964"'), lay_out(alder))


def test_a_scan_in_the_wrong_unit_is_a_slip(alder):
    with pytest.raises(JobError, match=r"scan.width"):
        evaluate(readings(width="75.64"), lay_out(alder))
