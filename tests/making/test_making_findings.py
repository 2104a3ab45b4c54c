"""All findings of the making together, and the page that lists their codes."""

from __future__ import annotations

from pathlib import Path

import pytest

from hatchwright.errors import GeometryError
from hatchwright.judged import Status
from hatchwright.making.making import making_of
from hatchwright.making.making_findings import making_findings
from told import advice_of

ROOT = Path(__file__).parents[2]


def codes(findings):
    return [finding.code for finding in findings]


def judged(layout):
    try:
        return making_findings(layout, making_of(layout))
    except GeometryError:
        return making_findings(layout, None)


@pytest.mark.parametrize("example", ["alder", "birch", "dogwood", "cypress", "elder", "finch", "heron"])
def test_findings_come_in_the_order_of_their_code(layout_of, example):
    found = codes(judged(layout_of(example)))
    assert found == sorted(found)


def test_a_nibbled_opening_with_everything_entered(layout_of):
    layout = layout_of(
        "alder",
        cutter__advance="1/16",
        cutter__body="1.75",
        cutter__behind=".6",
        cutter__capacity=".063",
        cutter__reach="6",
        cutter__starter="9/16",
        cutter__eccentricity=".004",
        template__pin_body="1/4",
        template__pin_clearance=".004",
    )
    findings = judged(layout)
    assert {"T101", "T105", "T301", "T402", "T403", "T404", "T501", "T502", "T601", "T602", "T801"} <= set(
        codes(findings)
    )
    assert {f.status for f in findings} == {Status.PASS}
    assert "T603" not in codes(findings)  # the cutter makes the corners: no holes are drilled before the tube


def test_a_template_that_cannot_be_made_still_gets_its_other_findings(layout_of):
    found = codes(judged(layout_of("dogwood", cutter__guide=".2")))
    assert found[0] == "T100"
    assert "T602" in found
    assert "T801" not in found


def test_stops_carry_advice_and_what_passes_carries_none(layout_of):
    for example in ("alder", "dogwood", "cypress"):
        for finding in judged(layout_of(example)):
            assert bool(advice_of(finding)) == (finding.status is not Status.PASS), finding


@pytest.mark.parametrize(
    ("entered", "missing"),
    [
        ({}, "cutter.body, template.pin_body, template.pin_clearance"),
        ({"cutter__body": "1.75", "template__pin_clearance": ".004"}, "template.pin_body"),
        ({"template__pin_body": ".25"}, "cutter.body, template.pin_clearance"),
    ],
)
def test_a_template_whose_hold_was_not_planned_cannot_be_shown_to_hold(layout_of, entered, missing):
    pins = [finding for finding in judged(layout_of("alder", **entered)) if finding.code.startswith("T5")]
    assert [(found.code, found.status) for found in pins] == [("T501", Status.UNKNOWN)]
    assert ", ".join(pins[0].enter) == missing
    assert advice_of(pins[0]).count("and enter it.") == len(pins[0].enter)


def test_the_play_of_the_pins_is_asked_for_when_nothing_else_is_missing(layout_of):
    sizes = {"cutter__body": "1.75", "template__pin_body": ".25"}
    pins = {finding.code: finding for finding in judged(layout_of("alder", **sizes))}
    assert pins["T501"].status is Status.PASS
    assert pins["T502"].status is Status.CAUTION
    assert pins["T502"].enter == ("template.pin_clearance",)


def test_nothing_of_the_making_is_asked_of_a_job_without_a_cutter(layout_of):
    from hatchwright.layout.lay_out import lay_out

    job = layout_of("alder").job.model_copy(update={"cutter": None, "template": None})
    assert {finding.code for finding in judged(lay_out(job))} & {"T306", "T501", "T502"} == set()
