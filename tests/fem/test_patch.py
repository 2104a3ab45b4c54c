"""Discs that stand for fasteners."""

from __future__ import annotations

import numpy as np
import pytest

from fem.test_mapping import DOUBLER, OPENING, PANEL, grid_of
from hatchwright.fem.element import shapes
from hatchwright.fem.grid import locate
from hatchwright.fem.patch import patch_means


def test_points_are_found_where_they_are():
    grid = grid_of(OPENING, DOUBLER, PANEL)
    points = np.random.default_rng(4).uniform([-5.9, -4.9], [5.9, 4.9], (2000, 2))
    line, layer, local = locate(grid.elements(), points)
    found = (shapes(local)[:, None] @ grid.elements()[line, layer])[:, 0]
    beyond = grid.find(points).beyond
    cut = np.maximum(np.abs(points) - [1.75, 1.25], 0)
    inside_opening = np.hypot(*cut.T) < 0.749
    assert found[~beyond] == pytest.approx(points[~beyond], abs=1e-8)
    assert beyond[inside_opening].all()
    assert not beyond[np.hypot(*cut.T) > 0.751].any()


def test_means_are_exact_for_linear_and_quadratic_fields():
    grid = grid_of(OPENING, DOUBLER, PANEL)
    centers, radius = np.array([[3.0, 0.4], [-2.9, 2.2]]), np.array([0.2, 0.15])
    x, y = np.moveaxis(grid.nodes.reshape(-1, 2), -1, 0)
    means = patch_means(grid, centers, radius)
    assert means @ np.stack([x, y], axis=1) == pytest.approx(centers)
    squares = means @ np.stack([x**2, y**2], axis=1)
    assert squares == pytest.approx(centers**2 + radius[:, None] ** 2 / 4, rel=2e-4)


def test_no_fasteners_no_rows():
    grid = grid_of(OPENING, PANEL, cap_in=np.inf)
    assert patch_means(grid, np.zeros((0, 2)), np.zeros(0)).shape[0] == 0
