"""T2xx on trials that must not pass: misread template, transposed digits, a turned template, corners, rounding.

Readings come from sizes worked by hand or from lines crossed by code of this test, not from the code under test.
"""

from __future__ import annotations

import math
import re

import numpy as np
import pytest

from hatchwright.errors import GeometryError, JobError
from hatchwright.job.file import read_job
from hatchwright.job.trial_readings import TrialReadings
from hatchwright.judged import Status
from hatchwright.layout.lay_out import lay_out
from hatchwright.making.template.guide_template import job_chain
from hatchwright.making.trial.findings import trial_findings
from hatchwright.making.trial.trial import evaluate, piece_for
from hatchwright.metrology.edge_fit import EdgeRun, fit_edges
from hatchwright.page.fill_in import with_unit
from hatchwright.units import parse_length
from told import advice_of, remedy_of, subject_of

FIVE = ("2.970", "2.970", "2.971", "2.969", "2.970")
SAME = ("2.970",) * 5


def lines(name, values) -> str:
    return f"{name} = [{', '.join(f'{chr(34)}{value}{chr(34)}' for value in values)}]"


def cut(*, x=FIVE, y=FIVE, edges=(), diagonals=(), turned=False) -> str:
    return "\n".join(
        (
            "[[cuts]]",
            f"turned = {str(turned).lower()}",
            *(
                lines(name, values)
                for name, values in (("x", x), ("y", y), ("edges", edges), ("diagonals", diagonals))
            ),
        )
    )


def sheet(*cuts, made=("3.277", "3.277"), u=".0005", piece="square", size="3.000", units="in"):
    return TrialReadings.read(
        f'schema = 1\nunits = "{units}"\npiece = "{piece}"\nsize = "{size}"\ntemplate_x = "{made[0]}"\n'
        f'template_y = "{made[1]}"\ntemplate_uncertainty = "{u}"\ngauge_limit = ".001 in"\n' + "\n".join(cuts)
    )


def judged(readings, layout, allowance=0.015):
    found = trial_findings(evaluate(readings, layout), allowance_in=allowance, template=job_chain(layout))
    return {finding.code: finding for finding in found}


def worst(found) -> set[str]:
    return {code for code, finding in found.items() if finding.status is Status.STOP}


def test_a_good_trial_has_nothing_to_say(layout_of):
    found = judged(sheet(cut()), layout_of("alder"))
    assert {finding.status for finding in found.values()} == {Status.PASS}
    assert list(found) == ["T201", "T202", "T203", "T204", "T207", "T208", "T209"]


def test_one_size_of_the_template_misread(layout_of):
    """3.377 for 3.277: the offset would change by .025 and leave the real cut .010 beyond the finished line."""
    found = judged(sheet(cut(x=SAME, y=SAME), made=("3.377", "3.277")), layout_of("alder"))
    assert worst(found) >= {"T201", "T204", "T207", "T208"}
    assert "measure the template again" in advice_of(found["T208"]).lower()
    assert found["T208"].value == pytest.approx(0.100)


def test_both_sizes_of_the_template_misread(layout_of):
    """The readings agree with each other, so that only the sizes themselves can tell."""
    found = judged(sheet(cut(), made=("3.377", "3.377")), layout_of("alder"))
    assert worst(found) == {"T201", "T208"}


@pytest.mark.parametrize(
    ("made", "u", "status"),
    [
        ("3.285", ".0005", Status.PASS),  # .008 + 1.96 x .0005 = .00898 is within .010
        ("3.287", ".0005", Status.STOP),  # .010 + .001 is not
        ("3.277", ".006", Status.STOP),  # 1.96 x .006 = .0118: not known well enough to say
    ],
)
def test_tolerance_of_the_template_counts_its_uncertainty(layout_of, made, u, status):
    assert judged(sheet(cut(), made=(made, made), u=u), layout_of("alder"))["T208"].status is status


