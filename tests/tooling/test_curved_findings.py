"""Findings on the antenna job with its curved skin; the straightedge gives a radius of 14.01."""

from __future__ import annotations

import pytest

from hatchwright.finding import Status
from hatchwright.job.cutter import Template
from hatchwright.layout.lay_out import lay_out
from hatchwright.tooling.curved_findings import curved_findings


@pytest.fixture
def by_code(layout_of):
    return lambda **changes: {f.code: f for f in curved_findings(layout_of("cypress", **changes))}


def test_findings_of_the_antenna(by_code):
    found = by_code()
    assert found["T701"].value == pytest.approx(14.01, abs=5e-3)
    assert found["T702"].value == pytest.approx(0.0133, abs=1e-4)
    assert "standing off .222" in found["T702"].subject
    assert found["T704"].value == pytest.approx(
        0.0129, abs=1e-4
    )  # 4.40 (.025 + .016)/13.9726, on the outer face
    assert ".0090 if skin and doubler were both drilled flat" in found["T704"].subject
    assert "drilled flat, inside" in found["T704"].subject
    assert "4.400" in found["T704"].subject  # rows .30 inside the edges of 5.00
    assert "in place" in found["T704"].advice
    assert found["T705"].value == pytest.approx(14.0136 - 0.025, abs=1e-3)
    assert found["T706"].value == pytest.approx(0.043, abs=5e-4)
    assert ".020 at its screws" in found["T706"].subject
    assert {found[code].status for code in ("T702", "T704", "T706")} == {Status.CAUTION}


def test_unmeasured_other_axis_is_asked_for(by_code):
    assert by_code()["T701"].status is Status.CAUTION
    assert by_code(skin__curvature__other_rise="0")["T701"].status is Status.PASS


def test_double_curvature_stops_everything_flat(by_code):
    found = by_code(skin__curvature__other_rise="1/4")
    assert list(found) == ["T701"]
    assert found["T701"].status is Status.STOP
    assert "double curvature" in found["T701"].advice


def test_a_template_of_which_it_is_not_told_is_asked_for(job_of):
    """.125 acrylic, flexed: .0196 over 4.40, ratio (14.0136 + .0625)/14.0136."""
    facts = {"thickness": ".125", "end_mill": "1/8", "border": "1.5"}
    template = Template.model_validate(facts, context={"unit": "in"})
    layout = lay_out(job_of("cypress").model_copy(update={"template": template}))
    found = {f.code: f for f in curved_findings(layout)}
    assert found["T703"].value == pytest.approx(0.0196, abs=1e-4)
    assert "1.00446" in found["T703"].advice


def test_flat_skin_has_no_findings(layout_of):
    assert curved_findings(layout_of("alder")) == ()
