"""The eight-node quadrilateral: consistency and the patch test on a curved, graded grid."""

from __future__ import annotations

import numpy as np
import pytest

from fem.test_mapping import DOUBLER, OPENING, PANEL, grid_of
from hatchwright.fem.element import elasticity, quad_stiffness, shape_slopes, shapes
from hatchwright.fem.grid import gather
from hatchwright.fem.sheet import edge_loads


def test_shape_functions_are_one_at_their_own_node_and_add_up_to_one():
    at = np.array([[-1, -1], [1, -1], [1, 1], [-1, 1], [0, -1], [1, 0], [0, 1], [-1, 0]], dtype=float)
    assert shapes(at) == pytest.approx(np.eye(8))
    inside = np.random.default_rng(1).uniform(-1, 1, (20, 2))
    assert shapes(inside).sum(axis=1) == pytest.approx(1)


def test_slopes_are_those_of_the_shape_functions():
    at, step = np.random.default_rng(2).uniform(-1, 1, (20, 2)), 1e-6
    for axis in (0, 1):
        shift = step * np.eye(2)[axis]
        assert shape_slopes(at)[:, axis] == pytest.approx(
            (shapes(at + shift) - shapes(at - shift)) / 2 / step, abs=1e-8
        )


@pytest.mark.parametrize("strain", np.eye(3))
def test_patch_test_constant_strain_is_carried_exactly(strain):
    """Nodal forces of a linear displacement field are nought inside and those of its tractions on the outer edge."""
    grid, nu = grid_of(OPENING, DOUBLER, PANEL), 0.33
    x, y = np.moveaxis(grid.nodes, -1, 0)
    moved = np.stack([strain[0] * x + strain[2] / 2 * y, strain[1] * y + strain[2] / 2 * x], axis=-1)
    own = gather(moved).reshape(grid.lines, grid.layers, 16, 1)
    force = (quad_stiffness(grid.elements(), poisson_ratio=nu) @ own).reshape(grid.lines, grid.layers, 8, 2)
    number = gather(np.arange(x.size, dtype=float).reshape(*x.shape, 1))[..., 0].astype(int)
    total = np.zeros((x.size, 2))
    np.add.at(total, number, force)
    total = total.reshape(grid.nodes.shape)
    wanted = edge_loads(grid)[grid.rim] @ (elasticity(nu) @ strain)
    assert total[1:-1] == pytest.approx(0, abs=1e-12)
    assert total[-1] == pytest.approx(wanted, abs=1e-12)


def test_a_rigid_motion_costs_nothing():
    nodes = grid_of(OPENING, PANEL, cap_in=np.inf).elements()[:3, :3]
    turn = np.stack([-nodes[..., 1], nodes[..., 0]], axis=-1).reshape(3, 3, 16, 1)
    assert quad_stiffness(nodes, poisson_ratio=0.3) @ turn == pytest.approx(0, abs=1e-12)
