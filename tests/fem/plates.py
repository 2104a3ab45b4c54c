"""Square plates without an opening on Morley's triangles, solved by SciPy's general eigenvalue solver."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from scipy.sparse.linalg import eigsh

from hatchwright.fem.element import elasticity
from hatchwright.fem.plate import Triangles, geometric_matrix, stiffness_matrix, triangulate

NU = 0.3


def lowest(
    load: tuple[float, float, float], *, cells: int, clamped: bool = False
) -> tuple[float, Triangles, NDArray[np.float64]]:
    """k = N b^2 / (pi^2 D) of a square of side 1 on a grid of so many cells a side, its mesh and its deflection."""
    x, y = np.meshgrid(np.linspace(-0.5, 0.5, cells + 1), np.linspace(0.5, -0.5, cells + 1))
    mesh = triangulate(np.stack([x, y], axis=-1), closed=False)
    triangles = len(mesh.corners)
    bend = np.broadcast_to(elasticity(NU) * (1 - NU**2), (triangles, 3, 3))
    at_rim = np.abs(mesh.points).max(axis=1) > 0.5 - 1e-9
    held = at_rim[mesh.sides].all(axis=1) & clamped
    free = np.flatnonzero(~np.concatenate([at_rim, held]))
    stiff = stiffness_matrix(mesh, bend)[free][:, free]
    work = -geometric_matrix(mesh, np.broadcast_to(load, (triangles, 3, 3)))[free][:, free]
    value, vector = eigsh(work, k=1, M=stiff, which="LA")
    mode = np.zeros(len(mesh.points))
    corner = free < len(mode)
    mode[free[corner]] = vector[corner, 0]
    return 1.0 / float(value[0]) / np.pi**2, mesh, mode / mode[np.abs(mode).argmax()]


def extrapolated(load: tuple[float, float, float], *, clamped: bool = False) -> float:
    """k from a grid of 24 cells a side and one of 12, with the square of their size."""
    fine, coarse = (lowest(load, cells=cells, clamped=clamped)[0] for cells in (24, 12))
    return fine + (fine - coarse) / 3