def test_x_and_y_that_disagree(layout_of):
    """.004 between them. u^2 = 2 (.001^2/3 + .0005^2) + s^2 (2/5) with s^2 = 5e-7: .00117, U about .0023."""
    x = tuple(f"{float(value) + 0.004:.3f}" for value in FIVE)
    found = judged(sheet(cut(x=x)), layout_of("alder"))
    assert found["T204"].status is Status.STOP
    assert found["T204"].value == pytest.approx(0.004)
    u = math.sqrt(2.0 * (0.001**2 / 3 + 0.0005**2) + 5e-7 * 0.4)
    assert found["T204"].judged.uncertainty == pytest.approx(
        1.96 * u, rel=0.03
    )  # t of many degrees of freedom
    near = tuple(f"{float(value) + 0.002:.3f}" for value in FIVE)
    assert judged(sheet(cut(x=near)), layout_of("alder"))["T204"].status is Status.PASS


def test_an_offset_that_changes_by_more_than_is_left_to_file(layout_of):
    """A cut .032 narrower across: .016 each side against .015. No metal is lost, and it is still no cutter's doing."""
    small = tuple(f"{float(value) - 0.032:.3f}" for value in FIVE)
    found = judged(sheet(cut(x=small, y=small)), layout_of("alder"))
    assert worst(found) == {"T201"}
    less = tuple(f"{float(value) - 0.028:.3f}" for value in FIVE)
    assert worst(judged(sheet(cut(x=less, y=less)), layout_of("alder"))) == set()


def test_transposed_digits_are_named_and_stop(layout_of):
    """s of ten readings with one .180 off is .0569; u of the next cut 1/2 s sqrt(1.1) = .0299, t(9) = 2.262."""
    found = judged(sheet(cut(x=("2.970", "2.970", "2.790", "2.970", "2.970"))), layout_of("alder"))
    assert worst(found) == {"T207", "T209"}
    assert "x, reading 3 of cut 1 (2.790)" in subject_of(found["T209"])
    assert found["T207"].value == pytest.approx(2.262 * 0.0299, rel=2e-3)
    assert found["T202"].status is Status.UNKNOWN  # .024 left against .0675
    assert found["T202"].judged.uncertainty == found["T207"].value


def test_a_job_that_leaves_nothing_to_file_is_never_sure(layout_of):
    """Cut to the line itself: a perfect trial cannot show that the next cut keeps inside."""
    found = judged(sheet(cut()), layout_of("alder"), allowance=0.0)
    assert found["T207"].status is Status.UNKNOWN
    assert found["T202"].status is Status.UNKNOWN
    assert "filing allowance" in advice_of(found["T207"])
    assert "T201" not in worst(found)


def test_two_misread_alike_scatter_too_much(layout_of):
    """They hide each other from the test for one outlier; the next cut is known to no better than .06."""
    found = judged(sheet(cut(x=("2.970", "2.790", "2.790", "2.970", "2.970"))), layout_of("alder"))
    assert found["T209"].status is Status.PASS
    assert found["T207"].status is Status.STOP


def test_two_readings_are_too_few_for_the_metal_left(layout_of):
    found = judged(sheet(cut(x=("2.978",), y=("2.974",))), layout_of("alder"))
    assert found["T207"].status is Status.STOP
    assert "too few" in advice_of(found["T207"])


def test_a_reading_is_kept_though_it_stands_apart(layout_of):
    trial = evaluate(sheet(cut(x=("2.970", "2.970", "2.790", "2.970", "2.970"), y=SAME)), layout_of("alder"))
    assert trial.offset.count == 10
    assert trial.cut_in == pytest.approx(0.193 - 0.018)  # .180 over ten readings


def drifting(step):
    """Widths that fall by the step from reading to reading, five along each way."""
    falling = tuple(f"{2.970 - step * k + 0.0002 * (k % 2):.4f}" for k in range(5))
    return sheet(cut(x=falling, y=falling))


