"""One sheet by itself: how it gives under the three unit load cases and under a unit force at each fastener.

Everything is for a membrane stiffness E t = 1, so thickness and modulus may change later at no cost.

A free edge carries no stress but the one along it, so the stretch of the edge alone gives that stress, and more
exactly than the strains inside the elements do. Method: docs/theory/fem.md, section 6.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
from scipy.sparse import csr_array

from hatchwright.fem.curve import Array
from hatchwright.fem.grid import Grid
from hatchwright.fem.triangles import TriangleMesh

Mesh: TypeAlias = Grid | TriangleMesh
"""A sheet cut into elements with quadratic sides."""

CASES = 3
"""Unit load cases: 1 lbf/in of Nx, of Ny, of shear q."""


_GAUSS = 1.0 / np.sqrt(3.0)
_AT = np.array([-1.0, -_GAUSS, _GAUSS, 1.0])
_SHAPES = np.stack([_AT * (_AT - 1) / 2, 1 - _AT**2, _AT * (_AT + 1) / 2], axis=1)
_SLOPES = np.stack([_AT - 0.5, -2 * _AT, _AT + 0.5], axis=1)


@dataclass(frozen=True, slots=True, eq=False)
class EdgeStretch:
    """Stretch of a closed edge under each unit case.

    Args:
        points: three places a side, from the start of the first, shape (3 n, 2) [in].
        stretch: for E t = 1, shape (3 n, cases) [lbf/in].
    """

    points: Array
    stretch: Array


@dataclass(frozen=True, slots=True, eq=False)
class Give:
    """How one free sheet gives, for E t = 1.

    Args:
        means: rows that take the mean over each fastener's disc, shape (m, nodes).
        moved: nodal displacements, shape (nodes, 2, 3 + 2 m) [lbf]: three load cases, then a unit force along x and
            along y at each fastener.
        at_fasteners: mean displacement of each disc, x and y in turn, shape (2 m, 3 + 2 m) [lbf].
        rigid: displacement of the discs in the three rigid motions, shape (2 m, 3) [-, -, in].
        edge: stretch of its inner edge.
    """

    mesh: Mesh
    means: csr_array
    moved: Array
    at_fasteners: Array
    rigid: Array
    edge: EdgeStretch


def give(mesh: Mesh, means: csr_array, *, poisson_ratio: float, loads: Array | None, where: str) -> Give:
    """Factorize a sheet and solve it for every unit case.

    Args:
        means: rows that take the mean over each fastener's disc.
        loads: nodal loads of the three unit cases, if any, shape (nodes, 2, 3) [lbf].
        where: name of the sheet, for messages.
    Raises:
        SolveError: the stiffness is singular.
    """
    fasteners, nodes = means.shape
    columns = np.zeros((nodes, 2, CASES + 2 * fasteners))
    if loads is not None:
        columns[..., :CASES] = loads
    columns[:, 0, CASES::2] = columns[:, 1, CASES + 1 :: 2] = means.T.toarray()
    moved = mesh.factor(poisson_ratio=poisson_ratio, where=where).solve(columns)
    at = (means @ moved.reshape(nodes, -1)).reshape(2 * fasteners, columns.shape[-1])
    return Give(
        mesh=mesh,
        means=means,
        moved=moved,
        at_fasteners=at,
        rigid=rigid_motions(means @ mesh.places),
        edge=edge_stretch(mesh.places[mesh.edge], moved[mesh.edge]),
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


def edge_stretch(edge: Array, moved: Array) -> EdgeStretch:
    """Stretch at the corners of the sides of a closed edge, the mean of both, and at two Gauss points between.

    Args:
        edge: its nodes, corners and middles of sides in turn, shape (2 n, 2) [in].
        moved: their displacements, shape (2 n, 2, cases) [lbf].
    """
    nodes, shift = _sides(edge), _sides(moved.reshape(len(edge), -1))
    tangent = _SLOPES @ nodes
    slope = (_SLOPES @ shift).reshape(*tangent.shape, -1)
    stretch = (tangent[..., None] * slope).sum(axis=2) / (tangent**2).sum(axis=2)[..., None]
    corner = (stretch[:, 0] + np.roll(stretch[:, -1], 1, axis=0)) / 2
    points = (_SHAPES[:-1] @ nodes).reshape(-1, 2)
    values = np.concatenate([corner[:, None], stretch[:, 1:-1]], axis=1)
    return EdgeStretch(points, values.reshape(len(points), -1))


def _sides(values: Array) -> Array:
    return np.stack([values[::2], values[1::2], np.roll(values[::2], -1, axis=0)], axis=1)
