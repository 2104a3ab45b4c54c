"""Cells painted from edges against true distances and membership of each cell's middle."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from shapely import Polygon, contains_xy, distance, points

from hatchwright.drawings.boxes import Box
from hatchwright.drawings.plate_room import Cells
from hatchwright.shapes.outlines import rounded_rectangle
from hatchwright.shapes.pieces import joined
from hatchwright.shapes.profile import Loop

CHORD_IN = 1e-5


def _middles(cells: Cells) -> tuple[np.ndarray, np.ndarray]:
    columns, rows = cells.shape
    x = cells.box.left + cells.cell_in * (np.arange(columns) + 0.5)
    y = cells.box.bottom + cells.cell_in * (np.arange(rows) + 0.5)
    return np.meshgrid(x, y, indexing="ij")


@settings(deadline=None, max_examples=40)
@example(width=4.28515625, height=0.5, corner=0.080078125, turn=2.250360268306814, hole=0.125, cell_in=0.1)
@given(
    width=st.floats(0.5, 6.0),
    height=st.floats(0.5, 4.0),
    corner=st.floats(0.0, 0.24),
    turn=st.floats(0.0, 3.0),
    hole=st.floats(0.05, 0.2),
    cell_in=st.sampled_from((0.025, 0.1)),
)
def test_cells_against_shapely(
    width: float, height: float, corner: float, turn: float, hole: float, cell_in: float
) -> None:
    """Shapely is the independent reference; only cells that its chords can't tell are left out."""
    turned = np.array([[np.cos(turn), -np.sin(turn)], [np.sin(turn), np.cos(turn)]])
    outer = rounded_rectangle(width_in=width, height_in=height, radius_in=corner).transformed(turned)
    inner = Loop(np.array([(-hole, 0.0, -1.0), (hole, 0.0, -1.0)]))
    edges = joined((outer.working_form(), inner.working_form()))
    shape = Polygon(outer.points(CHORD_IN), [inner.points(CHORD_IN)])
    cells = Cells(Box(-2.0, -2.2, 3.0, 1.4), cell_in=cell_in)
    x, y = _middles(cells)
    off = distance(points(x, y), shape.boundary)
    sure = off > cell_in**2 / hole  # the rise of a chord of half a cell on the sharpest arc, with room
    assert np.array_equal(cells.within(edges)[sure], contains_xy(shape, x, y)[sure])
    reach_in = 1.6 * cell_in
    near = cells.near(edges, reach_in)
    assert near[off < reach_in - CHORD_IN].all()
    assert not near[off > reach_in + cell_in / 4.0 + CHORD_IN].any()


@pytest.mark.parametrize("reach_in", [0.04, 0.27, 0.31, 0.4])
def test_discs_hold_the_cells_whose_middle_is_in_reach_and_stay_on_the_face(reach_in: float) -> None:
    cells = Cells(Box(0.0, 0.0, 2.0, 1.0), cell_in=0.1)
    x, y = _middles(cells)
    centers = np.array([1.03 + 0.48j, 0.013 - 0.02j, 2.1 + 1.104j, 9.0 + 9.0j])
    off = np.abs((x + 1j * y)[..., None] - centers)
    assert np.array_equal(cells.discs(centers, reach_in), (off < reach_in).any(axis=-1))
    for k, one in enumerate(centers):
        assert np.array_equal(cells.discs(centers[k : k + 1], reach_in), np.abs(x + 1j * y - one) < reach_in)


@pytest.mark.parametrize("box", [Box(-1.0, -1.0, -0.5, -0.2), Box(3.0, 3.0, 4.0, 4.0)])
def test_a_box_beside_the_face_touches_no_cell(box: Box) -> None:
    cells = Cells(Box(0.0, 0.0, 2.0, 1.0), cell_in=0.1)
    assert not np.zeros(cells.shape)[cells.under(box)].size
