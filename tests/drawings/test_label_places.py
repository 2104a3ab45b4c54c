"""Labels beside crowded holes: clear of holes and of each other, and always the same."""

from __future__ import annotations

import math
from itertools import combinations, pairwise

import hypothesis.strategies as st
import pytest
from hypothesis import given, settings
from shapely.geometry import LineString, Point, box

from hatchwright.drawings.ink import Box
from hatchwright.drawings.label_places import Spot, label_places, spread
from hatchwright.shapes.outlines import rounded_rectangle

WIDE, HIGH, CLEAR = 0.15, 0.09, 0.08


def boxes(places):
    return [Box(x - WIDE / 2, y - HIGH / 2, x + WIDE / 2, y + HIGH / 2) for x, y in places]


def middles(labels):
    return [label.middle for label in labels]


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
    places = middles(label_places(spots(points)))
    assert overlaps(points, places) == 0
    for at, place in zip(points, places, strict=True):
        own = (at[0] - place[0]) ** 2 + (at[1] - place[1]) ** 2
        assert all((x - place[0]) ** 2 + (y - place[1]) ** 2 > own for x, y in points if (x, y) != at)


def test_a_single_row_at_three_diameters_can_be_read():
    points = [(0.3 * k, 0.0) for k in range(20)]
    assert overlaps(points, middles(label_places(spots(points)))) == 0


def test_labels_keep_off_what_must_be_read_and_off_edges():
    edge = rounded_rectangle(width_in=4.0, height_in=3.0, radius_in=0.5, center=(0.0, 0.0))
    (free,) = middles(label_places(spots([(1.8, 0.0)])))
    (beside,) = middles(label_places(spots([(1.8, 0.0)]), edges=[edge]))
    (kept,) = middles(label_places(spots([(1.8, 0.0)]), keep_off=boxes([beside]), edges=[edge]))
    assert abs(free[0] - 2.0) < WIDE / 2 + 0.01
    assert abs(beside[0] - 2.0) > WIDE / 2
    assert not boxes([kept])[0].touches(boxes([beside])[0])


def test_no_holes_need_no_labels():
    assert label_places([]) == []


def test_a_hole_in_a_narrow_frame_gets_its_number_at_the_end_of_a_leader():
    frame = rounded_rectangle(width_in=0.4, height_in=0.4, radius_in=0.05, center=(0.0, 0.0))
    (label,) = label_places(spots([(0.0, 0.0)]), edges=[frame])
    (start, end), (x, y) = label.leader, label.middle
    assert math.hypot(*start) == pytest.approx(CLEAR)
    assert max(abs(x) - WIDE / 2, abs(y) - HIGH / 2) > 0.2
    assert boxes([label.middle])[0].grown(0.02).touches(Box(*end, *end))
    assert not boxes([label.middle])[0].touches(Box(*end, *end))


def test_a_label_without_room_is_left_off_and_not_laid_on_anything():
    far = [Box(-9.0, -9.0, 9.0, 9.0)]
    assert label_places(spots([(0.0, 0.0)]), keep_off=far) == [None]
    crowd = [(0.02 * k, 0.02 * k) for k in range(30)]
    shown = [label.middle for label in label_places(spots(crowd)) if label]
    assert 0 < len(shown) < len(crowd)
    assert not any(one.touches(other) for one, other in combinations(boxes(shown), 2))


@pytest.mark.property
@settings(deadline=None, max_examples=100)
@given(st.lists(st.tuples(st.floats(-3, 3), st.floats(-3, 3)), min_size=1, max_size=60))
def test_whatever_the_holes_no_label_or_leader_lies_on_a_hole_or_a_label(points):
    labels = label_places(spots(points))
    assert labels == label_places(spots(points))
    shown = [(k, label) for k, label in enumerate(labels) if label]
    rects = {k: box(*boxes([label.middle])[0]) for k, label in shown}
    leaders = {k: LineString(label.leader) for k, label in shown if label.leader}
    discs = [Point(at).buffer(CLEAR - 1e-6, quad_segs=64) for at in points]
    for k, rect in rects.items():
        assert not any(rect.intersects(disc) for disc in discs)
        assert not any(rect.intersects(other) for j, other in rects.items() if j != k)
        assert not any(rect.intersects(line) for j, line in leaders.items() if j != k)
    for k, line in leaders.items():
        assert not any(line.intersects(disc) for j, disc in enumerate(discs) if j != k)
        assert not any(line.crosses(other) for j, other in leaders.items() if j != k)


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
