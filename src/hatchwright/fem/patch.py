"""Where a fastener holds a sheet: the mean displacement of a disc, and an even load on the same disc.

A load at a point would sink into the sheet without limit as the grid is refined; a disc of 2.5 diameters
neither does so nor counts twice what the flexibility formulas already hold.
Method: docs/theory/fem.md, section 4.
"""

from __future__ import annotations

import numpy as np
from scipy.sparse import csr_array

from hatchwright.fem.curve import Array, unit
from hatchwright.fem.sheet import Mesh

_RINGS = 3
_SPOKES = 12


def patch_means(mesh: Mesh, centers: Array, radius_in: Array) -> csr_array:
    """Rows that take the mean of a nodal quantity over each disc, shape (m, nodes).

    Args:
        centers: shape (m, 2) [in].
        radius_in: shape (m,) [in].
    """
    points, weight = disc()
    found = mesh.find((centers[:, None] + radius_in[:, None, None] * points).reshape(-1, 2))
    value = found.share * np.tile(weight, len(centers))[:, None]
    row = np.repeat(np.arange(len(centers)), found.nodes.shape[1] * len(weight))
    return csr_array((value.ravel(), (row, found.nodes.ravel())), shape=(len(centers), len(mesh.places)))


def disc() -> tuple[Array, Array]:
    """Points (36, 2) and weights (36,) for the mean over a disc of radius 1, exact to the fifth degree."""
    squared, weight = np.polynomial.legendre.leggauss(_RINGS)
    radius = np.sqrt((squared + 1.0) / 2.0)
    spoke = unit((np.arange(_SPOKES) + 0.5) * 2.0 * np.pi / _SPOKES)
    points = radius[:, None, None] * spoke
    return points.reshape(-1, 2), np.repeat(weight / 2.0 / _SPOKES, _SPOKES)
