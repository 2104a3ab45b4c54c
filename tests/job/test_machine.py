"""The machine file: every fault at once, each with its line and a remedy."""

from __future__ import annotations

import pytest

from hatchwright.errors import JobError
from hatchwright.job.machine import Drill, EndMill, Engraver, Machine
from tests.conftest import EXAMPLES
from tests.told import remedy_of, what_of


@pytest.fixture(scope="module")
def text():
    return (EXAMPLES / "machines" / "machine.toml").read_text(encoding="utf-8")


def faults_of(text):
    with pytest.raises(JobError) as caught:
        Machine.read(text)
    return caught.value.faults


def test_the_example_reads(text):
    machine = Machine.load(EXAMPLES / "machines" / "machine.toml")
    assert [type(tool) for tool in machine.tools] == [Drill, EndMill, Engraver]
    assert machine.tools[0].diameter.inch == 0.098
    assert machine.tool(EndMill, 0.125) is machine.tools[1]
    assert machine.tool(Drill, 0.098) is machine.tools[0]
    assert machine.tool(EndMill, 0.098) is None
    assert machine.tool(Drill, 0.125) is None
    assert machine.engraver is machine.tools[2]
    assert machine.engraver.depth.inch == 0.006
    assert [clamp.name for clamp in machine.clamps] == ["left", "right"]


def test_bare_numbers_are_in_the_unit_of_the_file(text):
    metric = (
        text.replace('units = "in"', 'units = "mm"').replace('"1/8"', '"3.175"').replace('"1/2"', '"12.7"')
    )
    for size in ('".20"', '".040"', '".010"'):  # tabs and a point that would be nothing in millimeters
        metric = metric.replace(f"width = {size}", 'width = "5"').replace(f"height = {size}", 'height = "1"')
        metric = metric.replace(f"diameter = {size}", 'diameter = "0,4"')
    machine = Machine.read(metric.replace('"3/4"', '"19.05"').replace('"1/4"', '"6.35"'))
    assert machine.tools[1].diameter.inch == 0.125
    assert machine.travel[0].inch == pytest.approx(24 / 25.4)
    assert machine.tools[0].plunge.inch == pytest.approx(6 / 25.4)


@pytest.mark.parametrize(
    ("old", "new", "field", "words"),
    [
        ("schema = 1", "schema = 7", "schema", "unknown"),
        ('units = "in"', 'units = "cm"', "units", "not one of the words"),
        ('ramp = "5"', 'ramp = "0"', "ramp", "level, or too steep"),
        ('ramp = "5"', 'ramp = "46"', "ramp", "level, or too steep"),
        ('peck = ".100"', "", "tools.0.peck", "missing"),
        ('kind = "end mill"', 'kind = "ball mill"', "tools.1", "unknown"),
        ("number = 2", "number = 1", "tools.1.number", "two tools have the same number"),
        ("spindle = 12000", "spindle = 0", "tools.1.spindle", "a whole number from 1 to 100000"),
        ('plunge = "8"', 'plunge = "-8"', "tools.1.plunge", "negative"),
        ('pass_depth = ".050"', 'pass_depth = "0"', "tools.1.pass_depth", "zero"),
        ('travel = ["24", "18", "3"]', 'travel = ["24", "18"]', "travel.2", "missing"),
        ('cut_below = ".010"', 'cut_below = ".5"', "cut_below", "through the spoil board"),
        ('approach = ".100"', 'approach = ".8"', "approach", "above the safe height"),
        ('safe_height = "3/4"', 'safe_height = ".62"', "safe_height", "above clamp left"),
        ('x_to = ".75"', 'x_to = "-1"', "clamps.0", "ends where it begins"),
        ("count = 4", "count = 0", "tabs.count", "whole number"),
        ("[tabs]", 'colour = "grey"\n[tabs]', "colour", "unknown key"),
    ],
)
def test_each_fault_names_its_field_its_line_and_a_remedy(text, old, new, field, words):
    assert text.count(old) >= 1
    fault = next(fault for fault in faults_of(text.replace(old, new, 1)) if fault.field == field)
    assert words in what_of(fault)
    assert remedy_of(fault)
    assert fault.line or field == "schema"


def test_all_faults_come_at_once(text):
    spoilt = (
        text.replace('ramp = "5"', 'ramp = "x"')
        .replace("number = 1", 'number = "x"')
        .replace('"24"', '"long"')
    )
    assert {fault.field for fault in faults_of(spoilt)} == {"ramp", "tools.0.number", "travel.0"}


@pytest.mark.parametrize(
    "text", ["", "schema = ", "schema = 1", "[]", "\0", 'schema = 1\nunits = 5\ntools = "x"']
)
def test_what_is_no_machine_file_is_refused(text):
    assert faults_of(text)
