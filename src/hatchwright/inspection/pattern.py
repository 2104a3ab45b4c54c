"""The holes of a job as drawn, to which readings are matched.

Method: docs/theory/matching.md, eq. 1.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cached_property
from typing import Any

import numpy as np
import numpy.typing as npt
from msgspec import Struct

from hatchwright.metrology.real_offset import Floats

Counts = npt.NDArray[np.int64]


class Pattern(Struct, frozen=True, dict=True):
    """The holes as drawn.

    Args:
        numbers: of each hole, shape (n,).
        places_in: shape (n, 2) [in].
        gap_in: half of the least distance between two holes: a reading that is nearer to one than that belongs to no
            other [in].
    """

    numbers: Counts
    places_in: Floats
    gap_in: float

    @property
    def middle_in(self) -> Floats:
        """Mean of the places, shape (2,) [in]."""
        middle: Floats = self.places_in.mean(axis=0)
        return middle

    @cached_property
    def tree(self) -> Any:
        """Finds the hole next to a place."""
        from scipy.spatial import KDTree

        return KDTree(self.places_in)

    def index_of(self) -> dict[int, int]:
        """Number of each hole to its place in the arrays."""
        return {int(number): at for at, number in enumerate(self.numbers)}


def pattern_of(places_in: Mapping[int, tuple[float, float]]) -> Pattern:
    """The pattern of numbered places [in]."""
    numbers = np.array(sorted(places_in), dtype=np.int64)
    places = np.array([places_in[int(number)] for number in numbers], dtype=float).reshape(-1, 2)
    bare = Pattern(numbers, places, _FAR_IN)
    if len(places) < 2:
        return bare
    nearest = bare.tree.query(places, k=2)[0][:, 1]
    return Pattern(numbers, places, 0.5 * float(nearest.min()))


_FAR_IN = 1e3
"""The gap of a pattern of one hole: farther than any reading lies [in]."""
