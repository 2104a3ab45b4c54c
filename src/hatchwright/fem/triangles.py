"""A sheet of six-node triangles, for edges that no ring can be mapped between.

Slower and less exact than the mapped grid; used only where that cannot go. Method: docs/theory/fem.md, section 1.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from msgspec import Struct
from scipy.sparse import coo_array, csc_array
from scipy.sparse.linalg import splu
from scipy.spatial import Delaunay, cKDTree

from hatchwright.errors import SolveError
from hatchwright.fem.curve import Array
from hatchwright.fem.element import Found, Index, pins, stiffness

_GAUSS_AT = np.array([[1 / 6, 1 / 6], [2 / 3, 1 / 6], [1 / 6, 2 / 3]])
_GAUSS_WEIGHT = np.full(3, 1 / 6)
_NEWTON_STEPS = 12
_AT_ONCE = 64


def shapes(at: Array) -> Array:
    """Shape functions of the six-node triangle at local coordinates, each 0 to 1, shape (m, 2).

    Returns:
        Array: shape (m, 6); corners at (0, 0), (1, 0), (0, 1), then the middles of the sides that follow them.
    """
    r, s = at.T
    a = 1.0 - r - s
    return np.stack(
        [a * (2 * a - 1), r * (2 * r - 1), s * (2 * s - 1), 4 * a * r, 4 * r * s, 4 * s * a], axis=1
    )


def shape_slopes(at: Array) -> Array:
    """Slopes of the shape functions along the two local axes at places of shape (m, 2), shape (m, 2, 6)."""
    r, s = at.T
    a, none = 1.0 - r - s, np.zeros(len(at))
    along_r = np.stack([1 - 4 * a, 4 * r - 1, none, 4 * (a - r), 4 * s, -4 * s], axis=1)
    along_s = np.stack([1 - 4 * a, none, 4 * s - 1, -4 * r, 4 * r, 4 * (a - s)], axis=1)
    return np.stack([along_r, along_s], axis=1)


class SparseFactor(Struct, frozen=True, eq=False):
    """A sheet factorized by the general sparse solver."""

    factor: Any

    def solve(self, loads: Array) -> Array:
        """Displacements for E t = 1 under nodal loads, one column a load case, both of shape (nodes, 2, m) [lbf]."""
        return np.asarray(self.factor.solve(loads.reshape(-1, loads.shape[2]))).reshape(loads.shape)

    def compliance(self, columns: csc_array) -> Array:
        """What each column of nodal loads, shape (2 nodes, k), does along each other, shape (k, k) [lbf]."""
        starts = range(0, columns.shape[1], _AT_ONCE)
        solved = (self.factor.solve(columns[:, k : k + _AT_ONCE].toarray()) for k in starts)
        return np.concatenate([columns.T @ moved for moved in solved], axis=1)


class TriangleMesh(Struct, frozen=True, eq=False):
    """Six-node triangles.

    Args:
        places: positions of all nodes, corners first, shape (n, 2) [in].
        elements: nodes of each triangle, corners anticlockwise and then middles, shape (t, 6).
        edge: nodes of the inner edge, or of the outer one if there is none, corners and middles in turn.
        rim: nodes of the outer edge, in the same way.
    """

    places: Array
    elements: Index
    edge: Index
    rim: Index

    def find(self, points: Array) -> Found:
        """Find points of shape (m, 2) [in]."""
        corners = self.places[self.elements[:, :3]]
        whole = Delaunay(self.places[: self.elements[:, :3].max() + 1])
        known = {
            tuple(nodes): number
            for number, nodes in enumerate(np.sort(self.elements[:, :3], axis=1).tolist())
        }
        of_whole = np.array(
            [known.get(tuple(nodes), -1) for nodes in np.sort(whole.simplices, axis=1).tolist()]
        )
        held = whole.find_simplex(points)
        element = np.where(held >= 0, of_whole[held], -1)
        lost = element < 0
        if lost.any():
            element[lost] = cKDTree(corners.mean(axis=1)).query(points[lost])[1]
        nodes = self.elements[element]
        local = np.full_like(points, 1 / 3)
        for _ in range(_NEWTON_STEPS):
            away = points - (shapes(local)[:, None] @ self.places[nodes])[:, 0]
            jacobian = shape_slopes(local) @ self.places[nodes]
            local += np.linalg.solve(jacobian.swapaxes(1, 2), away[..., None])[..., 0]
            if np.abs(away).max(initial=0.0) < 1e-10 * np.abs(self.places).max():
                break
        slopes = shape_slopes(local)
        slope = np.asarray(np.linalg.solve(slopes @ self.places[nodes], slopes), dtype=np.float64)
        third = 1.0 - local.sum(axis=1)
        return Found(nodes, shapes(local), slope, np.minimum(local.min(axis=1), third) < -1e-3)

    def factor(self, *, poisson_ratio: float, where: str) -> SparseFactor:
        """Factorize its stiffness for E t = 1 with SciPy's general sparse solver; `where` names the sheet in messages.

        Raises:
            SolveError: the stiffness is singular.
        """
        own = stiffness(
            self.places[self.elements], shape_slopes(_GAUSS_AT), _GAUSS_WEIGHT, poisson_ratio=poisson_ratio
        )
        unknown = (2 * self.elements[..., None] + np.arange(2)).reshape(len(self.elements), 12)
        held = [2 * node + axis for node, axis in pins(self.places, self.rim)]
        rows = np.concatenate([np.repeat(unknown, 12, axis=1).ravel(), held])
        columns = np.concatenate([np.tile(unknown, (1, 12)).ravel(), held])
        matrix = coo_array(
            (np.concatenate([own.ravel(), np.ones(3)]), (rows, columns)), shape=(2 * len(self.places),) * 2
        )
        try:
            factor = splu(
                matrix.tocsc(),
                permc_spec="MMD_AT_PLUS_A",
                diag_pivot_thresh=0.0,
                options={"SymmetricMode": True},
            )
        except RuntimeError as error:
            raise SolveError.saying("error.singular", where=where) from error
        return SparseFactor(factor)
