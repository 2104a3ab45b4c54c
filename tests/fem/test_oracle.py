"""The whole path against scikit-fem, an independent general-purpose library, on the same straight-sided grid."""

from __future__ import annotations

import numpy as np
import pytest
import skfem
from scipy.sparse.linalg import splu
from skfem.helpers import ddot, sym_grad, trace

from fem.test_mapping import DOUBLER, OPENING, PANEL, grid_of
from hatchwright.fem.grid import Grid
from hatchwright.fem.patch import patch_means
from hatchwright.fem.sheet import CASES, edge_loads, give

NU = 0.33


def straightened(grid):
    """The same grid with the middle of every side on the chord."""
    nodes = grid.nodes.copy()
    nodes[1::2, ::2] = (nodes[:-1:2, ::2] + nodes[2::2, ::2]) / 2
    nodes[::2, 1::2] = (nodes[::2, ::2] + np.roll(nodes[::2, ::2], -1, axis=1)) / 2
    return Grid(nodes, grid.zones)


@pytest.fixture(scope="module")
def both():
    """Displacements under the unit cases, less rigid motion, from either program."""
    grid = straightened(grid_of(OPENING, DOUBLER, PANEL))
    own = give(
        grid,
        patch_means(grid, np.zeros((0, 2)), np.zeros(0)),
        poisson_ratio=NU,
        loads=edge_loads(grid),
        where="sheet",
    )

    corner = grid.nodes[::2, ::2]
    rows, columns = corner.shape[:2]
    number = np.arange(rows * columns).reshape(rows, columns)
    after = np.roll(number, -1, axis=1)
    quads = np.stack([part.ravel() for part in (number[:-1], number[1:], after[1:], after[:-1])])
    mesh = skfem.MeshQuad(corner.reshape(-1, 2).T.copy(), quads)
    basis = skfem.Basis(mesh, skfem.ElementVector(skfem.ElementQuadS2()), intorder=4)

    @skfem.BilinearForm
    def membrane(u, v, _):
        strain, other = sym_grad(u), sym_grad(v)
        return ((1 - NU) * ddot(strain, other) + NU * trace(strain) * trace(other)) / (1 - NU**2)

    rim = mesh.facets_satisfying(lambda x: np.maximum(np.abs(x[0]) / 6, np.abs(x[1]) / 5) > 1 - 1e-9, True)
    edge = skfem.FacetBasis(mesh, skfem.ElementVector(skfem.ElementQuadS2()), facets=rim, intorder=4)
    pulls = [
        skfem.LinearForm(lambda v, w: w.n[0] * v[0]),
        skfem.LinearForm(lambda v, w: w.n[1] * v[1]),
        skfem.LinearForm(lambda v, w: w.n[1] * v[0] + w.n[0] * v[1]),
    ]
    loads = np.stack([pull.assemble(edge) for pull in pulls], axis=1)
    matrix = membrane.assemble(basis).tolil()
    nodal = basis.nodal_dofs
    arm = corner[0, columns // 2] - corner[0, 0]
    across = int(abs(arm[0]) > abs(arm[1]))
    for pin in (nodal[0, 0], nodal[1, 0], nodal[across, columns // 2]):
        matrix[pin, pin] += 1.0
    other = splu(matrix.tocsc()).solve(loads)[nodal.T]
    ours = own.moved(np.eye(CASES)).reshape(*grid.nodes.shape, CASES)[::2, ::2].reshape(-1, 2, CASES)
    return corner.reshape(-1, 2), ours, other


def test_displacements_agree_but_for_rigid_motion(both):
    points, ours, other = both
    motions = np.zeros((len(points), 2, 3))
    motions[:, 0, 0] = motions[:, 1, 1] = 1
    motions[:, 0, 2], motions[:, 1, 2] = -points[:, 1], points[:, 0]
    flat, apart = motions.reshape(-1, 3), (ours - other).reshape(-1, CASES)
    left = apart - flat @ np.linalg.lstsq(flat, apart, rcond=None)[0]
    assert np.abs(left).max() < 1e-9 * np.abs(ours).max()
