"""One sheet by itself: how it gives under the three unit load cases and under a unit force at each fastener.

Everything is for a membrane stiffness E t = 1, so thickness and modulus may change later at no cost.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.sparse import csr_array

from hatchwright.fem.curve import Array
from hatchwright.fem.edge import EdgeStretch, edge_stretch
from hatchwright.fem.element import stiffness
from hatchwright.fem.grid import Grid
from hatchwright.fem.sector import factorise

CASES = 3
"""Unit load cases: 1 lbf/in of Nx, of Ny, of shear q."""


@dataclass(frozen=True, slots=True, eq=False)
class Give:
    """How one free sheet gives, for E t = 1.

    Args:
        grid: the grid.
        means: rows that take the mean over each fastener's disc, shape (m, number of grid places).
        moved: nodal displacements, shape (places, 2, 3 + 2 m) [lbf]: three load cases, then a unit
            force along x and along y at each fastener.
        at_fasteners: mean displacement of each disc, x and y in turn, shape (2 m, 3 + 2 m) [lbf].
        rigid: displacement of the discs in the three rigid motions, shape (2 m, 3) [-, -, in].
        edge: stretch of its inner edge.
    """

    grid: Grid
    means: csr_array
    moved: Array
    at_fasteners: Array
    rigid: Array
    edge: EdgeStretch


def give(grid: Grid, means: csr_array, *, poisson_ratio: float, loads: Array | None, where: str) -> Give:
    """Factorise a sheet and solve it for every unit case.

    Args:
        grid: the grid.
        means: rows that take the mean over each fastener's disc.
        poisson_ratio: Poisson's ratio [-].
        loads: nodal loads of the three unit cases, if any, shape (2 n_layers + 1, 2 n_lines, 2, 3) [lbf].
        where: name of the sheet, for messages.
    Returns:
        Give: its response.
    Raises:
        SolveError: the stiffness is singular.
    """
    fasteners = means.shape[0]
    columns = np.zeros((*grid.nodes.shape[:2], 2, CASES + 2 * fasteners))
    if loads is not None:
        columns[..., :CASES] = loads
    even = means.T.toarray().reshape(*grid.nodes.shape[:2], fasteners)
    columns[..., 0, CASES::2] = even
    columns[..., 1, CASES + 1 :: 2] = even
    factor = factorise(stiffness(grid.elements(), poisson_ratio), _pins(grid), where=where)
    moved = factor.solve(columns).reshape(-1, 2, columns.shape[-1])
    at = (means @ moved.reshape(len(moved), -1)).reshape(2 * fasteners, columns.shape[-1])
    spots = means @ grid.nodes.reshape(-1, 2)
    edge = edge_stretch(grid.nodes[0], moved[: grid.nodes.shape[1]])
    return Give(grid=grid, means=means, moved=moved, at_fasteners=at, rigid=rigid_motions(spots), edge=edge)


def rigid_motions(points: Array) -> Array:
    """Displacements of points when their sheet shifts along x, along y, and turns about the origin.

    Args:
        points: shape (m, 2) [in].
    Returns:
        Array: shape (2 m, 3) [-, -, in].
    """
    motions = np.zeros((len(points), 2, 3))
    motions[:, 0, 0] = motions[:, 1, 1] = 1.0
    motions[:, 0, 2], motions[:, 1, 2] = -points[:, 1], points[:, 0]
    return motions.reshape(-1, 3)


def edge_loads(grid: Grid) -> Array:
    """Nodal loads of the three unit cases on the outer edge.

    Args:
        grid: the grid.
    Returns:
        Array: shape (2 n_layers + 1, 2 n_lines, 2, 3) [lbf].
    """
    edge = grid.nodes[-1]
    side = np.stack([edge[::2], edge[1::2], np.roll(edge[::2], -1, axis=0)], axis=1)
    run = np.array([[-3.0, 4.0, -1.0], [-4.0, 0.0, 4.0], [1.0, -4.0, 3.0]]) / 6.0 @ side
    normal = np.stack([run[..., 1], -run[..., 0]], axis=-1)
    nodal = np.empty_like(edge)
    nodal[1::2] = normal[:, 1]
    nodal[::2] = normal[:, 0] + np.roll(normal[:, 2], 1, axis=0)
    loads = np.zeros((*grid.nodes.shape, CASES))
    loads[-1, :, 0, 0], loads[-1, :, 1, 1] = nodal[:, 0], nodal[:, 1]
    loads[-1, :, 0, 2], loads[-1, :, 1, 2] = nodal[:, 1], nodal[:, 0]
    return loads


def _pins(grid: Grid) -> Array:
    """Springs that stop the three rigid motions; loads in balance put no force into them."""
    outer = grid.nodes[-1, ::2]
    opposite = grid.lines // 2
    arm = outer[opposite] - outer[0]
    across = 1 if abs(arm[0]) > abs(arm[1]) else 0
    springs = np.zeros((grid.lines, 2 * len(grid.nodes)))
    springs[0, -2:] = 1.0
    springs[opposite, -2 + across] = 1.0
    return springs
