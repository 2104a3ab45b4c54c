"""A wrong answer is refused: what happens when the stitching is made to go wrong on purpose."""

from __future__ import annotations

import numpy as np
import pytest

from hatchwright.errors import GeometryError
from hatchwright.shapes import boolean, offset
from hatchwright.shapes.outlines import circle, rounded_rectangle
from hatchwright.shapes.pieces import joined, pieces_between, pieces_of
from hatchwright.shapes.profile import Loop, profile_of
from hatchwright.shapes.stitching import stitch

PLATE = profile_of(rounded_rectangle(width_in=10.0, height_in=6.0, radius_in=1.0), circle(diameter_in=2.0))


def without_the_last_loop(parts):
    return stitch(parts)[:-1]


def moved_by_a_ten_millionth(parts):
    return tuple(loop.transformed(np.eye(2), (1e-7, 0.0)) for loop in stitch(parts))


def with_nothing_left(parts):
    return ()


@pytest.mark.parametrize("broken", [without_the_last_loop, moved_by_a_ten_millionth, with_nothing_left])
@pytest.mark.parametrize("distance_in", [0.25, -0.25])
def test_a_wrong_offset_is_refused(monkeypatch, broken, distance_in):
    monkeypatch.setattr(offset, "stitch", broken)
    with pytest.raises(GeometryError, match="failed its own check") as refusal:
        offset.offset(PLATE, distance_in)
    assert refusal.value.place is not None


@pytest.mark.parametrize("combine", [boolean.union, boolean.difference, boolean.intersection])
def test_a_wrong_boolean_is_refused(monkeypatch, combine):
    monkeypatch.setattr(boolean, "stitch", without_the_last_loop)
    with pytest.raises(GeometryError, match="failed its own check"):
        combine(PLATE, profile_of(rounded_rectangle(width_in=4.0, height_in=9.0, radius_in=0.5)))


def test_a_loose_end_is_refused_at_its_place():
    """Three sides of a square do not close."""
    square = pieces_of(rounded_rectangle(width_in=2.0, height_in=2.0, radius_in=0.0).rows)
    with pytest.raises(GeometryError, match="does not close") as refusal:
        stitch(square.taken(np.array([0, 1, 2])))
    assert np.abs(refusal.value.place) == pytest.approx((1.0, 1.0))


def test_a_short_tail_is_taken_off():
    square = np.array([[-1, -1, 0], [1, -1, 0], [1, 1, 0], [-1, 1, 0]], dtype=float)
    tail = pieces_between(
        np.array([1.0 + 1.0j, 1.00005 + 1.00005j]),
        np.array([1.00005 + 1.00005j, 1.00009 + 1.0j]),
        np.zeros(2),
    )
    (loop,) = stitch(joined([pieces_of(square), tail]))
    assert loop == Loop(square)


def test_an_answer_can_be_worked_on():
    """What an operation returns passes the same test as what is drawn."""
    for answer in (offset.grow(PLATE, 0.25), offset.erode(PLATE, 0.25), boolean.difference(PLATE, PLATE)):
        assert answer.checked() is answer
