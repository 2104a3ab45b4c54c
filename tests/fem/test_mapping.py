"""The mapped grid."""

from __future__ import annotations

import numpy as np
import pytest

from hatchwright.errors import SolveError
from hatchwright.fem.curve import Curve
from hatchwright.fem.element import gauss_points, shape_slopes, slopes_in_plane
from hatchwright.fem.mapping import map_grid, star_center
from hatchwright.fem.stations import Fineness
from hatchwright.shapes.outlines import circle, d_shape, polygon, rounded_rectangle

OPENING = rounded_rectangle(width_in=5, height_in=4, radius_in=0.75)
DOUBLER = rounded_rectangle(width_in=7, height_in=6, radius_in=1.0)
PANEL = rounded_rectangle(width_in=12, height_in=10, radius_in=0)


def grid_of(*loops, cap_in=0.35, **fineness):
    return map_grid(
        tuple(Curve.of(loop) for loop in loops), fineness=Fineness(**fineness), cap_in=cap_in, where="sheet"
    )


def area(grid):
    at, weight = gauss_points(3)
    return float((slopes_in_plane(grid.elements(), shape_slopes(at))[1] * weight).sum())


@pytest.mark.parametrize(
    "loops",
    [
        (OPENING, DOUBLER, PANEL),
        (circle(diameter_in=4), DOUBLER, PANEL),
        (d_shape(width_in=5, height_in=4, radius_in=0.6), DOUBLER, PANEL),
        (OPENING, rounded_rectangle(width_in=7, height_in=6, radius_in=0), PANEL),
        (rounded_rectangle(width_in=3.7, height_in=2.7, radius_in=0.5), DOUBLER),
        (rounded_rectangle(width_in=3, height_in=2, radius_in=0.5, center=(2.5, -1.8)), PANEL),
    ],
)
def test_a_grid_fills_the_sheet_and_every_element_is_the_right_way_round(loops):
    grid = grid_of(*loops)
    at, _ = gauss_points(3)
    assert (slopes_in_plane(grid.elements(), shape_slopes(at))[1] > 0).all()
    metal = abs(loops[-1].area_sq_in) - abs(loops[0].area_sq_in)
    assert area(grid) == pytest.approx(metal, rel=2e-4)


def test_grid_lines_lie_on_the_loops():
    grid = grid_of(OPENING, DOUBLER, PANEL)
    doubler = grid.nodes[grid.zones[1]]
    inset = np.abs(doubler) - np.array([3.5, 3.0]) + 1.0
    outside = np.hypot(*np.maximum(inset, 0).T) + np.minimum(inset.max(axis=1), 0) - 1.0
    assert outside == pytest.approx(0, abs=1e-9)


def test_the_corners_of_the_panel_are_nodes():
    outer = grid_of(OPENING, DOUBLER, PANEL).nodes[-1, ::2]
    for corner in [(6, 5), (-6, 5), (-6, -5), (6, -5)]:
        assert np.hypot(*(outer - corner).T).min() < 1e-9


def test_a_notched_opening_is_mapped_from_a_point_that_sees_all_of_it():
    notched = polygon([(0, 0), (4, 0), (4, 1.6), (1.6, 1.6), (1.6, 4), (0, 4)], 0.3)
    center = star_center((Curve.of(notched),), where="sheet")
    assert (center > 0).all()
    assert (center < 1.6).all()
    grid = grid_of(
        notched, rounded_rectangle(width_in=9, height_in=9, radius_in=0, center=(1, 1)), cap_in=np.inf
    )
    assert area(grid) == pytest.approx(81 - abs(notched.area_sq_in), rel=1e-3)


def test_an_opening_that_no_point_sees_whole_is_refused():
    channel = polygon([(0, 0), (6, 0), (6, 4), (4.5, 4), (4.5, 1.5), (1.5, 1.5), (1.5, 4), (0, 4)], 0.2)
    with pytest.raises(SolveError, match=r"sheet: its edges can't all be seen.*Split the opening"):
        grid_of(channel, rounded_rectangle(width_in=20, height_in=20, radius_in=0, center=(3, 2)))


@pytest.mark.property
@pytest.mark.parametrize("seed", range(60))
def test_random_off_center_openings_can_be_mapped(seed):
    random = np.random.default_rng(seed)
    width, height = random.uniform(1.5, 7, 2)
    opening = rounded_rectangle(
        width_in=width,
        height_in=height,
        radius_in=random.uniform(0.1, 0.5) * min(width, height),
        center=(random.uniform(-1, 1) * (5.6 - width / 2), random.uniform(-1, 1) * (4.6 - height / 2)),
    )
    grid = grid_of(opening, PANEL, cap_in=np.inf)
    assert area(grid) == pytest.approx(120 - opening.area_sq_in, rel=2e-3)
