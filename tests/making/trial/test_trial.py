"""Trials on scrap: the first scenario, wear, eccentricity, slips of the unit, the template made anew."""

from __future__ import annotations

import numpy as np
import pytest

from hatchwright.errors import GeometryError, JobError
from hatchwright.job.trial_readings import TrialReadings
from hatchwright.judged import Status
from hatchwright.layout.lay_out import lay_out
from hatchwright.making.template.guide_template import Guide, job_chain
from hatchwright.making.trial.findings import trial_findings
from hatchwright.making.trial.piece import trial_piece
from hatchwright.making.trial.trial import evaluate, next_revision, piece_for, regenerated
from hatchwright.metrology.edge_fit import EdgeRun, fit_edges
from hatchwright.metrology.real_offset import drift, real_offset
from told import advice_of

SHEET = """schema = 1
units = "{units}"
piece = "{piece}"
size = "3.000 in"
template_x = "{template}"
template_y = "{template}"
template_uncertainty = ".0005 in"
gauge_limit = ".001 in"

[[cuts]]
x = [{x}]
y = [{y}]
{more}
"""


def readings(*, x=("2.978",), y=("2.974",), template="3.277 in", piece="square", units="in", more=""):
    listed = {axis: ", ".join(f'"{value}"' for value in values) for axis, values in (("x", x), ("y", y))}
    return TrialReadings.read(SHEET.format(units=units, piece=piece, template=template, more=more, **listed))


def test_two_readings_of_the_first_scenario(layout_of):
    """Window 2.970 + 2 x .1535 = 3.277; cut widths .500 - (3.277 - 2.978) = .201 and .197; about .006 large across."""
    trial = evaluate(readings(), layout_of("alder"))
    assert trial.piece.template_in == pytest.approx(3.277)
    assert trial.cut_along_in == pytest.approx((0.201, 0.197))
    assert trial.over_size_in == pytest.approx(0.006)
    offset = trial_findings(trial, allowance_in=0.015)[0]
    assert offset.status is Status.UNKNOWN  # two readings show nothing beyond their scatter
    assert ".006 large across" in advice_of(offset)
    assert ".201 along X, .197 along Y" in advice_of(offset)
    assert "check the blade" in advice_of(offset)


def test_five_readings_prove_an_offset(layout_of):
    trial = evaluate(
        readings(x=("2.970", "2.971", "2.969"), y=("2.970", "2.971", "2.969")), layout_of("alder")
    )
    found = {finding.code: finding for finding in trial_findings(trial, allowance_in=0.015)}
    assert found["T201"].status is Status.PASS
    assert found["T202"].status is Status.PASS
    assert found["T202"].value == pytest.approx(0.015)


def test_a_cut_far_too_large_stops(layout_of):
    """.020 over on each side with .015 left to file: beyond the finished line."""
    trial = evaluate(
        readings(x=("3.010", "3.011", "3.009"), y=("3.010", "3.011", "3.009")), layout_of("alder")
    )
    found = {finding.code: finding for finding in trial_findings(trial, allowance_in=0.015)}
    assert found["T201"].status is Status.STOP
    assert found["T202"].status is Status.STOP
    assert found["T202"].value == pytest.approx(-0.005)


def test_plug_has_the_other_sign(layout_of):
    """A plug of 3.000 - 2 x .4375 = 2.125 whose opening came out at 3.004: the cut is .254, not .250."""
    layout = layout_of("dogwood")
    trial = evaluate(readings(template="2.125 in", x=("3.004", "3.003"), y=("3.005", "3.004")), layout)
    assert trial.cut_in == pytest.approx(0.254)
    assert trial.over_size_in == pytest.approx(0.004)


def test_template_is_made_anew_with_its_reason(layout_of):
    layout = layout_of("alder")
    trial = evaluate(readings(), layout)
    cutter, anew = regenerated(layout.job, trial)
    assert anew.revision == "B"
    assert "a cut of .1990 in, not .1930 in" in anew.reason
    chain = job_chain(lay_out(layout.job.model_copy(update={"cutter": cutter, "template": anew})))
    x_min, _, x_max, _ = chain.machinable.bounds
    assert x_max - x_min == pytest.approx(4.970 + 2 * 0.1505)
    assert chain.machinable_corner.radius_in == pytest.approx(0.735 + 0.1505)


