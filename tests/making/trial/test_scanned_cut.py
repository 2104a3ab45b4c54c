"""A trial whose cut was measured from a flat scan, alone and beside a caliper: its offset, and where the cut lies."""

from __future__ import annotations

import numpy as np
import pytest

from hatchwright.errors import JobError
from hatchwright.job.trial_readings import TrialReadings
from hatchwright.judged import Status
from hatchwright.layout.lay_out import lay_out
from hatchwright.making.trial.findings import trial_findings
from hatchwright.making.trial.trial import evaluate, piece_for
from hatchwright.metrology.edge_fit import EdgeRun, fit_edges
from hatchwright.metrology.real_offset import Effect
from hatchwright.metrology.scanned_edges import ScannedPose, scanned_edges
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


def readings(*, x="", y="", width="2.978", more=""):
    text = SHEET.format(units="in", piece="square", template="3.277 in", x=x, y=y, more=more)
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


def test_the_corner_by_diagonals_counts_caliper_widths_alone(alder):
    """Two widths and a diagonal tell the corner; the places of a scan beside them took no part in it."""
    both = readings(x='"2.978"', y='"2.976"', more='diagonals = ["3.589"]')
    alone = evaluate(both.model_copy(update={"scan": None}), lay_out(alder))
    beside = evaluate(both, lay_out(alder))
    assert beside.offset.count > alone.offset.count == 2
    assert beside.corner.beyond == alone.corner.beyond


def test_a_caliper_that_touched_crests_contradicts_the_scan(alder):
    with pytest.raises(JobError, match=r"differ by .* more than"):
        evaluate(readings(x='"2.966", "2.966"', y='"2.964", "2.964"'), lay_out(alder))


def test_a_scan_in_the_wrong_unit_is_a_slip(alder):
    with pytest.raises(JobError, match=r"scan.width"):
        evaluate(readings(width="75.64"), lay_out(alder))


POSE = """
[{name}.pose]
shift_x = "{x}"
shift_y = "{y}"
shift_uncertainty = ".0004"
turn = "{turn}"
turn_uncertainty = "0.004"
"""


def posed(x, y, turn, turned=None):
    text = SHEET.format(units="in", piece="square", template="3.277 in", x="", y="", more="")
    text += SCAN.format(width="2.978") + POSE.format(name="scan", x=x, y=y, turn=turn)
    if turned:
        text += SCAN.format(width="2.980").replace("[scan]", "[scan_turned]")
        text += POSE.format(name="scan_turned", x=turned[0], y=turned[1], turn=turned[2])
    return text


def test_a_scan_tells_where_the_cut_lies(alder):
    trial = evaluate(TrialReadings.read(posed("-.0021", ".0004", "0.031")), lay_out(alder))
    x, y = trial.edges.shift
    assert (x.size_in, y.size_in) == (-0.0021, 0.0004)
    assert x.expanded_in == pytest.approx(1.96 * 0.0004, rel=1e-3)
    assert (x.shows, y.shows) == (True, False)
    assert trial.edges.eccentricity is None  # one cut can't tell it from the template's own shift
    assert np.degrees(trial.edges.turn_rad.size_in) == pytest.approx(0.031)
    assert trial.edges.turn_rad.shows
    found = {
        finding.code: finding.status for finding in trial_findings(trial, allowance_in=0.015, template=None)
    }
    assert (found["T205"], found["T210"]) == (Status.CAUTION, Status.CAUTION)
    assert "T206" not in found


def test_a_second_scan_with_the_template_turned_tells_shift_and_eccentricity_apart(alder):
    """A template .003 off along X turns its shift with it, a tool .001 off along Y and -.0005 along X does not."""
    text = posed(".0025", ".001", "0.01", turned=("-.0035", ".001", "0.02"))
    trial = evaluate(TrialReadings.read(text), lay_out(alder))
    assert [one.size_in for one in trial.edges.shift] == pytest.approx([0.003, 0.0])
    assert [one.size_in for one in trial.edges.eccentricity] == pytest.approx([-0.0005, 0.001])
    half = 1.96 * 0.0004 / np.sqrt(2.0)
    assert [one.expanded_in for one in trial.edges.eccentricity] == pytest.approx([half] * 2, rel=1e-3)
    assert np.degrees(trial.edges.turn_rad.size_in) == pytest.approx(0.015)
    # The offset by the mean of both widths, known no better than by one: scale and print are common to both.
    assert trial.offset.offset_in == pytest.approx((3.277 - (2.979 + 2.976) / 2) / 2)
    assert trial.offset.standard_in == pytest.approx(0.000713, abs=2e-6)


def test_scans_and_distances_from_the_cross_say_the_same(alder):
    """The twelve distances of a cut shifted by hand, and the same cut as a scan has it."""
    piece = piece_for(lay_out(alder), "square", 3.0)
    shift, turn = np.array([0.004, -0.002]), np.radians(0.05)
    carried = piece.places @ [[np.cos(turn), np.sin(turn)], [-np.sin(turn), np.cos(turn)]] + shift
    # Where the turned side passes the numbered place, along the direction that the place is measured in.
    beyond = np.einsum("nc,nc->n", carried - piece.places, piece.normals)
    by_places = fit_edges((EdgeRun(piece.places, piece.normals, beyond, False),))
    scanned = ScannedPose((0.004, -0.002), 0.0004, float(turn), 7e-5, False)
    by_scan = scanned_edges([scanned], growth=Effect(0.0, 0.001), scatter_in=0.0003)
    for one, other in zip(
        (*by_places.shift, by_places.turn_rad), (*by_scan.shift, by_scan.turn_rad), strict=True
    ):
        assert one.size_in == pytest.approx(other.size_in, abs=2e-6)


@pytest.mark.parametrize(
    ("text", "told"),
    [
        (posed(".001", ".001", "0.01").replace('"0.004"', '"0"'), "scan.pose.turn_uncertainty"),
        (posed(".001", ".001", "0.01").replace('turn = "0.01"', ""), "scan.pose.turn"),
        (posed(".001", ".001", "0.01").replace("scan", "scan_turned"), "scan_turned"),
    ],
    ids=["sure", "no turn", "turned alone"],
)
def test_a_place_that_is_told_by_half_is_refused(text, told):
    with pytest.raises(JobError) as refused:
        TrialReadings.read(text)
    assert told in [fault.field for fault in refused.value.faults]
