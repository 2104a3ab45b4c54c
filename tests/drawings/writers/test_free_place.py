"""Ink in a box: lines that pass through it, circles round it, and boxes that only the box of the ink touches."""

from __future__ import annotations

import pytest

from hatchwright.drawings.boxes import Box
from hatchwright.drawings.ink import Circle, Layer, Line, Outline, Text
from hatchwright.drawings.writers.tile_pages import is_free
from writers.sheets import rounded

BOX = Box(1.0, 1.0, 2.0, 1.2)


def line(*points):
    return Line(points, Layer.CHECK)


@pytest.mark.parametrize(
    ("part", "free"),
    [
        (line((1.5, 0.0), (1.5, 3.0)), False),
        (line((0.0, 0.0), (3.0, 2.2)), False),  # through it at a slant, no end in it
        (line((0.0, 0.9), (3.0, 3.0)), True),  # above it: at X 1 it is at Y 1.6
        (line((0.5, 0.5), (0.5, 3.0), (3.0, 3.0)), True),
        (Outline(rounded(0, 0, 5, 5, 1.0), Layer.TEMPLATE), True),  # far round it
        (Outline(rounded(1.5, 0, 5, 5, 0.1), Layer.TEMPLATE), False),
        (Circle((1.5, 1.6), 0.79, Layer.DRILL_PILOT), True),  # .395 from a middle that is .4 above it
        (Circle((1.5, 1.6), 0.81, Layer.DRILL_PILOT), False),
        (Text((1.9, 1.1), "X"), False),
        (Text((2.1, 1.1), "X"), True),
    ],
)
def test_ink_in_a_box(part, free):
    assert is_free(BOX, [part]) is free
