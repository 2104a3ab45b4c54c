"""Stress along a free edge: modulus times the stretch of the edge itself.

A free edge carries no stress but the one along it, so the stretch alone gives that stress, and more
exactly than the strains inside the elements do. Method: docs/theory/fem.md, section 6.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from hatchwright.fem.curve import Array

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
