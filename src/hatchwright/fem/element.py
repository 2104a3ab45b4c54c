"""What every mesh answers and needs, and the eight-node quadrilateral in plane stress, for unit stiffness (E t = 1).

Method: docs/theory/fem.md, section 2.  Source: [ZIENKIEWICZ-FEM], serendipity family.
"""

from __future__ import annotations

import numpy as np
from msgspec import Struct
from numpy.typing import NDArray

from hatchwright.fem.curve import Array

Index = NDArray[np.intp]


class Found(Struct, frozen=True, eq=False):
    """Points found in a mesh.

    Args:
        nodes: nodes of the element that holds each point, shape (m, k).
        share: shape functions of those nodes there, shape (m, k) [-].
        slope: their slopes along x and y, shape (m, 2, k) [1/in].
        beyond: whether the point lies off the sheet; the nearest element is then continued, shape (m,).
    """

    nodes: Index
    share: Array
    slope: Array
    beyond: NDArray[np.bool_]


def pins(places: Array, rim: Index) -> tuple[tuple[int, int], ...]:
    """Unknowns to hold so that a sheet cannot float: three pairs of node and axis.

    Args:
        places: positions of all nodes, shape (n, 2) [in].
        rim: nodes of the outer edge.
    """
    first, opposite = int(rim[0]), int(rim[2 * (len(rim) // 4)])
    arm = places[opposite] - places[first]
    return (first, 0), (first, 1), (opposite, 1 if abs(arm[0]) > abs(arm[1]) else 0)


_CORNER = np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]], dtype=float)
_MIDDLE = np.array([[0, -1], [1, 0], [0, 1], [-1, 0]], dtype=float)


def shapes(at: Array) -> Array:
    """Shape functions at local coordinates, outward and along the ring, each -1 to 1, shape (m, 2).

    Returns:
        Array: shape (m, 8); corners anticlockwise from (-1, -1), then middles of sides.
    """
    x, y = at[:, :1], at[:, 1:]
    fx, fy = 1 + x * _CORNER[:, 0], 1 + y * _CORNER[:, 1]
    corners = 0.25 * fx * fy * (x * _CORNER[:, 0] + y * _CORNER[:, 1] - 1)
    across, along = _MIDDLE[:, 0], _MIDDLE[:, 1]
    middles = 0.5 * np.where(across == 0, (1 - x**2) * (1 + y * along), (1 - y**2) * (1 + x * across))
    return np.concatenate([corners, middles], axis=1)


def shape_slopes(at: Array) -> Array:
    """Slopes of the shape functions along the two local axes at places of shape (m, 2), shape (m, 2, 8)."""
    x, y = at[:, :1], at[:, 1:]
    cx, cy = _CORNER.T
    corner_x = 0.25 * cx * (1 + y * cy) * (2 * x * cx + y * cy)
    corner_y = 0.25 * cy * (1 + x * cx) * (x * cx + 2 * y * cy)
    mx, my = _MIDDLE.T
    middle_x = np.where(mx == 0, -x * (1 + y * my), 0.5 * mx * (1 - y**2))
    middle_y = np.where(mx == 0, 0.5 * my * (1 - x**2), -y * (1 + x * mx))
    slopes = np.stack(
        [np.concatenate([corner_x, middle_x], 1), np.concatenate([corner_y, middle_y], 1)], axis=1
    )
    return slopes


def gauss_points(count: int) -> tuple[Array, Array]:
    """Gauss points of the square, shape (count ** 2, 2), and their weights, shape (count ** 2,)."""
    at, weight = np.polynomial.legendre.leggauss(count)
    x, y = np.meshgrid(at, at, indexing="ij")
    return np.column_stack([x.ravel(), y.ravel()]), np.outer(weight, weight).ravel()


def elasticity(poisson_ratio: float) -> Array:
    """Plane-stress matrix: running loads x, y, shear per unit strain of a sheet of E t = 1, shape (3, 3) [-]."""
    nu = poisson_ratio
    return np.array([[1, nu, 0], [nu, 1, 0], [0, 0, (1 - nu) / 2]]) / (1 - nu**2)


def local_areas(nodes: Array, local: Array) -> Array:
    """Jacobian determinants, negative where an element is folded, shape (..., m) [sq in].

    Args:
        nodes: node positions of each element, shape (..., k, 2) [in].
        local: slopes along the local axes at m places common to all, shape (m, 2, k).
    """
    (xr, yr), (xs, ys) = np.moveaxis(local @ nodes[..., None, :, :], (-2, -1), (0, 1))
    return np.asarray(xr * ys - yr * xs)


def slopes_in_plane(nodes: Array, local: Array) -> tuple[Array, Array]:
    """Slopes of the shape functions along x and y, and the local area; arguments as for `local_areas`.

    Returns:
        tuple: slopes, shape (..., m, 2, k) [1/in]; Jacobian determinants, shape (..., m) [sq in].
    """
    jacobian = local @ nodes[..., None, :, :]
    (xr, yr), (xs, ys) = np.moveaxis(jacobian, (-2, -1), (0, 1))
    area = xr * ys - yr * xs
    inverse = np.stack([np.stack([ys, -yr], -1), np.stack([-xs, xr], -1)], -2) / area[..., None, None]
    return inverse @ local, area


def stiffness(nodes: Array, local: Array, weight: Array, *, poisson_ratio: float) -> Array:
    """Stiffness matrices of plane-stress elements for E t = 1; unknowns are u, v of node 1, u, v of node 2 ...

    Args:
        nodes: node positions of each element, shape (..., k, 2) [in].
        local: slopes of the shape functions along the local axes at the Gauss points, shape (m, 2, k).
        weight: weights of the Gauss points, shape (m,).
    Returns:
        Array: shape (..., 2 k, 2 k) [-].
    """
    slope, area = slopes_in_plane(nodes, local)
    scale = np.sqrt(area * weight)[..., None]
    strain = np.zeros((*area.shape, 3, 2 * nodes.shape[-2]))
    strain[..., 0, 0::2] = strain[..., 2, 1::2] = slope[..., 0, :] * scale
    strain[..., 1, 1::2] = strain[..., 2, 0::2] = slope[..., 1, :] * scale
    load = elasticity(poisson_ratio) @ strain
    flat = (*area.shape[:-1], 3 * len(weight), 2 * nodes.shape[-2])
    return np.swapaxes(strain.reshape(flat), -1, -2) @ load.reshape(flat)


def quad_stiffness(nodes: Array, *, poisson_ratio: float) -> Array:
    """Stiffness matrices of eight-node quadrilaterals, integrated with three by three Gauss points.

    Args:
        nodes: node positions of each element, shape (..., 8, 2) [in].
    Returns:
        Array: shape (..., 16, 16) [-] for E t = 1.
    """
    at, weight = gauss_points(3)
    return stiffness(nodes, shape_slopes(at), weight, poisson_ratio=poisson_ratio)
