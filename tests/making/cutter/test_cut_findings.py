"""Findings on the predicted cut, and what is left to be filed."""

from __future__ import annotations

import math

import pytest

from hatchwright.judged import Status
from hatchwright.making.cutter.cut_findings import cut_findings
from hatchwright.making.cutter.filing import filing
from hatchwright.making.cutter.scallop import inside_corner_scallop_in
from hatchwright.making.making import making_of
from hatchwright.making.template.guide_template import job_chain
from told import advice_of, subject_of


@pytest.fixture
def by_code(layout_of):
    def found(*names: str, **changes: str):
        layout = layout_of(*names, **changes)
        return {finding.code: finding for finding in cut_findings(making_of(layout))}

    return found


def test_the_allowance_is_left_all_round(layout_of):
    layout = layout_of("alder")
    left = filing(job_chain(layout), layout.wanted, advance_in=None)
    assert left.least_in == pytest.approx(0.015, abs=1e-9)
    assert left.most.depth_in == pytest.approx(0.015, abs=1e-9)
    assert left.ridges == ()
    perimeter = 2.0 * (5.0 - 1.5) + 2.0 * (4.0 - 1.5) + 2.0 * math.pi * 0.75
    assert left.area_sq_in == pytest.approx(0.015 * perimeter - math.pi * 0.015**2, abs=1e-9)


def test_tight_corners_leave_more(layout_of):
    """Finished .05, cut .0965: the finish corner lies (.0965 - .05 + .015)(sqrt 2 - 1) + .015 from the cut."""
    layout = layout_of("plain", opening__radius=".05")
    left = filing(job_chain(layout), layout.wanted, advance_in=None)
    assert left.least_in == pytest.approx(0.015, abs=1e-9)
    assert left.most.depth_in == pytest.approx((0.0965 - 0.035) * (math.sqrt(2) - 1) + 0.015, abs=1e-9)


def test_ridges_are_added_to_what_is_filed(by_code):
    findings = by_code("alder", cutter__advance="1/16")
    ridge = inside_corner_scallop_in(cut_in=0.193, advance_in=0.0625, corner_in=0.735)
    assert findings["T403"].value == pytest.approx(ridge)
    assert findings["T403"].status is Status.PASS
    assert f"{0.015 + ridge:.4f} at most".replace("0.", ".") in subject_of(findings["T402"])


def test_ridges_higher_than_the_allowance_are_said_so(by_code):
    """3/32 apart with .193 of cut: .012 on straight sides; .005 left to file."""
    ridges = by_code("alder", cutter__advance="3/32", cutter__filing_allowance=".005")["T403"]
    assert ridges.status is Status.CAUTION
    gentle = 2.0 * math.sqrt(0.005 * (0.193 - 0.005))
    assert f"an advance of {gentle:.3f}".replace("0.", ".") in advice_of(ridges)


def test_corner_that_needs_a_bite_by_hand(by_code):
    corners = by_code("plain", opening__radius=".12", cutter__advance="1/16")["T403"]
    assert corners.status is Status.CAUTION
    assert corners.value == 4.0
    assert "by hand" in advice_of(corners)


def test_cut_beyond_the_finished_line_stops(by_code):
    """A sharp re-entrant corner of a wide guide: over-cut (.1535 - .002)(sqrt 2 - 1) less the .002 left to file."""
    opening = """shape = "polygon"
corners = [["0", "0"], ["8", "0"], ["8", "3"], ["4", "3"], ["4", "6"], ["0", "6"]]
radii = [".5", ".5", ".5", "0", ".5", ".5"]"""
    findings = by_code("plain", opening=opening, cutter__filing_allowance=".002")
    assert findings["T401"].status is Status.STOP
    assert "pointing into the opening, cut off" in subject_of(findings["T401"])
    assert findings["T402"].status is Status.STOP
    assert findings["T402"].value == pytest.approx(-((0.1535 - 0.002) * (math.sqrt(2) - 1) - 0.002), abs=1e-6)


def test_eccentric_cutter_beyond_the_allowance_cannot_be_shown_to_pass(by_code):
    assert by_code("alder", cutter__eccentricity=".010")["T404"].status is Status.PASS
    wide = by_code("alder", cutter__eccentricity=".020")["T404"]
    assert wide.status is Status.UNKNOWN
    path = 0.735 - 0.0965
    assert f"{math.hypot(path, 0.020) - path:.4f}".removeprefix("0") in advice_of(wide)
    assert f"{0.020 * math.sin(math.radians(10)):.4f}".removeprefix("0") in advice_of(wide)
    assert "T404" not in by_code("alder")


def test_a_good_cut_passes(by_code):
    assert {finding.status for finding in by_code("alder").values()} == {Status.PASS}