def test_wear_stops_when_it_takes_what_is_left_to_file(layout_of):
    """.004 a reading is .016 from the first to the last, .008 each side: a caution. .010 a reading is .020: no more."""
    assert judged(drifting(0.0), layout_of("alder"))["T203"].status is Status.PASS
    slow = judged(drifting(0.004), layout_of("alder"))["T203"]
    assert (slow.status, slow.value) == (Status.CAUTION, pytest.approx(-0.016, abs=3e-4))
    assert judged(drifting(0.010), layout_of("alder"))["T203"].status is Status.STOP


@pytest.mark.parametrize(("limit", "word"), [(".00004", "no shop gauge"), (".5", "far more accurate")])
def test_a_gauge_that_cannot_be(layout_of, limit, word):
    text = sheet(cut()).model_copy(update={"gauge_limit": parse_length(limit)})
    with pytest.raises(JobError, match=word) as caught:
        evaluate(text, layout_of("alder"))
    assert caught.value.faults[0].field == "gauge_limit"


FLAT_EDGES = ("1.485",) * 12


def test_readings_that_are_all_alike_raise_no_caution(layout_of):
    found = judged(
        sheet(cut(x=SAME, y=SAME, edges=FLAT_EDGES), cut(x=SAME, y=SAME, edges=FLAT_EDGES, turned=True)),
        layout_of("alder"),
    )
    assert {finding.status for finding in found.values()} == {Status.PASS}
    assert found["T203"].judged.uncertainty > 0.001  # 1.96 x sqrt(2/3) x .001
    assert {"T205", "T206", "T210"} <= set(found)


@pytest.mark.parametrize("off", [0.0005, 0.001])
def test_a_shift_below_what_the_caliper_reads_is_not_called_out(layout_of, off):
    edges = [1.485 + off * u for u, _ in np.repeat([(1, 0), (0, 1), (-1, 0), (0, -1)], 3, axis=0)]
    found = judged(sheet(cut(x=SAME, y=SAME, edges=edges)), layout_of("alder"))
    assert found["T205"].status is Status.PASS
    far = [1.485 + 3.0 * (edge - 1.485) for edge in edges]
    wide = judged(sheet(cut(x=SAME, y=SAME, edges=far)), layout_of("alder"))["T205"]
    assert wide.status is Status.CAUTION
    assert wide.value == pytest.approx(3.0 * off)


