"""Findings on the guide template, on the two example jobs and on jobs changed so that each finding stops."""

from __future__ import annotations

import re

import pytest
from msgspec.structs import replace

from hatchwright.judged import Status
from hatchwright.making.cutter.cut_findings import cut_findings
from hatchwright.making.cutter.cutter_fit import cutter_findings
from hatchwright.making.making import making_of
from hatchwright.making.template.findings import template_findings
from hatchwright.making.template.flat_size import room_for, template_outline
from hatchwright.making.template.guide_template import (
    corner_drills,
    job_chain,
)
from hatchwright.shapes.corners import smallest_corner
from hatchwright.workings import Grade
from told import advice_of, subject_of

REENTRANT = """shape = "polygon"
corners = [["0", "0"], ["8", "0"], ["8", "3"], ["4", "3"], ["4", "6"], ["0", "6"]]
radii = [".75", ".75", ".75", "{reentrant}", ".75", ".75"]"""


@pytest.fixture
def by_code(layout_of):
    def found(*names: str, **changes: str):
        findings = template_findings(layout_of(*names, **changes))
        return {finding.code: finding for finding in findings}

    return found


def test_template_of_the_nibbled_opening(layout_of):
    """Offset (.500 - .193)/2 = .1535; window 5.000 - 2 x .015 + 2 x .1535 = 5.277 by 4.277; corner .735 + .1535."""
    layout = layout_of("alder")
    chain = job_chain(layout)
    assert chain.guide.offset_in == pytest.approx(0.1535)
    x_min, y_min, x_max, y_max = chain.machinable.bounds
    assert (x_max - x_min, y_max - y_min) == pytest.approx((5.277, 4.277))
    assert ((x_min + x_max) / 2, (y_min + y_max) / 2) == pytest.approx((5.5, 4.5))
    assert smallest_corner(*chain.machinable.loops, reentrant=False).radius_in == pytest.approx(0.8885)
    assert smallest_corner(*chain.wanted.loops, reentrant=False).radius_in == pytest.approx(0.735)
    assert template_outline(making_of(layout)) == pytest.approx((8.277, 7.277))


def test_corner_holes_of_the_nibbled_opening(layout_of):
    """Diameter 2 x .735 = 1.47 at X +-1.75, Y +-1.25 of the center (5.5, 4.5)."""
    drills = corner_drills(layout_of("alder").rough_cut)
    assert [2.0 * drill.radius_in for drill in drills] == pytest.approx([1.47] * 4)
    centers = {(round(drill.center[0] - 5.5, 9), round(drill.center[1] - 4.5, 9)) for drill in drills}
    assert centers == {(1.75, 1.25), (1.75, -1.25), (-1.75, 1.25), (-1.75, -1.25)}


def test_a_round_opening_has_no_corner_holes(layout_of):
    circle = 'shape = "circle"\ndiameter = "4"\ncenter = ["5.5", "4.5"]'
    assert corner_drills(layout_of("plain", opening=circle).rough_cut) == ()


def test_a_good_template_passes_and_shows_its_offset(by_code):
    findings = by_code("alder")
    assert {finding.status for finding in findings.values()} == {Status.PASS}
    assert findings["T105"].value == pytest.approx(0.1535)
    assert str(findings["T105"].working[0].result) == "offset = 0.1535 in"


def test_plug_larger_than_the_corner_allows(by_code):
    """The guide goes round the plug's corner: (.625 + .250)/2 = .4375 instead of .3125, and what would do."""
    corner = by_code("dogwood")["T102"]
    assert corner.status is Status.STOP
    assert corner.value == pytest.approx(0.4375)
    assert corner.limit == pytest.approx(0.3125)
    assert corner.judged.shortfall == pytest.approx(0.125)
    assert ".125 over. The corner comes out R .4375, not R .3125" in advice_of(corner)
    assert "window template 8.375 x 3.375, corner R .5000" in advice_of(corner)
    assert "guide of .3750 or less" in advice_of(corner)
    assert "corner holes .6250 (5/8) in diameter" in advice_of(corner)


def test_plug_gives_the_size_all_the_same(layout_of):
    x_min, y_min, x_max, y_max = job_chain(layout_of("dogwood")).predicted.bounds
    assert (x_max - x_min, y_max - y_min) == pytest.approx((8.0, 3.0))


def test_clamps_collide_in_the_machine(by_code):
    """Blank 8.375 + 3 by 3.375 + 3 in a travel of 11.8 x 7.1: .425 and .725 to spare."""
    room = by_code("dogwood", cutter__template="female")["T104"]
    assert room.status is Status.CAUTION
    assert "11.375 x 6.375" in subject_of(room)
    assert ".425 and .725" in advice_of(room)
    assert "clamps" in advice_of(room)
    assert room.grade is Grade.PRACTICE


def test_a_blank_may_be_turned():
    assert room_for((11.375, 6.375), (7.1, 11.8)).holds
    assert not room_for((11.375, 6.375), (11.8, 6.3)).holds


def test_border_too_wide_for_the_blank_stops(by_code):
    room = by_code("alder", template__border="4")["T104"]
    assert room.status is Status.STOP
    assert "1.277 short" in advice_of(room)


