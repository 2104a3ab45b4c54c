"""Which reading is of which hole, once the pattern is laid on: by number, by place, or neither.

Method: docs/theory/matching.md, eq. 5.
"""

from __future__ import annotations

import numpy as np
from msgspec import Struct

from hatchwright.inspection.pattern import Pattern
from hatchwright.inspection.readings import Reading
from hatchwright.metrology.real_offset import Floats


class Matching(Struct, frozen=True):
    """Readings and holes paired.

    Args:
        pairs: place of a reading among the readings, and of its hole in the pattern.
        extra: readings that are of no hole.
        missing: holes that have no reading.
    """

    pairs: tuple[tuple[int, int], ...]
    extra: tuple[int, ...]
    missing: tuple[int, ...]


def matched(
    pattern: Pattern, readings: tuple[Reading, ...], laid_in: Floats, *, numbers_hold: bool
) -> Matching:
    """Pair readings with holes, each once, so that the sum of squared distances is least.

    A reading that lies at the hole of its own number is that hole's. All others take the holes that are left, none
    farther than half of the least distance between two holes. A reading that is farther off keeps its number where that
    is free.

    Args:
        laid_in: where the holes lie by the pose, shape (n, 2) [in].
        numbers_hold: whether the numbers agree with the pose.
    """
    from scipy.optimize import linear_sum_assignment

    index = pattern.index_of()
    places = np.array([one.place for one in readings])
    own = [index.get(one.number) if numbers_hold and one.number is not None else None for one in readings]
    pairs: dict[int, int] = {}
    for k, hole in enumerate(own):
        if hole is not None and np.hypot(*(places[k] - laid_in[hole])) < pattern.gap_in:
            pairs[k] = hole
    left = np.array([k for k in range(len(readings)) if k not in pairs], dtype=int)
    free = np.array(sorted(set(range(len(laid_in))) - set(pairs.values())), dtype=int)
    if len(left) and len(free):
        far = np.hypot(*(places[left][:, None, :] - laid_in[free][None, :, :]).transpose(2, 0, 1))
        rows, columns = linear_sum_assignment(np.minimum(far, pattern.gap_in) ** 2)
        near = far[rows, columns] < pattern.gap_in
        pairs |= {int(left[k]): int(free[hole]) for k, hole in zip(rows[near], columns[near], strict=True)}
    taken = set(pairs.values())
    for k, hole in enumerate(own):
        if k not in pairs and hole is not None and hole not in taken:
            pairs[k] = hole
            taken.add(hole)
    return Matching(
        pairs=tuple(sorted(pairs.items())),
        extra=tuple(k for k in range(len(readings)) if k not in pairs),
        missing=tuple(hole for hole in range(len(laid_in)) if hole not in taken),
    )
