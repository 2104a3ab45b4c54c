"""Free places among square cells, each free or taken."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt


def free_places(taken: npt.NDArray[np.bool_], wide: int, high: int) -> npt.NDArray[np.intp]:
    """Where a rectangle of so many cells lies on free ones alone.

    Args:
        taken: by column and row.
    Returns:
        column and row of the lower left cell of each place, of shape (n, 2).
    """
    columns, rows = taken.shape
    if wide > columns or high > rows:
        return np.empty((0, 2), dtype=np.intp)
    summed = np.zeros((columns + 1, rows + 1), dtype=np.int64)
    summed[1:, 1:] = taken.cumsum(axis=0).cumsum(axis=1)
    within = summed[wide:, high:] - summed[:-wide, high:] - summed[wide:, :-high] + summed[:-wide, :-high]
    return np.argwhere(within == 0)
