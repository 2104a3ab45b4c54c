"""Findings on the antenna job with its curved skin; the straightedge gives a radius of 14.01."""

from __future__ import annotations

import numpy as np
import pytest

from hatchwright.drawings.deviation_view import deviation_sheet
from hatchwright.job.cutter import Template
from hatchwright.job.skin import Curvature
from hatchwright.judged import Status
from hatchwright.layout.lay_out import lay_out
from hatchwright.making.cutter.cut_findings import cut_findings
from hatchwright.making.making import making_of
from hatchwright.making.template.curved_findings import curved_findings
from told import advice_of, subject_of


@pytest.fixture
def by_code(layout_of):
    return lambda **changes: {f.code: f for f in curved_findings(layout_of("cypress", **changes))}


def test_findings_of_the_antenna(by_code):
    found = by_code()
    assert found["T701"].value == pytest.approx(14.01, abs=5e-3)
    assert found["T702"].value == pytest.approx(0.0133, abs=1e-4)
    assert "standing off .222" in subject_of(found["T702"])
    assert found["T704"].value == pytest.approx(
        0.0129, abs=1e-4
    )  # 4.40 (.025 + .016)/13.9726, on the outer face
    assert ".0090 if skin and doubler are both drilled flat" in subject_of(found["T704"])
    assert "inside doubler drilled flat" in subject_of(found["T704"])
    assert "4.400" in subject_of(found["T704"])  # rows .30 inside the edges of 5.00
    assert "Back-drill it in place" in advice_of(found["T704"])
    assert found["T705"].value == pytest.approx(14.0136 - 0.025, abs=1e-3)
    assert found["T706"].value == pytest.approx(0.043, abs=5e-4)
    assert ".020 at its screws" in subject_of(found["T706"])
    assert {found[code].status for code in ("T702", "T704", "T706")} == {Status.CAUTION}


def test_a_hole_drilled_through_a_rigid_template_lands_farther_along_the_skin(by_code):
    """The length of the skin over 2.5 of flat template, by the chords of ten thousand points on the circle."""
    x = np.linspace(0.0, 2.5, 10_001)
    y = np.sqrt(14.0136**2 - x**2)
    beyond = np.hypot(np.diff(x), np.diff(y)).sum() - 2.5
    assert f"lands {beyond:.4f}".replace("0.", ".") in advice_of(by_code()["T702"])


def test_unmeasured_other_axis_is_asked_for(by_code):
    assert by_code()["T701"].status is Status.CAUTION
    assert by_code(skin__curvature__other_rise="0")["T701"].status is Status.PASS


def test_double_curvature_stops_everything_flat(by_code):
    found = by_code(skin__curvature__other_rise="1/4")
    assert list(found) == ["T701"]
    assert found["T701"].status is Status.STOP
    assert "Double curvature" in advice_of(found["T701"])


def test_a_template_of_which_it_is_not_told_is_asked_for(job_of):
    """.125 acrylic, flexed: .0196 over 4.40, ratio (14.0136 + .0625)/14.0136."""
    facts = {"thickness": ".125", "end_mill": "1/8", "border": "1.5"}
    template = Template.model_validate(facts, context={"unit": "in"})
    layout = lay_out(job_of("cypress").model_copy(update={"template": template}))
    found = {f.code: f for f in curved_findings(layout)}
    assert found["T703"].value == pytest.approx(0.0196, abs=1e-4)
    assert "1.00446" in advice_of(found["T703"])


def test_flat_skin_has_no_findings(layout_of):
    assert curved_findings(layout_of("alder")) == ()


ROUND = {"along": "y", "chord": "8.00", "other_rise": "0"}
"""ALDER's skin, curved along Y: chord 8.00, rise 1.3 give R = 64/10.4 + .65 = 6.8038; half the rough cut is 1.985."""


@pytest.fixture
def on_round(job_of):
    def found(rise, *, flexed=None):
        job = job_of("alder")
        curvature = Curvature.model_validate(ROUND | {"rise": rise}, context={"unit": "in"})
        parts = {
            "skin": job.skin.model_copy(update={"curvature": curvature}),
            "template": job.template.model_copy(update={"flexed": flexed}),
        }
        layout = lay_out(job.model_copy(update=parts))
        cut = [finding for finding in curved_findings(layout) if "Cut along" in subject_of(finding)]
        return (
            cut,
            {finding.code: finding for finding in cut_findings(making_of(layout))}["T402"],
            layout,
        )

    return found


def test_a_rigid_template_that_cuts_beyond_the_finished_line_stops(on_round):
    """The vertical through 1.985 meets the circle at the arc 6.8038 asin(1.985/6.8038) = 2.0143: .0293 beyond the
    rough line, where .015 is left, so .0143 beyond the finished line. Integrated along the arc as a check."""
    (cut,), left, _ = on_round("1.3")
    radius, edge = 8.0**2 / (8.0 * 1.3) + 0.65, 1.985
    x = (np.arange(200_000) + 0.5) * edge / 200_000
    arc = float(np.sum(radius / np.sqrt(radius**2 - x**2))) * edge / 200_000
    assert arc == pytest.approx(2.0143, abs=1e-4)
    assert (cut.code, cut.status) == ("T702", Status.STOP)
    assert cut.value == pytest.approx(arc - edge, abs=1e-9)
    assert cut.limit == 0.015
    assert ".0293 past the rough line" in subject_of(cut)
    assert (left.status, left.value) == (Status.STOP, pytest.approx(0.015 - (arc - edge), abs=1e-9))
    assert "min. -.0143" in subject_of(left)


def test_a_rigid_template_on_a_flatter_skin_leaves_less_to_file(on_round):
    """Rise .5: R = 16.25, beyond by 1.985^3 / (6 R^2) and a little: .0050, so .0100 is left."""
    (cut,), left, _ = on_round("1/2")
    assert (cut.status, cut.value) == (Status.PASS, pytest.approx(1.985**3 / (6.0 * 16.25**2), abs=1e-4))
    assert (left.status, left.value) == (Status.PASS, pytest.approx(0.015 - cut.value))
    assert "rigid flat template" in subject_of(left)


def test_a_template_that_is_bent_onto_the_skin_leaves_all_of_it(on_round):
    cut, left, _ = on_round("1.3", flexed=True)
    assert cut == []
    assert left.value == pytest.approx(0.015)


def test_the_sheet_of_the_cut_says_what_its_picture_does_not_show(on_round):
    _, _, layout = on_round("1.3")
    notes = " ".join(deviation_sheet(making_of(layout), date="2026-03-01").notes)
    assert "CUTS FARTHER OUT THAN THE PICTURE, .0293 in AT THE FARTHEST SIDE ALONG Y" in notes
    assert "EVERYWHERE" not in notes


def test_the_note_on_a_rigid_template_tells_its_error_first(on_round):
    """s - R sin(s/R) at s = 3.000: .0963."""
    _, _, layout = on_round("1.3")
    marks = next(finding for finding in curved_findings(layout) if finding.code == "T702")
    assert marks.value == pytest.approx(0.0963, abs=1e-4)
    assert subject_of(marks).startswith("Rigid flat template off by .0963, 3.000 along the arc")