@pytest.mark.parametrize(
    ("before", "after"), [("A", "B"), ("Y", "Z"), ("Z", "AA"), ("AZ", "BA"), ("ZZ", "AAA")]
)
def test_revisions_follow_each_other(before, after):
    assert next_revision(before) == after


def test_blade_that_wears_is_seen():
    falling = np.array([2.9700, 2.9694, 2.9691, 2.9684, 2.9681])
    wear = drift((falling, falling))
    assert wear.shows
    assert wear.size_in == pytest.approx(-0.0019, abs=2e-4)


def test_readings_in_millimeters_entered_as_inches(layout_of):
    with pytest.raises(JobError, match=r"25\.4 times too large") as caught:
        evaluate(readings(x=("75.64", "2.978")), layout_of("alder"))
    assert [fault.field for fault in caught.value.faults] == ["cuts.0.x.0"]
    assert "Expect about 2.970 in" in str(caught.value)


def test_readings_in_inches_entered_as_millimeters(layout_of):
    with pytest.raises(JobError, match=r"25\.4 times too small") as caught:
        evaluate(readings(units="mm"), layout_of("alder"))
    assert len(caught.value.faults) == 2


def test_readings_with_their_unit_are_taken(layout_of):
    trial = evaluate(readings(units="mm", x=("2.978 in",), y=("75.54",)), layout_of("alder"))
    assert trial.cut_along_in[1] == pytest.approx(0.500 - (3.277 - 75.54 / 25.4))


def test_a_reading_far_off_is_a_slip(layout_of):
    with pytest.raises(JobError, match="far from the size"):
        evaluate(readings(x=("1.978",)), layout_of("alder"))


def test_one_reading_is_refused(layout_of):
    with pytest.raises(GeometryError, match="nothing about the scatter"):
        evaluate(readings(y=()), layout_of("alder"))


def test_no_reading_is_refused():
    with pytest.raises(JobError, match="no widths"):
        readings(x=(), y=())


@pytest.mark.parametrize(
    ("text", "field"),
    [
        ("schema = 2", "schema"),
        ("schema = 1\nunits = 'ft'", "units"),
        ("schema = 1\nunits = 'in'\npiece = 'heart'", "piece"),
        ("schema = ", "schema"),
        ("schema = 1\nunits = 'in'\nsize = '-3'", "size"),
    ],
)
def test_faults_of_the_file_name_their_field(text, field):
    with pytest.raises(JobError) as caught:
        TrialReadings.read(text)
    assert field in [fault.field for fault in caught.value.faults]


def test_a_line_is_named_for_a_fault_of_a_reading():
    with pytest.raises(JobError) as caught:
        readings(x=("2.978", "two"))
    assert caught.value.faults[0].field == "cuts.0.x.1"
    assert caught.value.faults[0].line == 11


def test_a_job_without_a_template_cannot_be_tried(alder):
    with pytest.raises(JobError, match="a trial needs it"):
        piece_for(lay_out(alder.model_copy(update={"template": None})), "square", 3.0)


def test_disc_and_corner_pieces():
    guide = Guide(cut_in=0.193, guide_in=0.5, end_mill_in=0.125, kind="female")
    disc = trial_piece("disc", size_in=3.0, allowance_in=0.015, corner_in=0.735, guide=guide)
    assert np.hypot(*disc.places.T) == pytest.approx(np.full(12, 1.485))
    corner = trial_piece("corner", size_in=4.0, allowance_in=0.015, corner_in=0.735, guide=guide)
    assert corner.chain.predicted_corner.radius_in == pytest.approx(0.735)
    with pytest.raises(GeometryError, match="no straight sides"):
        trial_piece("corner", size_in=2.0, allowance_in=0.015, corner_in=0.735, guide=guide)


NORMALS = np.repeat([[1.0, 0.0], [0.0, 1.0], [-1.0, 0.0], [0.0, -1.0]], 3, axis=0)
PLACES = (
    1.485 * NORMALS + np.column_stack([-NORMALS[:, 1], NORMALS[:, 0]]) * np.tile([-0.5, 0.0, 0.5], 4)[:, None]
)


def exact_run(*, turned: bool) -> EdgeRun:
    """Growth .003, template shift (.004, -.002), eccentricity (.001, .005), turn .0005."""
    sign = -1.0 if turned else 1.0
    pull = NORMALS @ (sign * np.array([0.004, -0.002]) + np.array([0.001, 0.005]))
    lever = PLACES[:, 0] * NORMALS[:, 1] - PLACES[:, 1] * NORMALS[:, 0]
    return EdgeRun(PLACES, NORMALS, 0.003 + pull + 0.0005 * lever, turned)


