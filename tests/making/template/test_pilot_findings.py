"""What is drilled through the template against the drills of the holes under it.

Diameters of number drills: #40 .0980, #51 .0670, #32 .1160, #30 .1285 (any published table of twist drills).
"""

from __future__ import annotations

import pytest

from hatchwright.judged import Status
from hatchwright.making.making import making_of
from hatchwright.making.template.findings import pilot_findings
from hatchwright.making.template.holes import template_holes
from told import subject_of

FLUSH = {"rows__7__rivet": "MS20426AD4", "rows__7__preparation": "dimple"}


@pytest.fixture
def judged(layout_of):
    def found(**changes):
        layout = layout_of("alder", **changes)
        return pilot_findings(making_of(layout))

    return found


@pytest.fixture
def sizes(layout_of):
    """Diameters of the template's holes by row."""

    def of(**changes):
        layout = layout_of("alder", **changes)
        return {one.hole.row: one.pilot_in for one in template_holes(making_of(layout))}

    return of


def test_every_hole_takes_the_pilot_of_its_own_row(sizes):
    drilled = sizes(**FLUSH, rows__7__pilot="#51")
    assert drilled.pop("forward, outer") == 0.067
    assert set(drilled.values()) == {0.098}


def test_a_dimpled_row_without_a_pilot_of_its_own_takes_that_of_the_table(sizes):
    """A #32 hole, dimpled for a 1/8 rivet, comes out as a #30."""
    assert sizes(**FLUSH)["forward, outer"] == 0.116


def test_own_pilots_pass(judged):
    (finding,) = judged(**FLUSH, rows__7__pilot="#51")
    assert (finding.code, finding.status, finding.value) == ("T106", Status.PASS, 0.098)


def test_a_pin_larger_than_the_final_hole_stops(judged):
    (finding,) = judged(template__pin="1/4")
    assert (finding.status, finding.value, finding.limit) == (Status.STOP, 0.25, 0.098)
    assert "drill #40" in subject_of(finding)
    assert {31, 38, 71, 78} <= set(finding.holes)


def test_a_pin_that_suits_one_row_stops_for_the_row_that_is_dimpled(judged):
    (finding,) = judged(**FLUSH, rows__7__pilot="#51", template__pin="#40")
    assert (finding.status, finding.value, finding.limit) == (Status.STOP, 0.098, 0.067)
    assert finding.holes == tuple(range(71, 79))
    assert judged(**FLUSH, rows__7__pilot="#51", template__pin="#51")[0].status is Status.PASS


def test_a_pin_between_pilot_and_final_stops_until_the_row_says_so(judged):
    """1/8 is larger than #40 and smaller than #30: the card would say another drill than the template has."""
    assert judged(template__pin="1/8")[0].status is Status.STOP
    rows = {f"rows__{row}__pilot": "1/8" for row in range(8)}
    assert judged(template__pin="1/8", **rows)[0].status is Status.PASS
