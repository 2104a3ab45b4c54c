"""Where the grid lines leave the innermost loop: close together at tight arcs, wider on straight runs."""

from __future__ import annotations

import numpy as np
from msgspec import Struct
from msgspec.structs import replace
from numpy.typing import NDArray

from hatchwright.fem.curve import Array, Curve

_SAMPLES = 32
_GROWTH = 0.25
_KINK_RATIO = 0.5


class Fineness(Struct, frozen=True):
    """How fine a grid is.

    Args:
        per_quarter: elements along a 90 degree arc of the edge.
        first_layer_ratio: first layer at the edge over the length of its element [-].
        growth_ratio: each layer over the one before, between the edge and the last loop but one [-].
        far_growth_ratio: the same beyond it [-].
        patch_share: largest element under a fastened sheet over the smallest patch diameter [-].
    """

    per_quarter: int = 8
    first_layer_ratio: float = 0.5
    growth_ratio: float = 1.3
    far_growth_ratio: float = 1.5
    patch_share: float = 1.2

    def coarser(self) -> Fineness:
        """A grid half as fine again, to measure the error by."""
        return replace(
            self,
            per_quarter=max(3, round(self.per_quarter / 1.6)),
            growth_ratio=self.growth_ratio**1.6,
            far_growth_ratio=self.far_growth_ratio**1.3,
            patch_share=self.patch_share * 1.6,
        )


def stations(curve: Curve, *, per_quarter: int, cap_in: float, fan_in: float) -> Array:
    """Distances along the innermost loop at which grid lines leave it.

    Args:
        per_quarter: elements along a 90 degree arc.
        cap_in: longest element allowed where the lines cross the last fine loop [in].
        fan_in: how far outside `curve` that loop lies at most [in].
    Returns:
        Array: rising distances, every second one the middle of an element, shape (2 n,) [in].
    """
    joints = np.concatenate([[0.0], np.cumsum(curve.length)])
    share = (1.0 - np.cos(np.pi * np.arange(_SAMPLES) / _SAMPLES)) / 2
    at = (joints[:-1, None] + share * curve.length[:, None]).ravel()
    fan = 1.0 + np.maximum(curve.curvature, 0.0) * fan_in
    flattest = np.maximum(np.abs(curve.curvature), 2 * np.pi / joints[-1])
    wanted = np.minimum(np.pi / (2 * per_quarter * flattest), cap_in / fan)
    size = np.repeat(wanted, _SAMPLES)
    size[::_SAMPLES] = np.minimum(wanted, np.roll(wanted, 1))
    size = _smooth(at, size, joints[-1])

    breaks = _forced(curve)
    nodes = joints[:-1][breaks] if breaks.any() else joints[:1]
    edge = np.append(at, joints[-1])
    inverse = 1.0 / np.append(size, size[0])
    count = np.concatenate([[0.0], np.cumsum(np.diff(edge) * (inverse[1:] + inverse[:-1]) / 2)])
    lines = []
    for first, last in zip(nodes, np.append(nodes[1:], nodes[0] + joints[-1]), strict=True):
        ends = np.interp([first, min(last, joints[-1])], edge, count)
        beyond = np.interp(max(last - joints[-1], 0.0), edge, count)
        total = ends[1] - ends[0] + beyond
        pieces = max(1, int(np.ceil(total - 0.05)))
        if not breaks.any():
            pieces = 4 * int(np.ceil(pieces / 4))
        steps = ends[0] + total * np.arange(pieces) / pieces
        wrapped = np.where(steps > count[-1], steps - count[-1], steps)
        lines.append(np.interp(wrapped, count, edge) + np.where(steps > count[-1], joints[-1], 0.0))
    whole = np.concatenate(lines)
    middles = (whole + np.append(whole[1:], whole[0] + joints[-1])) / 2
    return np.stack([whole, middles], axis=1).ravel()


def _forced(curve: Curve) -> NDArray[np.bool_]:
    """Joints that need a grid line: sharp corners, and places where the curvature jumps by much."""
    here, before = curve.curvature, np.roll(curve.curvature, 1)
    slight = 2 * np.pi / curve.length.sum()
    larger = np.maximum(np.maximum(np.abs(here), np.abs(before)), slight)
    forced: NDArray[np.bool_] = (np.abs(here - before) > _KINK_RATIO * larger) | curve.sharp
    return forced


def _smooth(at: Array, size: Array, perimeter: float) -> Array:
    """Let the size rise by no more than a quarter of the distance walked, both ways round."""
    for way in (1.0, -1.0):
        along = np.concatenate([at - perimeter, at, at + perimeter])[:: int(way)] * way
        lowest = np.minimum.accumulate(np.tile(size, 3)[:: int(way)] - _GROWTH * along)
        size = (lowest + _GROWTH * along)[:: int(way)][len(at) : 2 * len(at)]
    return size
