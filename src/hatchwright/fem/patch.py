"""Where a fastener holds a sheet: the mean displacement of a disc, and an even load on the same disc.

A load at a point would sink into the sheet without limit as the grid is refined; a disc of 2.5 diameters
neither does so nor counts twice what the flexibility formulas already hold.
Method: docs/theory/fem.md, section 4.
"""

from __future__ import annotations

import numpy as np
from scipy.sparse import csr_array

from hatchwright.fem.curve import Array, unit
from hatchwright.fem.element import shapes
from hatchwright.fem.grid import Grid, gather
from hatchwright.fem.locate import locate

_RINGS = 3
_SPOKES = 12


def patch_means(grid: Grid, centres: Array, radius_in: Array) -> csr_array:
    """Rows that take the mean of a nodal quantity over each disc.

    Args:
        grid: the sheet.
        centres: shape (m, 2) [in].
        radius_in: shape (m,) [in].
    Returns:
        csr_array: shape (m, number of grid places); each row adds up to 1.
    """
    points, weight = disc()
    return weighted(grid, centres[:, None] + radius_in[:, None, None] * points, weight)


def weighted(grid: Grid, points: Array, weight: Array) -> csr_array:
    """Rows that sum a nodal quantity over points.

    Args:
        grid: the sheet.
        points: shape (m, k, 2) [in].
        weight: weights of the k points of each row, shape (k,).
    Returns:
        csr_array: shape (m, number of grid places).
    """
    places = locate(grid, points.reshape(-1, 2))
    number = np.arange(grid.nodes[..., 0].size, dtype=float).reshape(*grid.nodes.shape[:2], 1)
    column = gather(number)[places.line, places.layer, :, 0].astype(np.intp)
    value = shapes(places.local) * np.tile(weight, len(points))[:, None]
    row = np.repeat(np.arange(len(points)), column.shape[1] * len(weight))
    return csr_array((value.ravel(), (row, column.ravel())), shape=(len(points), number.size))


def disc() -> tuple[Array, Array]:
    """Points and weights for the mean over a disc of radius 1, exact to the fifth degree.

    Returns:
        tuple: points, shape (36, 2); weights, shape (36,).
    """
    squared, weight = np.polynomial.legendre.leggauss(_RINGS)
    radius = np.sqrt((squared + 1.0) / 2.0)
    spoke = unit((np.arange(_SPOKES) + 0.5) * 2.0 * np.pi / _SPOKES)
    points = radius[:, None, None] * spoke
    return points.reshape(-1, 2), np.repeat(weight / 2.0 / _SPOKES, _SPOKES)