def test_one_trial_cannot_tell_shift_from_eccentricity():
    fit = fit_edges((exact_run(turned=False),))
    assert fit.rank == 4
    assert fit.eccentricity is None
    assert [effect.size_in for effect in fit.shift] == pytest.approx([0.005, 0.003])


def test_two_trials_of_the_same_heading_cannot_either():
    assert fit_edges((exact_run(turned=False), exact_run(turned=False))).rank == 4


def test_a_second_trial_turned_half_round_can():
    fit = fit_edges((exact_run(turned=False), exact_run(turned=True)))
    assert fit.rank == 6
    assert [effect.size_in for effect in fit.shift] == pytest.approx([0.004, -0.002])
    assert [effect.size_in for effect in fit.eccentricity] == pytest.approx([0.001, 0.005])
    assert fit.growth.size_in == pytest.approx(0.003)
    assert fit.turn_rad.size_in == pytest.approx(0.0005)


def test_unit_standard_errors_of_one_square_trial():
    """1/sqrt 12, 1/sqrt 6, 1/sqrt 6, 1/sqrt(sum lever^2), each times t and the scatter."""
    run = exact_run(turned=False)
    random = np.random.default_rng(3)
    fit = fit_edges((EdgeRun(run.places, run.normals, run.beyond_in + random.normal(0, 1e-3, 12), False),))
    lever = PLACES[:, 0] * NORMALS[:, 1] - PLACES[:, 1] * NORMALS[:, 0]
    t_8 = 2.306004
    widths = [
        fit.growth.expanded_in,
        fit.shift[0].expanded_in,
        fit.shift[1].expanded_in,
        fit.turn_rad.expanded_in,
    ]
    units = [12**-0.5, 6**-0.5, 6**-0.5, float(np.sum(lever**2)) ** -0.5]
    assert widths == pytest.approx([t_8 * fit.scatter_in * unit for unit in units], rel=1e-5)


def test_a_disc_does_not_show_the_turn():
    angles = np.arange(12) * np.pi / 6.0
    normals = np.column_stack([np.cos(angles), np.sin(angles)])
    fit = fit_edges((EdgeRun(1.5 * normals, normals, 0.003 + normals @ np.array([0.004, 0.0]), False),))
    assert fit.turn_rad is None
    assert fit.shift[0].size_in == pytest.approx(0.004)


def edges_text(values) -> str:
    return "edges = [" + ", ".join(f'"{value:.4f}"' for value in values) + "]"


def test_eccentric_cut_is_found_from_readings(layout_of):
    """The cut lies .006 to the right whichever way the template is laid."""
    layout = layout_of("alder")
    piece = piece_for(layout, "square", 3.0)
    noise = np.tile([0.0004, -0.0004, 0.0], 4)
    reading = np.einsum("nc,nc->n", piece.places, piece.normals) + piece.normals[:, 0] * 0.006 + noise
    second = f"\n[[cuts]]\nturned = true\n{edges_text(reading)}"
    sheet = readings(x=("2.970",), y=("2.971",), more=edges_text(reading) + second)
    found = {f.code: f for f in trial_findings(evaluate(sheet, layout), allowance_in=0.015)}
    assert found["T206"].status is Status.CAUTION
    assert found["T206"].value == pytest.approx(0.006, abs=1e-4)
    assert found["T205"].status is Status.PASS
    alone = readings(x=("2.970",), y=("2.971",), more=edges_text(reading))
    only = {f.code: f for f in trial_findings(evaluate(alone, layout), allowance_in=0.015)}
    assert "T206" not in only
    assert "one trial can't" in advice_of(only["T205"])
    assert "On the job" not in advice_of(only["T205"])
    on_job = trial_findings(evaluate(alone, layout), allowance_in=0.015, template=job_chain(layout))
    (shifted,) = [f for f in on_job if f.code == "T205"]
    assert "would cut .006 past the rough line" in advice_of(shifted)


def test_gauge_without_scatter_keeps_its_own_uncertainty():
    found = real_offset(np.array([0.3, 0.3, 0.3]), gauge_limit_in=0.001, template_standard_in=0.0)
    assert found.freedom == np.inf
    assert found.expanded_in == pytest.approx(1.959964 * 0.5 * 0.001 / 3**0.5, rel=1e-5)
