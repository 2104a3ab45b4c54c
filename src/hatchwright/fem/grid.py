"""The grid: rings round an opening, cut by lines that run outward; every cell an eight-node quadrilateral."""

from __future__ import annotations

import numpy as np
from msgspec import Struct
from scipy.spatial import cKDTree

from hatchwright.fem.curve import Array
from hatchwright.fem.element import Found, Index, pins, quad_stiffness, shape_slopes, shapes
from hatchwright.fem.sector import RingFactor, factorize

_STEPS = 40
_NEAR = 1e-9
_OVER = 1e-6
_OFF = 1e-3


class Grid(Struct, frozen=True, eq=False):
    """Eight-node quadrilaterals in rings.

    Args:
        nodes: positions, shape (2 n_layers + 1, 2 n_lines, 2) [in]; rows run outward, columns anticlockwise,
            and places where both indices are odd belong to no element.
        zones: first row of each loop, from the innermost (0) to the outermost (2 n_layers).
    """

    nodes: Array
    zones: tuple[int, ...]

    @property
    def layers(self) -> int:
        """Number of rings of elements."""
        return len(self.nodes) // 2

    @property
    def lines(self) -> int:
        """Number of elements in a ring."""
        return int(self.nodes.shape[1]) // 2

    @property
    def places(self) -> Array:
        """Positions row by row, shape (places, 2) [in]."""
        return self.nodes.reshape(-1, 2)

    @property
    def edge(self) -> Index:
        """Places of the inner edge."""
        return np.arange(self.nodes.shape[1])

    @property
    def rim(self) -> Index:
        """Places of the outer edge."""
        return np.arange(self.places.shape[0] - self.nodes.shape[1], self.places.shape[0])

    def find(self, points: Array) -> Found:
        """Find points of shape (m, 2) [in]."""
        elements = self.elements()
        line, layer, at = locate(elements, points)
        local = shape_slopes(at)
        slope = np.linalg.solve(local @ elements[line, layer], local)
        number = gather(np.arange(len(self.places), dtype=float).reshape(*self.nodes.shape[:2], 1))
        nodes = number[line, layer, :, 0].astype(np.intp)
        beyond = np.abs(at[:, 0]) > 1 + _OFF
        return Found(nodes, shapes(at), np.asarray(slope, dtype=np.float64), beyond)

    def factor(self, *, poisson_ratio: float, where: str) -> RingFactor:
        """Factorize its stiffness for E t = 1 with the sector solver; `where` names the sheet in messages.

        Raises:
            SolveError: the stiffness is singular.
        """
        springs = np.zeros((*self.nodes.shape[:2], 2))
        for place, axis in pins(self.places, self.rim):
            springs.reshape(-1, 2)[place, axis] = 1.0
        on_lines = springs[:, ::2].swapaxes(0, 1).reshape(self.lines, -1)
        return factorize(quad_stiffness(self.elements(), poisson_ratio=poisson_ratio), on_lines, where=where)

    def elements(self) -> Array:
        """Positions of the eight nodes of each element, shape (n_lines, n_layers, 8, 2) [in].

        The order is that of `element.shapes`; the first local axis runs outward, the second along the ring.
        """
        return gather(self.nodes)


def gather(values: Array) -> Array:
    """Values at the eight nodes of each element, shape (n_lines, n_layers, 8, k).

    Args:
        values: one row a grid place, shape (2 n_layers + 1, 2 n_lines, k).
    """
    columns = np.concatenate([values, values[:, :1]], axis=1)
    inner, middle, outer = columns[:-1:2], columns[1::2], columns[2::2]
    corners = [inner[:, :-1:2], outer[:, :-1:2], outer[:, 2::2], inner[:, 2::2]]
    middles = [middle[:, :-1:2], outer[:, 1::2], middle[:, 2::2], inner[:, 1::2]]
    return np.stack(corners + middles, axis=2).swapaxes(0, 1)


def locate(elements: Array, points: Array) -> tuple[Index, Index, Array]:
    """Find points, walking from the nearest element until each is inside one, or at the edge that it lies beyond.

    Args:
        elements: node positions of the elements, shape (n_lines, n_layers, 8, 2) [in].
        points: shape (m, 2) [in].
    Returns:
        tuple: line that the element of each point follows, shape (m,); its layer, shape (m,); local coordinates,
            outward and along the ring, shape (m, 2), beyond 1 off the sheet.
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
    return line, layer, local
