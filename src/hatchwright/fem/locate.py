"""Find points among the elements of a mapped grid: which holds them, and where in it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import cKDTree

from hatchwright.fem.curve import Array
from hatchwright.fem.element import shape_slopes, shapes

_STEPS = 40
_NEAR = 1e-9
_OVER = 1e-6


@dataclass(frozen=True, slots=True, eq=False)
class Places:
    """Points in a grid.

    Args:
        line: line that the element of each point follows, shape (m,).
        layer: its layer, shape (m,).
        local: local coordinates, outward and along the ring, shape (m, 2); beyond 1 off the sheet.
    """

    line: NDArray[np.intp]
    layer: NDArray[np.intp]
    local: Array

    @property
    def beyond(self) -> NDArray[np.bool_]:
        """Whether each point lies off the sheet, shape (m,)."""
        return np.abs(self.local[:, 0]) > 1 + 1e-3


def locate(elements: Array, points: Array) -> Places:
    """Find points, walking from the nearest element until each is inside one, or at the edge that it lies beyond.

    Args:
        elements: node positions of the elements, shape (n_lines, n_layers, 8, 2) [in].
        points: shape (m, 2) [in].
    """
    lines, layers = elements.shape[:2]
    centers = elements[..., 4:, :].mean(axis=2).reshape(-1, 2)
    start = cKDTree(centers).query(points)[1]
    line, layer = np.divmod(start, layers)
    local = np.zeros_like(points)
    near = _NEAR * np.abs(points).max(initial=1.0)
    todo = np.arange(len(points))
    for _ in range(_STEPS):
        if not len(todo):
            break
        nodes, here = elements[line[todo], layer[todo]], local[todo]
        away = points[todo] - (shapes(here)[:, None] @ nodes)[:, 0]
        jacobian = shape_slopes(here) @ nodes
        here += np.clip(np.linalg.solve(jacobian.swapaxes(1, 2), away[..., None])[..., 0], -1.0, 1.0)
        step = np.where(np.abs(here) > 1 + _OVER, np.sign(here), 0.0).astype(np.intp)
        step[:, 0] = np.clip(layer[todo] + step[:, 0], 0, layers - 1) - layer[todo]
        layer[todo] += step[:, 0]
        line[todo] = (line[todo] + step[:, 1]) % lines
        local[todo] = here - 2.0 * step
        todo = todo[step.any(axis=1) | (np.abs(away).max(axis=1) > near)]
    return Places(line, layer, local)
