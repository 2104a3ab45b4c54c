"""The linear form of the live gaps, parted into small blocks of neighboring holes.

One matrix of all gaps and all holes is nearly empty: its product with the random numbers would take most of the time.

Method: docs/theory/risk.md, eq. 11.
"""

from __future__ import annotations

from collections import defaultdict

import numpy as np
import numpy.typing as npt
from msgspec import Struct

from hatchwright.search.risk.gaps import Gaps

Floats = npt.NDArray[np.float64]
Integers = npt.NDArray[np.intp]

_ROWS = 8
"""Gaps of one block: fewer cost more calls, more have more empty products [-]. Own choice, measured by
`benchmarks/bench_risk.py`."""

_PARALLEL = 1e-9
"""Directions of a hole whose cross product is a smaller part of their lengths are one [-]."""


class Block(Struct, frozen=True):
    """Some gaps in a row, the random numbers that move them by themselves, and the change by each [in]."""

    rows: slice
    columns: slice | Integers
    change: Floats


class Blocks(Struct, frozen=True):
    """All live gaps, those of neighboring holes together.

    Args:
        order: index of each gap in what it was made from, shape (m,).
        common: change of each by each standard deviation of what is shared, without what moves none, shape (m, k) [in].
        columns: random numbers of all blocks together.
    """

    order: Integers
    common: Floats
    blocks: tuple[Block, ...]
    columns: int


def blocks_of(gaps: Gaps) -> Blocks:
    """Part the form of some gaps; a hole whose gaps all lie along one line gets one random number, not two."""
    columns_of = _columns(gaps)
    names = {name: at for at, name in enumerate(sorted({name for one in columns_of for name in one}))}
    placed = [{names[name]: change for name, change in one.items()} for one in columns_of]
    order = sorted(range(gaps.count), key=lambda gap: min(placed[gap], default=0))
    found = []
    for begin in range(0, gaps.count, _ROWS):
        some = [placed[gap] for gap in order[begin : begin + _ROWS]]
        columns = sorted({at for one in some for at in one})
        if columns:
            change = np.array([[one.get(at, 0.0) for at in columns] for one in some])
            found.append(Block(slice(begin, begin + len(some)), _taken(columns), change))
    common = gaps.common[order]
    return Blocks(np.array(order, dtype=np.intp), common[:, common.any(axis=0)], tuple(found), len(names))


def _taken(columns: list[int]) -> slice | Integers:
    """As a slice where they follow each other, which copies nothing."""
    first, last = columns[0], columns[-1]
    is_run = last - first + 1 == len(columns)
    return slice(first, last + 1) if is_run else np.array(columns, dtype=np.intp)


def _columns(gaps: Gaps) -> list[dict[tuple[int, int], float]]:
    """Of each gap its own random numbers, by hole and direction, with the change by each [in]."""
    of_hole: dict[int, dict[int, list[float]]] = defaultdict(lambda: defaultdict(lambda: [0.0, 0.0]))
    for gap, source, coefficient in zip(
        gaps.gap.tolist(), gaps.source.tolist(), gaps.coefficient.tolist(), strict=True
    ):
        of_hole[source // 2][gap][source % 2] += coefficient
    found: list[dict[tuple[int, int], float]] = [{} for _ in range(gaps.count)]
    for hole, changes in of_hole.items():
        longest = max(changes.values(), key=lambda one: one[0] ** 2 + one[1] ** 2)
        length2 = longest[0] ** 2 + longest[1] ** 2
        is_line = all(
            abs(x * longest[1] - y * longest[0]) <= _PARALLEL * length2 for x, y in changes.values()
        )
        for gap, (x, y) in changes.items():
            if is_line:
                found[gap][hole, 0] = (x * longest[0] + y * longest[1]) / length2**0.5
            else:
                found[gap][hole, 0], found[gap][hole, 1] = x, y
    for gap in np.flatnonzero(gaps.known_in).tolist():
        found[gap][-1 - gap, 0] = float(gaps.known_in[gap])
    return found
