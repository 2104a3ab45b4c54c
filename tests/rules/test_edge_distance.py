"""R1xx: edge distance.

Limits: 2 D, [AC43.13-1B] par. 4-57 (single row); 2.5 D flush, [FAA-H-8083-31] ch. 4 fig. 4-78; both seen only restated.
"""

from __future__ import annotations

import pytest

from hatchwright.finding import Status
from hatchwright.job.file import edited, read_job
from hatchwright.layout.lay_out import lay_out
from hatchwright.layout.survey import survey
from hatchwright.rules.edge_distance import (
    edge_distance_flush,
    edge_distance_protruding,
    edge_distance_screws,
)

SIMPLE = """
schema = 1
title = "one row"
[aircraft]
side = "left"
surface = "lower"
[frame]
origin = "here"
x = "OUTBD"
y = "AFT"
[skin]
alloy = "2024"
temper = "T3"
clad = true
thickness = ".032"
stressed = true
[opening]
shape = "rounded rectangle"
width = "4"
height = "4"
radius = "1"
centre = ["0", "0"]
[[rows]]
name = "row"
lay = "points"
rivet = "MS20470AD4"
points = [["2.25", "0"]]
"""


def judged(rule, text, **changes):
    fields = {key.replace("__", "."): value for key, value in changes.items()}
    return list(rule(survey(lay_out(read_job(edited(text, fields))))))


def test_exactly_two_diameters_passes():
    (finding,) = judged(edge_distance_protruding, SIMPLE)
    assert finding.status is Status.PASS
    assert finding.value == pytest.approx(0.25)
    assert finding.limit == 0.25


def test_a_thousandth_less_stops_and_says_so():
    (finding,) = judged(edge_distance_protruding, SIMPLE, rows__0__points__0__0="2.249")
    assert finding.status is Status.STOP
    assert finding.holes == (1,)
    assert finding.shortfall == pytest.approx(0.001)
    assert "short .001" in finding.advice


def test_at_a_corner_the_distance_is_to_the_arc():
    # 45 degrees off the corner's centre (1, 1): distance = |p - c| - R = sqrt(2) * 0.9 - 1
    (finding,) = judged(
        edge_distance_protruding, SIMPLE, rows__0__points__0__0="1.9", rows__0__points__0__1="1.9"
    )
    assert finding.value == pytest.approx(2**0.5 * 0.9 - 1.0)
    assert finding.status is Status.PASS


def test_a_hole_inside_the_opening_is_off_the_metal():
    (finding,) = judged(edge_distance_protruding, SIMPLE, rows__0__points__0__0="1.5")
    assert finding.status is Status.STOP
    assert finding.value == pytest.approx(-0.5)
    assert "off the skin" in finding.advice


def test_flush_heads_need_two_and_a_half():
    (finding,) = judged(
        edge_distance_flush, SIMPLE, rows__0__rivet="MS20426AD4", rows__0__points__0__0="2.3125"
    )
    assert finding.status is Status.PASS
    (finding,) = judged(
        edge_distance_flush, SIMPLE, rows__0__rivet="MS20426AD4", rows__0__points__0__0="2.312"
    )
    assert finding.status is Status.STOP
    assert judged(edge_distance_protruding, SIMPLE, rows__0__rivet="MS20426AD4") == []


def test_screws_caution_only(alder_drawn):
    findings = list(edge_distance_screws(survey(lay_out(alder_drawn))))
    assert {finding.status for finding in findings} == {Status.PASS, Status.CAUTION}
    assert any("no source" in str(finding.grade) for finding in findings)
