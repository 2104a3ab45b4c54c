"""Places of a ring among boxes, held to shapely: its distances between polygons, and its shifts on a fine grid."""

from __future__ import annotations

import math
import random

import numpy as np
import pytest
import shapely
from shapely.affinity import translate

from hatchwright.search.proposal.place import Obstacles, least_shift, widest_shifted_in
from hatchwright.search.proposal.ring import Shape

SHAPE, STEP_IN, REACH_IN = Shape(5.0, 4.0, 0.75), 0.005, 1.0


def among(seed: int, count: int = 45) -> Obstacles:
    rng, boxes = random.Random(seed), []
    while len(boxes) < count:
        x, y = rng.uniform(-6.0, 6.0), rng.uniform(-5.0, 5.0)
        if abs(x) < 3.25 and abs(y) < 2.75:
            continue
        boxes.append((x, y, x + rng.uniform(0.05, 0.4), y + rng.uniform(0.05, 0.4)))
    kept = np.array([rng.choice((0.0, 0.125, 0.25)) for _ in boxes])
    return Obstacles(np.array(boxes), kept, tuple(map(str, range(count))))


def ring(width_in: float) -> shapely.Polygon:
    straight = shapely.box(-SHAPE.half_x_in, -SHAPE.half_y_in, SHAPE.half_x_in, SHAPE.half_y_in)
    return straight.buffer(SHAPE.radius_in + width_in, quad_segs=256)


def room_in(obstacles: Obstacles, outer: shapely.Polygon, shift: tuple[float, float]) -> float:
    moved = translate(outer, *shift)
    rest = zip(obstacles.boxes, obstacles.kept_in, strict=True)
    return min(shapely.distance(moved, shapely.box(*box)) - kept for box, kept in rest)


@pytest.mark.parametrize("seed", range(12))
def test_the_least_shift_has_room_and_none_of_a_grid_is_shorter(seed):
    obstacles, width_in = among(seed), 0.55 + 0.05 * (seed % 4)
    outer = ring(width_in)
    found = least_shift(obstacles, SHAPE, width_in, REACH_IN, STEP_IN)
    grid = np.arange(-REACH_IN, REACH_IN + 1e-9, 0.05)
    tried = sorted(((x, y) for x in grid for y in grid), key=lambda one: math.hypot(*one))
    clear = next(
        (one for one in tried if math.hypot(*one) <= REACH_IN and room_in(obstacles, outer, one) > 1e-4), None
    )
    if found is None:
        assert clear is None
        return
    assert room_in(obstacles, outer, found) >= -1e-4  # of the polygon's chords
    assert all(abs(by / STEP_IN - round(by / STEP_IN)) < 1e-6 for by in found)
    if clear is not None:  # rounded to the step, it may be longer than the exact one by a step and a half
        assert math.hypot(*found) <= math.hypot(*clear) + 1.5 * STEP_IN


@pytest.mark.parametrize("seed", range(6))
def test_the_widest_ring_has_a_place_and_one_a_step_wider_none(seed):
    obstacles = among(seed)
    widest_in = widest_shifted_in(obstacles, SHAPE, REACH_IN, STEP_IN)
    assert least_shift(obstacles, SHAPE, widest_in, REACH_IN, STEP_IN) is not None
    assert least_shift(obstacles, SHAPE, widest_in + STEP_IN, REACH_IN, STEP_IN) is None
    assert widest_in >= obstacles.widest_in(SHAPE)


def test_between_flanges_without_end_the_ring_is_shifted_to_where_both_are_clear():
    boxes = np.array([(-math.inf, -math.inf, -3.4, math.inf), (4.0, -math.inf, math.inf, math.inf)])
    flanges = Obstacles(boxes, np.full(2, 0.125), ("inboard", "outboard"))
    assert flanges.widest_in(SHAPE) == pytest.approx(0.775)
    # Room 7.4 less 2 x .125, opening 5.00: (7.15 - 5.00) / 2
    assert widest_shifted_in(flanges, SHAPE, 1.0, STEP_IN) == pytest.approx(1.075)
    assert least_shift(flanges, SHAPE, 1.0, 1.0, STEP_IN) == pytest.approx((0.225, 0.0))
