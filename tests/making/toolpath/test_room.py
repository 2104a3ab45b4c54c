"""Room on the machine: each way to leave it is named, judged on the moves of the file; sizes are plain numbers."""

from __future__ import annotations

import pytest

from hatchwright.job.machine import Machine
from hatchwright.making.template.blank import Blank
from hatchwright.making.template.part import TemplatePart
from hatchwright.making.toolpath.retrace import DrilledHole, Stroke, Trace
from hatchwright.making.toolpath.room import room_faults
from hatchwright.shapes.profile import Profile
from making.machines import TEXT
from told import what_of

USUAL = {
    "units": "in",
    "safe": ".75",
    "ramp": 5,
    "tabs": 4,
    "tab_width": ".2",
    "tab_height": ".04",
    "peck": ".1",
    "mill": "1/4",
    "pass_depth": ".05",
}
CLAMP = """
[[clamps]]
name = "left"
x_from = "-1"
x_to = "1"
y_from = "4"
y_to = "5"
height = "1/2"
"""
BLANK = Blank((10.0, 8.0), 0.125, TemplatePart(Profile(), (), None, ()), False)


def faults_of(*actions, travel='["60 in", "40 in", "4 in"]', blank_at='["1 in", "1 in"]', clamps=""):
    text = (
        TEXT.format(**USUAL)
        .replace('["60 in", "40 in", "4 in"]', travel)
        .replace('["1 in", "1 in"]', blank_at)
    )
    shop = Machine.read(text + clamps)
    return room_faults(Trace("in", 2, 1, actions, 0.75), tool_in=0.25, blank=BLANK, machine=shop)


def feed(start, end, **arc):
    return Stroke(1, False, start, end, feed_in=1.0, **arc)


def rapid(start, end):
    return Stroke(1, True, start, end)


def test_a_path_with_room_has_no_fault():
    assert faults_of(feed((2, 2, -0.1), (8, 2, -0.1)), clamps=CLAMP) == ()


@pytest.mark.parametrize(
    ("stroke", "over"),
    [
        (feed((2, 2, -0.1), (9.876, 2, -0.1)), ".001"),
        (feed((2, 2, -0.1), (2, 0.1, -0.1)), ".025"),
        (
            feed((8.5, 3, -0.1), (8.5, 5, -0.1), center=(8.5, 4.0), sweep_rad=3.141592653589793),
            None,
        ),
        (feed((9.5, 3, -0.1), (9.5, 5, -0.1), center=(9.5, 4.0), sweep_rad=3.141592653589793), ".625"),
    ],
)
def test_a_path_that_leaves_the_blank_is_named(stroke, over):
    found = faults_of(stroke)
    if over is None:
        assert found == ()
        return
    (fault,) = found
    assert fault.field == "template.blank"
    assert f"leaves the blank by {over} in" in what_of(fault)


def test_moves_above_the_blank_may_leave_it():
    assert faults_of(rapid((2, 2, 0.75), (12, 2, 0.75)), feed((2, 2, -0.1), (3, 2, -0.1))) == ()


@pytest.mark.parametrize(
    ("travel", "blank_at", "field", "words"),
    [
        ('["8.5", "40", "4"]', '["1", "1"]', "travel.0", "along X by .500 in"),
        ('["60", "2.9", "4"]', '["1", "1"]', "travel.1", "along Y by .100 in"),
        ('["60", "40", ".8"]', '["1", "1"]', "travel.2", "up and down by .850 in"),
    ],
)
def test_a_path_that_leaves_the_travel_is_named(travel, blank_at, field, words):
    found = faults_of(
        rapid((2, 2, 0.75), (8, 2, 0.75)), feed((8, 2, 0.75), (8, 2, -0.1)), travel=travel, blank_at=blank_at
    )
    assert [(fault.field, words in what_of(fault)) for fault in found] == [(field, True)]


def test_a_path_through_the_spoil_board_is_named():
    """Blank .125 on a board of .500: .624 deep stays in the board, .625 comes out of it."""
    assert faults_of(DrilledHole(1, (2.0, 2.0), 0.75, 0.1, -0.624, None, 1.0)) == ()
    (fault,) = faults_of(DrilledHole(1, (2.0, 2.0), 0.75, 0.1, -0.625, None, 1.0))
    assert fault.field == "spoil_board"


@pytest.mark.parametrize(
    ("stroke", "hits"),
    [
        (feed((2, 4.5, -0.1), (1.251, 4.5, -0.1)), False),
        (feed((2, 4.5, -0.1), (1.249, 4.5, -0.1)), True),
        (feed((0.5, 2, -0.1), (0.5, 3.749, -0.1)), False),
        (feed((0.5, 2, -0.1), (0.5, 3.751, -0.1)), True),
        (feed((0.3, 3, -0.1), (3, 6, -0.1)), True),
        (rapid((0.5, 2, 0.7), (0.5, 7, 0.7)), False),
        (rapid((0.5, 2, 0.6), (0.5, 7, 0.6)), True),
        (feed((2.5, 4, -0.1), (2.5, 5, -0.1), center=(2.5, 4.5), sweep_rad=-3.141592653589793), False),
        (feed((1.7, 4, -0.1), (1.7, 5, -0.1), center=(1.7, 4.5), sweep_rad=-3.141592653589793), True),
    ],
)
def test_a_path_into_a_clamp_is_named(stroke, hits):
    """The clamp ends at X 1 and begins at Y 4, stands .5 high; half a tool of 1/4 and 1/8 beside it must be free."""
    found = faults_of(stroke, clamps=CLAMP)
    assert [fault.field for fault in found] == (["clamps (left)"] if hits else [])
