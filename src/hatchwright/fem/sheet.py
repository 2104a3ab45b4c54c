"""One sheet by itself: how it gives under the three unit load cases and under a unit force at each fastener.

Everything is for a membrane stiffness E t = 1, so thickness and modulus may change later at no cost.

A free edge carries no stress but the one along it, so the stretch of the edge alone gives that stress, and more
exactly than the strains inside the elements do. Method: docs/theory/fem.md, section 6.
"""

from __future__ import annotations

from typing import Protocol, TypeAlias

import numpy as np
from msgspec import Struct
from scipy.sparse import csc_array, csr_array, eye_array, hstack, kron

from hatchwright.fem.curve import Array
from hatchwright.fem.grid import Grid
from hatchwright.fem.triangles import TriangleMesh

Mesh: TypeAlias = Grid | TriangleMesh
"""A sheet cut into elements with quadratic sides."""


class Factor(Protocol):
    """The factorized stiffness of a sheet for E t = 1."""

    def solve(self, loads: Array) -> Array:
        """Displacements under nodal loads, one column a load case, both of shape (nodes, 2, m) [lbf]."""

    def compliance(self, columns: csc_array) -> Array:
        """What each column of nodal loads, shape (2 nodes, k), does along each other, shape (k, k) [lbf]."""


CASES = 3
"""Unit load cases: 1 lbf/in of Nx, of Ny, of shear q."""


_GAUSS = 1.0 / np.sqrt(3.0)
_AT = np.array([-1.0, -_GAUSS, _GAUSS, 1.0])
_SHAPES = np.stack([_AT * (_AT - 1) / 2, 1 - _AT**2, _AT * (_AT + 1) / 2], axis=1)
_SLOPES = np.stack([_AT - 0.5, -2 * _AT, _AT + 0.5], axis=1)


class Give(Struct, frozen=True, eq=False):
    """How one free sheet gives, for E t = 1.

    Its displacements under every single fastener are never held: at 273 rivets they would be most of the memory.

    Args:
        factor: its stiffness, factorized.
        loads: nodal loads of the three unit cases, shape (nodes, 2, 3) [lbf].
        means: rows that take the mean over each fastener's disc, shape (m, nodes).
        at_fasteners: mean displacement of each disc, x and y in turn, shape (2 m, 3 + 2 m) [lbf].
        rigid: displacement of the discs in the three rigid motions, shape (2 m, 3) [-, -, in].
    """

    mesh: Mesh
    factor: Factor
    loads: Array
    means: csr_array
    at_fasteners: Array
    rigid: Array

    def moved(self, amounts: Array) -> Array:
        """Nodal displacements under so much of each load case and so much force along x and y at each fastener.

        Args:
            amounts: shape (3 + 2 m, k).
        Returns:
            Array: shape (nodes, 2, k) [lbf].
        """
        forces = amounts[CASES:].reshape(self.means.shape[0], 2 * amounts.shape[1])
        pushed = (self.means.T @ forces).reshape(-1, 2, amounts.shape[1])
        return self.factor.solve(self.loads @ amounts[:CASES] + pushed)


def give(mesh: Mesh, means: csr_array, *, poisson_ratio: float, loads: Array | None, where: str) -> Give:
    """Factorize a sheet and solve it for every unit case.

    Args:
        means: rows that take the mean over each fastener's disc.
        loads: nodal loads of the three unit cases, if any, shape (nodes, 2, 3) [lbf].
        where: name of the sheet, for messages.
    Raises:
        SolveError: the stiffness is singular.
    """
    if loads is None:
        loads = np.zeros((means.shape[1], 2, CASES))
    columns = csc_array(hstack([csc_array(loads.reshape(-1, CASES)), kron(means, eye_array(2)).T]))
    factor = mesh.factor(poisson_ratio=poisson_ratio, where=where)
    return Give(
        mesh=mesh,
        factor=factor,
        loads=loads,
        means=means,
        at_fasteners=factor.compliance(columns)[CASES:],
        rigid=rigid_motions(means @ mesh.places),
    )


def rigid_motions(points: Array) -> Array:
    """Displacements, shape (2 m, 3) [-, -, in], of points, shape (m, 2) [in], in the three rigid motions of a sheet.

    It shifts along x, along y, and turns about the origin.
    """
    motions = np.zeros((len(points), 2, 3))
    motions[:, 0, 0] = motions[:, 1, 1] = 1.0
    motions[:, 0, 2], motions[:, 1, 2] = -points[:, 1], points[:, 0]
    return motions.reshape(-1, 3)


def edge_loads(mesh: Mesh) -> Array:
    """Nodal loads of the three unit cases on the outer edge, shape (nodes, 2, 3) [lbf]."""
    rim = mesh.places[mesh.rim]
    side = np.stack([rim[::2], rim[1::2], np.roll(rim[::2], -1, axis=0)], axis=1)
    run = np.array([[-3.0, 4.0, -1.0], [-4.0, 0.0, 4.0], [1.0, -4.0, 3.0]]) / 6.0 @ side
    normal = np.stack([run[..., 1], -run[..., 0]], axis=-1)
    nodal = np.empty_like(rim)
    nodal[1::2] = normal[:, 1]
    nodal[::2] = normal[:, 0] + np.roll(normal[:, 2], 1, axis=0)
    (x, y), still = nodal.T, np.zeros(len(rim))
    loads = np.zeros((len(mesh.places), 2, CASES))
    loads[mesh.rim] = np.stack([np.stack([x, still, y], axis=-1), np.stack([still, y, x], axis=-1)], axis=1)
    return loads


def edge_stretch(edge: Array, moved: Array) -> tuple[Array, Array]:
    """Stretch at the corners of the sides of a closed edge, the mean of both, and at two Gauss points between.

    Args:
        edge: its nodes, corners and middles of sides in turn, shape (2 n, 2) [in].
        moved: their displacements for E t = 1, shape (2 n, 2, cases) [lbf].
    Returns:
        tuple: three places a side, from the start of the first, shape (3 n, 2) [in]; stretch there, shape
            (3 n, cases) [lbf/in].
    """
    nodes, shift = _sides(edge), _sides(moved.reshape(len(edge), -1))
    tangent = _SLOPES @ nodes
    slope = (_SLOPES @ shift).reshape(*tangent.shape, -1)
    stretch = (tangent[..., None] * slope).sum(axis=2) / (tangent**2).sum(axis=2)[..., None]
    corner = (stretch[:, 0] + np.roll(stretch[:, -1], 1, axis=0)) / 2
    points = (_SHAPES[:-1] @ nodes).reshape(-1, 2)
    values = np.concatenate([corner[:, None], stretch[:, 1:-1]], axis=1)
    return points, values.reshape(len(points), -1)


def _sides(values: Array) -> Array:
    return np.stack([values[::2], values[1::2], np.roll(values[::2], -1, axis=0)], axis=1)
