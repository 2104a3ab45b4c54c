"""Labels beside crowded holes: clear of holes and of each other, and always the same."""

from __future__ import annotations

from itertools import combinations, pairwise

import hypothesis.strategies as st
import pytest
from hypothesis import given, settings

from hatchwright.drawings.ink import Box
from hatchwright.drawings.label_places import Spot, label_places, spread
from hatchwright.shapes.outlines import rounded_rectangle

WIDE, HIGH, CLEAR = 0.15, 0.09, 0.08


def boxes(places):
    return [Box(x - WIDE / 2, y - HIGH / 2, x + WIDE / 2, y + HIGH / 2) for x, y in places]


def spots(points):
    return [Spot(at, CLEAR, WIDE, HIGH) for at in points]


def overlaps(points, places):
    holes = [Box(*at, *at).grown(CLEAR - 1e-9) for at in points]
    labels = boxes(places)
    return sum(a.touches(b) for a, b in combinations(labels, 2)) + sum(
        label.touches(hole) for label in labels for hole in holes
    )


def test_two_staggered_rows_of_eighth_inch_rivets_can_be_read():
    points = [(0.62 * k, 0.0) for k in range(12)] + [(0.31 + 0.62 * k, 0.44) for k in range(12)]
    places = label_places(spots(points), keep_off=(), edges=())
    assert overlaps(points, places) == 0
    for at, place in zip(points, places, strict=True):
        own = (at[0] - place[0]) ** 2 + (at[1] - place[1]) ** 2
        assert all((x - place[0]) ** 2 + (y - place[1]) ** 2 > own for x, y in points if (x, y) != at)


def test_a_single_row_at_three_diameters_can_be_read():
    points = [(0.3 * k, 0.0) for k in range(20)]
    assert overlaps(points, label_places(spots(points), keep_off=(), edges=())) == 0


def test_labels_keep_off_what_must_be_read_and_off_edges():
    edge = rounded_rectangle(width_in=4.0, height_in=3.0, radius_in=0.5, center=(0.0, 0.0))
    (free,) = label_places(spots([(1.8, 0.0)]), keep_off=(), edges=())
    (beside,) = label_places(spots([(1.8, 0.0)]), keep_off=(), edges=[edge])
    (kept,) = label_places(spots([(1.8, 0.0)]), keep_off=boxes([beside]), edges=[edge])
    assert abs(free[0] - 2.0) < WIDE / 2 + 0.01
    assert abs(beside[0] - 2.0) > WIDE / 2
    assert not boxes([kept])[0].touches(boxes([beside])[0])


def test_no_holes_need_no_labels():
    assert label_places([], keep_off=(), edges=()) == []


@pytest.mark.property
@settings(deadline=None, max_examples=60)
@given(st.lists(st.tuples(st.floats(-5, 5), st.floats(-5, 5)), min_size=1, max_size=40))
def test_the_same_holes_get_the_same_labels_near_by(points):
    first = label_places(spots(points), keep_off=(), edges=())
    assert first == label_places(spots(points), keep_off=(), edges=())
    reach = CLEAR + 0.12 + max(WIDE, HIGH)
    assert all(
        abs(x - u) <= reach and abs(y - v) <= reach for (x, y), (u, v) in zip(points, first, strict=True)
    )


@pytest.mark.property
@settings(deadline=None, max_examples=200)
@given(st.lists(st.floats(-50, 50), max_size=20), st.floats(0.01, 2.0))
def test_spreading_leaves_the_gap_keeps_the_order_and_moves_nothing_without_need(wanted, gap):
    spaced = spread(wanted, gap)
    order = sorted(range(len(wanted)), key=lambda k: wanted[k])
    for before, after in pairwise(order):
        assert spaced[after] - spaced[before] >= gap - 1e-9
    roomy = [3.0 * gap * k for k in range(len(wanted))]
    assert spread(roomy, gap) == pytest.approx(roomy)
    assert sum(spaced) == pytest.approx(sum(wanted), abs=1e-6)