def test_lengths_are_told_in_the_unit_of_the_job(layout_of):
    """The corner of .4375 in, wrong by .125 in: 11.1125 mm and 3.175 mm; each decimal has its unit."""
    layout = layout_of("dogwood")
    metric = replace(layout, job=layout.job.model_copy(update={"units": "mm"}))
    found = [
        *template_findings(metric, making_of(metric)),
        *cut_findings(making_of(metric)),
        *cutter_findings(metric),
    ]
    (corner,) = [finding for finding in found if finding.code == "T102"]
    assert corner.value == pytest.approx(0.4375)
    assert "The corner comes out R 11.112 mm, not R 7.938 mm" in advice_of(corner, "mm")
    assert "3.18 mm over." in advice_of(corner, "mm")
    assert "corner holes 15.875 mm in diameter" in advice_of(corner, "mm")
    for finding in found:
        said = f"{subject_of(finding, 'mm')} {advice_of(finding, 'mm')}"
        assert not re.search(r"\d in\b", said), finding
        told = re.sub(r"-?\d+\.\d+(( x | Y )-?\d+\.\d+)? mm²?", "", said)
        assert not re.search(r"\d\.\d|\.\d", told), told


def test_reentrant_corner_that_would_be_over_cut_stops(by_code):
    """Least re-entrant radius (.500 - .193)/2 = .1535; with r the over-cut is (.1535 - r)(sqrt 2 - 1)."""
    over = by_code("plain", opening=REENTRANT.format(reentrant=".0"))["T101"]
    assert over.status is Status.STOP
    rough_radius = 0.015  # filing allowance rounds the sharp re-entrant corner
    assert over.value == pytest.approx((0.1535 - rough_radius) * (2**0.5 - 1), abs=1e-9)
    assert over.place == pytest.approx((4.0, 3.0), abs=0.2)
    assert ".1535" in advice_of(over)
    assert "can't be filed back" in advice_of(over)


def test_reentrant_corner_within_reach_passes(by_code):
    assert by_code("plain", opening=REENTRANT.format(reentrant=".75"))["T101"].status is Status.PASS


def test_corner_between_rough_and_finished_radius_is_filed(by_code):
    """Finished .100, rough .085, the cut leaves .0965: filing makes it; a finished .090 is tighter than the cut."""
    assert by_code("alder", opening__radius=".100")["T102"].status is Status.CAUTION
    assert by_code("alder", opening__radius=".090")["T102"].status is Status.STOP


def test_end_mill_too_large_for_the_corner(by_code):
    corner = by_code("alder", template__end_mill="2")["T102"]
    assert corner.status is Status.STOP
    assert corner.value == pytest.approx(1.0 - 0.25 + 0.0965)
    assert "end mill of 1.7770 or less" in advice_of(corner)


def test_neck_narrower_than_the_cut_splits_the_run(by_code):
    """A waist .15 wide between two rooms, .193 of cut."""
    neck = """shape = "polygon"
corners = [["0", "0"], ["3", "0"], ["3", "1.45"], ["5", "1.45"], ["5", "0"], ["8", "0"],
    ["8", "3"], ["5", "3"], ["5", "1.6"], ["3", "1.6"], ["3", "3"], ["0", "3"]]
radii = [".5"]"""
    neck = neck.replace(
        '".5"', ", ".join(['".5"'] * 2 + ['"0"'] * 2 + ['".5"'] * 4 + ['"0"'] * 2 + ['".5"'] * 2)
    )
    runs = by_code("plain", opening=neck)["T103"]
    assert runs.status is Status.STOP
    assert runs.value == 2.0


def test_a_collar_wider_than_a_small_opening_goes_round_in_its_window(by_code, layout_of):
    """Rough .48 x .48, cut .25, guide .50: the window is .48 + .50 - .25 = .73, and the collar goes into it."""
    small = 'shape = "rounded rectangle"\nwidth = ".5"\nheight = ".5"\nradius = ".15"\ncenter = ["4", "3"]'
    cutter = {"cutter__cut_width": ".25", "cutter__guide": ".5", "cutter__filing_allowance": ".010"}
    found = by_code("plain", opening=small, **cutter)
    assert "T100" not in found
    assert found["T101"].status is Status.PASS
    x_min, _, x_max, _ = job_chain(layout_of("plain", opening=small, **cutter)).machinable.bounds
    assert x_max - x_min == pytest.approx(0.73)


def test_a_guide_in_the_wrong_unit_is_doubted_with_its_reason(by_code):
    """.193 x 8 = 1.54 is less than the opening: the limit there is the opening of 4.970 x 3.970."""
    (doubted,) = by_code("alder", cutter__guide="12.7").values()
    assert "wider than the whole opening, 4.970 x 3.970, and 66 times as wide as its own cut" in advice_of(
        doubted
    )
    assert "T100" not in by_code("alder", cutter__guide="4.9")


def test_cutter_as_wide_as_the_opening(by_code):
    findings = by_code("alder", cutter__cut_width="4.0", cutter__guide="4.5")
    assert list(findings) == ["T100"]
    assert findings["T100"].status is Status.STOP
    assert "smaller" in advice_of(findings["T100"])


def test_plug_guide_smaller_than_the_cut(by_code):
    findings = by_code("dogwood", cutter__guide=".200")
    assert list(findings) == ["T100"]
    assert "into the template" in advice_of(findings["T100"])


def test_a_job_without_a_cutter_has_no_findings(layout_of, alder):
    from hatchwright.layout.lay_out import lay_out

    assert template_findings(lay_out(alder.model_copy(update={"cutter": None}))) == ()
