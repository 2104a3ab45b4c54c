"""Upright boxes on the page, one by one and many at once."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import chain
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]


class Box(NamedTuple):
    """An upright box on the page [in]."""

    left: float
    bottom: float
    right: float
    top: float

    @property
    def width_in(self) -> float:
        """Width [in]."""
        return self.right - self.left

    @property
    def height_in(self) -> float:
        """Height [in]."""
        return self.top - self.bottom

    @property
    def middle(self) -> tuple[float, float]:
        """Its middle (x, y) [in]."""
        return 0.5 * (self.left + self.right), 0.5 * (self.bottom + self.top)

    @property
    def corners(self) -> tuple[tuple[float, float], ...]:
        """Its corners (x, y), counter-clockwise from the lower left one and back to it [in]."""
        left, bottom, right, top = self
        return (left, bottom), (right, bottom), (right, top), (left, top), (left, bottom)

    def touches(self, other: Box) -> bool:
        """Whether the two boxes have a point in common."""
        beside = self.left <= other.right and other.left <= self.right
        return beside and self.bottom <= other.top and other.bottom <= self.top

    def grown(self, by_in: float) -> Box:
        """The box with every side moved outward [in]."""
        return Box(self.left - by_in, self.bottom - by_in, self.right + by_in, self.top + by_in)

    def clipped(self, start: tuple[float, float], end: tuple[float, float]) -> tuple[float, float]:
        """Shares of a straight line at which it enters the box and leaves it, the first the greater where it misses."""
        enter, leave = 0.0, 1.0
        for a, b, low, high in zip(start, end, self[:2], self[2:], strict=True):
            if a == b:
                enter, leave = (enter, leave) if low <= a <= high else (1.0, 0.0)
            else:
                near, far = sorted(((low - a) / (b - a), (high - a) / (b - a)))
                enter, leave = max(enter, near), min(leave, far)
        return enter, leave


def sides_of(boxes: Iterable[Box]) -> Floats:
    """Left, bottom, right and top of each box, shape (n, 4) [in]."""
    return np.fromiter(chain.from_iterable(boxes), np.float64).reshape(-1, 4)


def touching(boxes: Floats, others: Floats) -> npt.NDArray[np.bool_]:
    """Which box touches which other, shape (n, m), from their sides of shape (n, 4) and (m, 4) [in]."""
    return meeting(boxes[:, None, :], others[None, :, :])


def meeting(boxes: Floats, others: Floats) -> npt.NDArray[np.bool_]:
    """Whether each box touches the other of its pair; sides in the last axis, the axes before it broadcast."""
    met: npt.NDArray[np.bool_] = (
        (boxes[..., 0] <= others[..., 2])
        & (boxes[..., 1] <= others[..., 3])
        & (boxes[..., 2] >= others[..., 0])
        & (boxes[..., 3] >= others[..., 1])
    )
    return met
