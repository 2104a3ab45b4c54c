"""How job axes lie on a page seen from outside.

The expectations are the geometry of looking at an aircraft: from below with the nose up the page, the left wing lies on
the right of the page; from above, on the left.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from hatchwright.errors import EntryError
from hatchwright.job.file import read_job
from hatchwright.job.frame import FrameEntry, make_frame
from hatchwright.job.other_side import MirroredJob, other_side


def frame(x, y, side, surface):
    return make_frame(FrameEntry(origin="here", x=x, y=y), side=side, surface=surface)


@pytest.mark.parametrize(
    ("side", "surface", "x", "y", "x_on_page", "y_on_page"),
    [
        ("left", "lower", "OUTBD", "AFT", (1, 0), (0, -1)),
        ("right", "lower", "OUTBD", "AFT", (-1, 0), (0, -1)),
        ("left", "upper", "OUTBD", "AFT", (-1, 0), (0, -1)),
        ("right", "upper", "OUTBD", "FWD", (1, 0), (0, 1)),
        ("left", "side", "AFT", "UP", (1, 0), (0, 1)),
        ("right", "side", "AFT", "UP", (-1, 0), (0, 1)),
        ("center", "upper", "FWD", "LEFT", (0, 1), (-1, 0)),
        ("center", "lower", "FWD", "LEFT", (0, 1), (1, 0)),
        ("left", "lower", "RIGHT", "FWD", (-1, 0), (0, 1)),
    ],
)
def test_axes_on_the_page(side, surface, x, y, x_on_page, y_on_page):
    found = frame(x, y, side, surface)
    assert found.x_on_page == x_on_page
    assert found.y_on_page == y_on_page


def test_left_and_right_are_mirrors():
    left, right = frame("OUTBD", "AFT", "left", "lower"), frame("OUTBD", "AFT", "right", "lower")
    assert left.is_mirrored != right.is_mirrored
    assert left.to_page(3.0, 2.0) == (3.0, -2.0)
    assert right.to_page(3.0, 2.0) == (-3.0, -2.0)


@pytest.mark.parametrize(
    ("x", "y", "side", "surface", "field"),
    [
        ("UP", "AFT", "left", "lower", "frame.x"),
        ("FWD", "OUTBD", "left", "side", "frame.y"),
        ("FWD", "OUTBD", "center", "upper", "frame.y"),
        ("FWD", "AFT", "left", "upper", "frame.y"),
        ("FWD", "UP", "center", "side", "aircraft.side"),
    ],
)
def test_axes_that_cannot_be_are_refused(x, y, side, surface, field):
    with pytest.raises(EntryError) as caught:
        frame(x, y, side, surface)
    assert caught.value.where == field


def test_the_other_side_keeps_coordinates_and_leaves_what_was_made(alder):
    other = other_side(alder)
    assert other.aircraft.side == "right"
    assert other.as_made is None
    assert other.opening == alder.opening
    assert other_side(other).frame == alder.frame


def test_the_other_side_keeps_what_is_expected_and_drops_what_was_measured_or_answered_of_the_place():
    path = Path(__file__).parents[2] / "examples" / "alder.toml"
    text = path.read_text(encoding="utf-8").replace(
        "[gate]\n",
        '[bay.corners]\nsides = ["9", "9"]\n'
        'diagonals = ["12", "12"]\n\n[mount]\nkind = "antenna"\nbase = ["3", "3"]\nnearest_antenna = "40"\n\n[gate]\n',
    )
    job = read_job(text)
    assert job.skin.measured
    assert job.bay.corners
    assert job.mount
    assert job.mount.nearest_antenna
    other = other_side(job)
    assert isinstance(other, MirroredJob)
    assert isinstance(other.model_copy(update={"title": "again"}), MirroredJob)
    assert (other.skin.measured, other.bay.corners, other.mount.nearest_antenna) == (None, None, None)
    assert other.skin.thickness == job.skin.thickness
    assert (other.bay.rows, other.bay.keep_outs, other.rows) == (job.bay.rows, job.bay.keep_outs, job.rows)
    # answered no: open again; answered yes: expected there too; of the whole aircraft: as answered
    assert job.gate.tank_wall is False
    assert other.gate.tank_wall is None
    assert job.gate.fuel_or_controls_behind is True
    assert other.gate.fuel_or_controls_behind is True
    assert other.gate.over_12500_lb is job.gate.over_12500_lb is False


def test_a_job_on_the_center_line_has_no_other_side(dogwood):
    with pytest.raises(EntryError):
        other_side(dogwood)
