"""The page seen from outside: where each direction of the aircraft lies on it.

The expected places come from the aircraft's own axes in space, not from the code: forward, left and up are
right-handed, the outward normal n of the skin points at the eye, and to the right of an upward u lies u x n.
"""

from __future__ import annotations

import numpy as np
import pytest

from hatchwright.drawings.boxes import Box
from hatchwright.drawings.marks import cross
from hatchwright.drawings.page_frame import PageFrame, aircraft_words, rectangle, side_word
from hatchwright.job.frame import FrameEntry, make_frame
from hatchwright.shapes.outlines import rounded_rectangle

SPACE = {"FWD": (1, 0, 0), "LEFT": (0, 1, 0), "UP": (0, 0, 1)}
SPACE |= {
    other: tuple(-v for v in SPACE[word])
    for word, other in (("FWD", "AFT"), ("LEFT", "RIGHT"), ("UP", "DOWN"))
}
FACES = [
    ("lower", "left", "DOWN", "FWD"),
    ("lower", "right", "DOWN", "FWD"),
    ("upper", "left", "UP", "FWD"),
    ("upper", "right", "UP", "FWD"),
    ("lower", "center", "DOWN", "FWD"),
    ("side", "left", "LEFT", "UP"),
    ("side", "right", "RIGHT", "UP"),
]


def in_space(word, side):
    if word in ("OUTBD", "INBD"):
        out = SPACE["LEFT" if side == "left" else "RIGHT"]
        return np.array(out if word == "OUTBD" else [-v for v in out])
    return np.array(SPACE[word])


@pytest.mark.parametrize(("surface", "side", "normal", "page_up"), FACES)
def test_every_direction_lies_on_the_page_as_it_is_seen(surface, side, normal, page_up):
    up = np.array(SPACE[page_up])
    right = np.cross(up, SPACE[normal])
    words = ("FWD", "AFT", "UP", "DOWN") if surface == "side" else ("FWD", "AFT", "OUTBD", "INBD")
    if side == "center":
        words = ("FWD", "AFT", "LEFT", "RIGHT")
    for x_word in words:
        for y_word in words:
            x_axis, y_axis = in_space(x_word, side), in_space(y_word, side)
            if abs(x_axis @ y_axis):
                continue
            entry = FrameEntry(origin="two rows", x=x_word, y=y_word)
            page = PageFrame(make_frame(entry, side=side, surface=surface))
            place = 2.0 * x_axis + 5.0 * y_axis
            assert page.point(2.0, 5.0) == (place @ right, place @ up)


def page_of(side, x="OUTBD", y="AFT"):
    return PageFrame(make_frame(FrameEntry(origin="two rows", x=x, y=y), side=side, surface="lower"))


def test_a_loop_keeps_its_region_on_its_left_on_both_sides():
    loop = rounded_rectangle(width_in=5.0, height_in=4.0, radius_in=0.75, center=(5.5, 4.5))
    for side, x_min in (("left", 3.0), ("right", -8.0)):
        drawn = page_of(side).loop(loop)
        assert drawn.area_sq_in == pytest.approx(loop.area_sq_in, abs=1e-12)
        assert drawn.bounds == (x_min, -6.5, x_min + 5.0, -2.5)


def test_boxes_and_axes_turn_with_the_frame():
    assert page_of("right").box((2.0, 1.5, 9.0, 7.5)) == Box(-9.0, -7.5, -2.0, -1.5)
    assert page_of("left").x_is_level
    assert not page_of("left", x="FWD", y="OUTBD").x_is_level
    assert page_of("left").axes_deg() == (("X OUTBD", 0.0), ("Y AFT", -90.0))
    assert page_of("right").axes_deg() == (("X OUTBD", 180.0), ("Y AFT", -90.0))


def test_the_title_block_names_side_aircraft_and_view(alder):
    block = PageFrame(alder.frame).sheet(alder, "any", cross((0.0, 0.0), 1.0), date="today").title_block
    assert (block.side, block.aircraft, block.view) == (
        "LEFT",
        "EXAMPLE-1, s/n 0001",
        "LOWER SKIN, SEEN FROM OUTSIDE",
    )
    assert block.directions == (("FWD", 90.0), ("OUTBD", 0.0))
    nameless = alder.model_copy(
        update={
            "aircraft": alder.aircraft.model_copy(update={"registration": "", "serial": "", "side": "right"})
        }
    )
    assert aircraft_words(nameless) == "not named"
    assert side_word(nameless) == "RIGHT"


def test_a_rectangle_runs_left_about():
    assert rectangle(Box(0.0, 0.0, 2.0, 3.0)).area_sq_in == 6.0
