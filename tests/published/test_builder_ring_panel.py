"""An amateur-built wing inspection opening in a builder's log: opening 5.5, ring 6.5 outside and 4.5 inside.

A flange of .5 on each side of the edge leaves .25 when the holes stand in its middle: 2 D for a 1/8 rivet, 1.8 D for a
No. 6 screw. The flange widths were worked out from the log's sizes. Tolerance: none but the arithmetic's.
"""

from __future__ import annotations

from hatchwright.job.file import read_job
from hatchwright.judged import Status
from hatchwright.workflow.examine import examine
from told import subject_of

JOB = """
schema = 2
title = "ring panel"
aircraft = { side = "left", surface = "lower" }
frame = { origin = "here", x = "OUTBD", y = "AFT" }
skin = { alloy = "2024", temper = "T3", clad = true, thickness = ".025", stressed = true }
opening = { shape = "circle", diameter = "5.5", center = ["0", "0"] }
rows = [
  { name = "ring", lay = "offset", rivet = "MS20470AD4", edge = "opening", distance = ".25", pitch = "1.5" },
]

[doubler]
alloy = "2024"
temper = "T3"
clad = true
thickness = ".032"
outer = { shape = "circle", diameter = "6.5" }
inner = { shape = "circle", diameter = "4.5" }

[cover]
alloy = "2024"
temper = "T3"
clad = true
thickness = ".025"
fit = "flush"
gap = "0"
screws = { size = "6-32", head = "100 degree flush", nut = "two-lug nutplate", inset = ".25", pitch = "1.5" }
"""


def test_a_half_inch_flange_is_two_diameters_for_the_rivet_and_short_for_the_screw():
    findings = examine(read_job(JOB)).findings
    rivets = [f for f in findings if f.code == "R101"]
    assert {round(f.value, 9) for f in rivets if "inner" not in subject_of(f)} == {0.25}
    assert {f.status for f in rivets} == {Status.PASS}
    screws = [f for f in findings if f.code == "R103"]
    assert {round(f.value / 0.138, 1) for f in screws if "outer" not in subject_of(f)} == {1.8}
    assert Status.CAUTION in {f.status for f in screws}


def test_the_rivets_stand_farther_apart_than_any_document_allows():
    (pitch,) = {f.status for f in examine(read_job(JOB)).findings if f.code == "R207"}
    assert pitch is Status.UNKNOWN