def turned_edges(layout, *, turn_deg: float, shift=(0.0, 0.0)) -> list[float]:
    """From the cross square out to the side of a square of 2.970 that is turned and shifted: two lines crossed."""
    places = piece_for(layout, "square", 3.0).places
    c, s = math.cos(math.radians(turn_deg)), math.sin(math.radians(turn_deg))
    read = []
    for k, place in enumerate(places):
        normal = [(1, 0), (0, 1), (-1, 0), (0, -1)][k // 3]
        out = np.array([c * normal[0] - s * normal[1], s * normal[0] + c * normal[1]])
        along = (
            np.array([abs(normal[1]), abs(normal[0])]) * place
        )  # measured square to the edge, at this station
        # (along + r normal - shift) . out = 1.485
        read.append(float((1.485 - (along - np.array(shift)) @ out) / (np.array(normal) @ out)))
    return read


@pytest.mark.parametrize("turn", [0.66, -0.4])
def test_a_turned_template_is_found_and_kept_out_of_the_shift(layout_of, turn):
    layout = layout_of("alder")
    edges = [f"{value:.3f}" for value in turned_edges(layout, turn_deg=turn, shift=(0.004, -0.003))]
    found = judged(sheet(cut(edges=edges)), layout)
    assert found["T210"].status is Status.CAUTION
    assert found["T210"].unit == "deg"
    assert found["T210"].value == pytest.approx(turn, abs=0.03)
    assert abs(found["T210"].value - turn) <= found["T210"].judged.uncertainty
    assert ("to the left" if turn > 0 else "to the right") in subject_of(found["T210"])
    assert found["T205"].value == pytest.approx(0.005, abs=3e-4)
    corner = math.radians(abs(found["T210"].value)) * math.hypot(4.970, 3.970) / 2.0
    assert f"by up to {corner:.3f}".replace("0.", ".") in advice_of(found["T210"])


def test_a_turn_within_its_uncertainty_is_none(layout_of):
    layout = layout_of("alder")
    edges = [f"{value:.3f}" for value in turned_edges(layout, turn_deg=0.02)]
    assert judged(sheet(cut(edges=edges)), layout)["T210"].status is Status.PASS


def test_sides_in_the_wrong_order_are_told(layout_of):
    """A turn of .66 deg whose top and left were read the other way round has no turn left in the mean."""
    layout = layout_of("alder")
    edges = turned_edges(layout, turn_deg=0.66)
    edges[3:6], edges[6:9] = edges[5:2:-1], edges[8:5:-1]
    found = judged(sheet(cut(edges=[f"{value:.3f}" for value in edges])), layout)["T210"]
    assert found.status is Status.UNKNOWN
    assert "the sides disagree" in subject_of(found)
    assert "A rotation of 0.6" in advice_of(found)
    assert "opposite order" in advice_of(found)


def test_a_taper_is_no_turn(layout_of):
    """Only the right side leans, by .010 over its measured length."""
    layout = layout_of("alder")
    edges = [1.495, 1.485, 1.475, *[1.485] * 9]
    found = judged(sheet(cut(edges=edges)), layout)["T210"]
    assert found.status is Status.UNKNOWN
    assert "opposite order" not in advice_of(found)


def test_no_sides_disagree_in_95_of_100(layout_of):
    """Turned squares whose readings scatter: the four sides together are wrong in 5 of 100."""
    layout = layout_of("alder")
    random = np.random.default_rng(21)
    exact = np.array(turned_edges(layout, turn_deg=0.3))
    piece = piece_for(layout, "square", 3.0)
    trials = 2000
    wrong = sum(
        fit_edges(
            (EdgeRun(piece.places, piece.normals, exact - 1.485 + random.normal(0, 0.001, 12), False),)
        ).sides_disagree
        for _ in range(trials)
    )
    assert wrong / trials == pytest.approx(0.05, abs=0.02)


def test_an_edge_misread_is_named(layout_of):
    rough = [0.0004, -0.0004, 0.0, 0.0003, -0.0002, 0.0001, -0.0003, 0.0002, 0.0004, -0.0001, 0.0, 0.0002]
    edges = [f"{1.485 + value:.4f}" for value in rough]
    edges[4] = "1.458"
    found = judged(sheet(cut(edges=edges)), layout_of("alder"))
    assert found["T209"].status is Status.STOP
    assert "edges, place 5 of cut 1 (1.458)" in subject_of(found["T209"])


def diagonal(radius: float, width: float = 3.970) -> str:
    """From the middle of one corner's arc to the other: each lies (sqrt 2 - 1) R inside the sharp corner."""
    return f"{math.hypot(width, width) - 2.0 * (math.sqrt(2.0) * radius - radius):.4f}"


FOUR = tuple(f"{float(value) + 1.0:.3f}" for value in FIVE)


def corner_cut(*diagonals, **more):
    return sheet(
        cut(x=FOUR, y=FOUR, diagonals=diagonals, **more),
        made=("4.277", "4.277"),
        piece="corner",
        size="4.000",
    )


def test_the_corner_of_a_corner_piece(layout_of):
    """The job's corner of .750 with .015 to file: .735 in the cut."""
    found = judged(corner_cut(diagonal(0.735), diagonal(0.735)), layout_of("alder"))["T211"]
    assert found.status is Status.PASS
    assert found.value == pytest.approx(0.735, abs=5e-4)
    assert found.limit == pytest.approx(0.735)


@pytest.mark.parametrize(
    ("radius", "status", "word"),
    [
        (0.745, Status.CAUTION, "rounder"),
        (0.720, Status.CAUTION, "sharper"),
        (0.650, Status.STOP, "finished"),
    ],
)
def test_a_corner_that_comes_out_otherwise(layout_of, radius, status, word):
    """Sharper by .085: (sqrt 2 - 1) .085 = .035 farther out along the diagonal, where .015 is left to file."""
    found = judged(corner_cut(diagonal(radius), diagonal(radius)), layout_of("alder"))["T211"]
    assert found.status is status
    assert found.value == pytest.approx(radius, abs=5e-4)
    assert word in advice_of(found)


def test_a_corner_piece_without_diagonals_cannot_tell(layout_of):
    found = judged(corner_cut(), layout_of("alder"))["T211"]
    assert found.status is Status.UNKNOWN
    assert "diagonals" in advice_of(found)


def test_a_disc_has_no_diagonals():
    with pytest.raises(JobError, match="no corners") as caught:
        sheet(cut(diagonals=("4.0",)), piece="disc")
    assert caught.value.faults[0].field == "cuts.0.diagonals"


def test_a_diagonal_in_the_wrong_unit(layout_of):
    with pytest.raises(JobError, match=r"25\.4 times too large") as caught:
        evaluate(corner_cut("127.3"), layout_of("alder"))
    assert [fault.field for fault in caught.value.faults] == ["cuts.0.diagonals.0"]


@pytest.mark.parametrize("field", ["template_x", "template_uncertainty", "gauge_limit"])
def test_a_field_left_empty_is_to_be_filled_in(field):
    text = 'schema = 1\nunits = "in"\npiece = "square"\nsize = "3"\n' + "".join(
        f'{name} = "{"" if name == field else ".001"}"\n'
        for name in ("template_x", "template_y", "template_uncertainty", "gauge_limit")
    )
    with pytest.raises(JobError, match="still empty") as caught:
        TrialReadings.read(text + cut())
    (fault,) = caught.value.faults
    assert fault.field == field
    assert remedy_of(fault).startswith("Enter what")


def test_an_empty_reading_is_to_be_filled_in():
    with pytest.raises(JobError, match="still empty") as caught:
        sheet(cut(x=("2.970", " ")))
    assert caught.value.faults[0].field == "cuts.0.x.1"


def test_a_turned_cut_alone_is_refused():
    with pytest.raises(JobError, match="rotated from") as caught:
        sheet(cut(turned=True))
    assert caught.value.faults[0].field == "cuts.0.turned"
    assert sheet(cut(turned=True), cut()).cuts[0].turned  # the other one came second


def metric(alder_text):
    return lay_out(read_job(with_unit(alder_text, "mm")))


def test_a_job_in_millimeters_is_told_in_millimeters(alder_text):
    layout = metric(alder_text)
    mm = [f"{float(value) * 25.4 + 0.1 * k:.2f}" for k, value in enumerate(FIVE)]
    edges = [f"{value * 25.4 + 0.3 * (k < 3):.2f}" for k, value in enumerate([1.485] * 12)]
    readings = sheet(
        cut(x=mm, y=[*mm[:4], "80.0"], edges=edges, diagonals=("105.0",)),
        made=("85.0", "83.24"),
        u=".01",
        size="76.2",
        units="mm",
    )
    found = judged(readings, layout)
    said = " ".join(f"{subject_of(finding, 'mm')} {advice_of(finding, 'mm')}" for finding in found.values())
    assert worst(found) >= {"T204", "T207", "T208", "T209"}
    assert not re.search(r"\d in\b", said)
    assert len(re.findall(r"\d mm\b", said)) > 10
    assert not re.search(r"(?<![\w.])\.\d", said)  # a length without a zero before its point is an inch
    assert found["T208"].value == pytest.approx(85.0 / 25.4 - 3.277, abs=1e-3)  # for programs in inches


def test_refusals_of_a_metric_job_are_metric(alder_text):
    layout = metric(alder_text)
    with pytest.raises(GeometryError, match=r"a 5\.08 mm trial piece has no straight sides") as caught:
        piece_for(layout, "square", 0.2)
    assert remedy_of(caught.value).endswith(" mm.")
    with pytest.raises(JobError, match=r"Expect about 75\.438 mm"):
        evaluate(sheet(cut(x=("40 mm",)), made=("83.24", "83.24"), size="76.2", units="mm"), layout)
