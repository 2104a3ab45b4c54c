"""What every mesh answers and needs, whether mapped rings or free triangles."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hatchwright.fem.curve import Array

Index = NDArray[np.intp]


@dataclass(frozen=True, slots=True, eq=False)
class Found:
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
