"""Morley's plate triangle: deflection at the corners, slope across the middle of each side, constant curvature.

It bends as thin plates do and converges from below, in proportion to the square of its size. Its gradient at the
middle of a side is given by that side's own unknowns alone, and three middles integrate its geometric stiffness
exactly.
Method: docs/theory/fem.md, section 7.  Source: [MORLEY-1968].
"""

from __future__ import annotations

import numpy as np
from msgspec import Struct
from numpy.typing import NDArray
from scipy.sparse import coo_array, csc_array

from hatchwright.fem.curve import Array

Index = NDArray[np.intp]


class Triangles(Struct, frozen=True, eq=False):
    """A triangulated plate.

    Args:
        points: corners, shape (n, 2) [in].
        corners: of each triangle, anticlockwise, shape (t, 3).
        sides: both ends of each side, the lower number first, shape (s, 2).
        own_sides: sides of each triangle, each facing no corner but running from it to the next, shape (t, 3).
    """

    points: Array
    corners: Index
    sides: Index
    own_sides: Index

    @property
    def middles(self) -> Array:
        """Middle of each side, shape (s, 2) [in]."""
        return np.asarray(self.points[self.sides].mean(axis=1))

    @property
    def areas(self) -> Array:
        """Area of each triangle, shape (t,) [sq in]."""
        a, b, c = self.points[self.corners].swapaxes(0, 1)
        (ux, uy), (vx, vy) = (b - a).T, (c - a).T
        return np.asarray(ux * vy - uy * vx) / 2


def triangulate(lattice: Array, *, closed: bool) -> Triangles:
    """Cut the cells of a lattice into four triangles each, round their middle.

    Args:
        lattice: crossings, shape (rows, columns, 2) [in]; rows outward, columns anticlockwise.
        closed: whether the last column is followed by the first.
    Returns:
        Triangles: corners numbered row by row, then the middles of the cells.
    """
    rows, columns = lattice.shape[:2]
    number = np.arange(rows * columns).reshape(rows, columns)
    number = np.concatenate([number, number[:, :1]], axis=1) if closed else number
    ring = [number[:-1, :-1], number[1:, :-1], number[1:, 1:], number[:-1, 1:]]
    cell = np.stack([part.ravel() for part in ring], axis=1)
    flat = lattice.reshape(-1, 2)
    points = np.concatenate([flat, flat[cell].mean(axis=1)])
    middle = rows * columns + np.arange(len(cell))
    corners = np.concatenate([np.stack([cell[:, k], cell[:, (k + 1) % 4], middle], axis=1) for k in range(4)])
    return _with_sides(points, corners)


def joined(meshes: list[Triangles]) -> Triangles:
    """Several meshes as one; corners at the very same place become one."""
    if len(meshes) == 1:
        return meshes[0]
    start = np.cumsum([0, *(len(mesh.points) for mesh in meshes)])
    points, number = np.unique(np.concatenate([mesh.points for mesh in meshes]), axis=0, return_inverse=True)
    corners = np.concatenate([mesh.corners + first for mesh, first in zip(meshes, start, strict=False)])
    return _with_sides(points, number.reshape(-1)[corners])


def _with_sides(points: Array, corners: Index) -> Triangles:
    ends = np.stack([corners, np.roll(corners, -1, axis=1)], axis=2).reshape(-1, 2)
    sides, own = np.unique(np.sort(ends, axis=1), axis=0, return_inverse=True)
    return Triangles(points, corners, sides, own.reshape(-1, 3))


def stiffness_matrix(mesh: Triangles, bending: Array) -> csc_array:
    """Bending stiffness; unknowns are the corners' deflections, then the sides' slopes to the right of their direction.

    Args:
        bending: bending stiffness of each triangle, moments x, y, twist per curvature, shape (t, 3, 3) [lbf in].
    """
    sides = _sides(mesh)
    by_area = 1.0 / mesh.areas[:, None, None, None]
    slope = (
        by_area
        * (sides.sign * sides.length)[..., None, None]
        * sides.normal[..., None]
        * sides.normal[..., None, :]
    )
    chord = by_area * sides.along[..., None] * sides.normal[..., None, :]
    curvature = np.zeros((len(bending), 3, 6))
    curvature[:, :, 3:] = _voigt(slope)
    curvature[:, :, :3] = np.roll(_voigt(chord), 1, axis=2) - _voigt(chord)
    element = mesh.areas[:, None, None] * curvature.swapaxes(1, 2) @ bending @ curvature
    unknown = np.concatenate([mesh.corners, len(mesh.points) + mesh.own_sides], axis=1)
    return _assembled(mesh, unknown, element)


def geometric_matrix(mesh: Triangles, running: Array) -> csc_array:
    """Geometric stiffness for the unknowns of `stiffness_matrix`; tension stiffens.

    Args:
        running: running loads Nx, Ny, Nxy at the middle of each side of each triangle, shape (t, 3, 3) [lbf/in].
    """
    sides = _sides(mesh)
    chord = sides.along / sides.length[..., None]
    gradient = np.stack([-chord, chord, sides.sign[..., None] * sides.normal], axis=-1)
    nx, ny, nxy = np.moveaxis(running, -1, 0)
    tensor = np.stack([np.stack([nx, nxy], -1), np.stack([nxy, ny], -1)], -2)
    element = mesh.areas[:, None, None, None] / 3.0 * gradient.swapaxes(-1, -2) @ tensor @ gradient
    unknown = np.stack(
        [mesh.corners, np.roll(mesh.corners, -1, axis=1), len(mesh.points) + mesh.own_sides], axis=2
    )
    return _assembled(mesh, unknown.reshape(-1, 3), element.reshape(-1, 3, 3))


class _Sides(Struct, frozen=True, eq=False):
    """The three sides of each triangle: unit direction, outward normal, length, and sense of the side's own slope."""

    along: Array
    normal: Array
    length: Array
    sign: Array


def _sides(mesh: Triangles) -> _Sides:
    start, end = mesh.corners, np.roll(mesh.corners, -1, axis=1)
    along = mesh.points[end] - mesh.points[start]
    length = np.hypot(along[..., 0], along[..., 1])
    along /= length[..., None]
    normal = np.stack([along[..., 1], -along[..., 0]], axis=-1)
    return _Sides(along, normal, length, np.where(start < end, 1.0, -1.0))


def _voigt(second: Array) -> Array:
    """Second derivatives, shape (t, 3 sides, 2, 2), as curvatures x, y and twice the twist, shape (t, 3, 3 sides)."""
    return np.stack([second[..., 0, 0], second[..., 1, 1], second[..., 0, 1] + second[..., 1, 0]], axis=1)


def _assembled(mesh: Triangles, unknown: Index, element: Array) -> csc_array:
    count, size = unknown.shape[1], len(mesh.points) + len(mesh.sides)
    rows = np.repeat(unknown, count, axis=1).ravel()
    columns = np.tile(unknown, (1, count)).ravel()
    return coo_array((element.ravel(), (rows, columns)), shape=(size, size)).tocsc()
