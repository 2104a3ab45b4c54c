"""The proof by lot: so many jobs are drilled with random errors, and what ends short is counted.

Method: docs/theory/risk.md, eq. 11 and 12.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

import numpy as np
import numpy.typing as npt
from msgspec import Struct

from hatchwright.errors import GeometryError
from hatchwright.progress import Progress, unheard
from hatchwright.said import said
from hatchwright.search.risk.blocks import Blocks, blocks_of
from hatchwright.search.risk.chances import PER
from hatchwright.search.risk.gaps import Gaps

Floats = npt.NDArray[np.float64]
Integers = npt.NDArray[np.intp]
Bools = npt.NDArray[np.bool_]

FEWEST, MOST = 1_000, 100_000_000
"""Fewer trials show nothing, more take longer than anybody waits [-]. Own choice."""

TRIALS = 1_000_000
"""Trials where nobody asks for another number [-]."""

SEED = 1
"""Where the random numbers begin when nobody says [-]."""

_CHUNK = 2_048
"""Pairs of trials that are worked out together: their gaps stay in the nearest memory of the processor [-]."""

_LEAST_CHUNK, _AT_ONCE = 64, 600_000
"""Pairs at least, and gaps of all pairs together at most: a job of a thousand holes takes no more room [-]."""

_TOLD_EVERY = 16


class Estimate(Struct, frozen=True):
    """A chance or a number as counted, with its standard error."""

    value: float
    standard: float


class Simulated(Struct, frozen=True):
    """What was counted.

    Args:
        trials: jobs that were drilled by lot; an odd number is rounded up, since they come in pairs.
        distances: gaps that were simulated; the others are bounded in `Risk.left_out`.
        spoilt_per_hundred: distances that count and end short in a hundred jobs.
        holes: number of a hole to the chance that any of its distances ends short; those not named never did.
        rules: code to the chance that any of its distances ends short.
        of_gap: chance of each gap, in the order of `which`, shape (n,) [-].
        which: index of each simulated gap among all, shape (n,).
    """

    trials: int
    seed: int
    distances: int
    job: Estimate
    spoilt_per_hundred: Estimate
    holes: dict[int, Estimate]
    rules: dict[str, Estimate]
    of_gap: Floats
    which: Integers


class _Union:
    """Counts in how many trials any of some gaps ends short, once for each of a pair."""

    def __init__(self, rows: Iterable[int]) -> None:
        self.rows = np.array(sorted(rows), dtype=np.intp)
        self.once = self.both = 0

    def add(self, low: Bools, high: Bools) -> None:
        one, other = (np.logical_or.reduce(each[self.rows], axis=0) for each in (low, high))
        self.once += int(np.count_nonzero(one)) + int(np.count_nonzero(other))
        self.both += int(np.count_nonzero(one & other))

    def estimate(self, pairs: int) -> Estimate:
        return _estimate(self.once, self.once + 2 * self.both, pairs)


def _estimate(total: float, squares: float, pairs: int) -> Estimate:
    """Mean of a count over both of each pair, and its standard error from the means of the pairs.

    Args:
        total: sum of the counts of all trials.
        squares: sum of the squares of the counts of each pair.
    Method: docs/theory/risk.md, eq. 12.
    """
    mean = total / (2.0 * pairs)
    variance = max(0.0, squares / (4.0 * pairs) - mean**2)
    return Estimate(mean, math.sqrt(variance / pairs))


def simulate(
    gaps: Gaps, *, trials: int = TRIALS, seed: int = SEED, progress: Progress = unheard
) -> Simulated:
    """Drill a job so many times by lot, each draw taken as it is and with its sign turned.

    Args:
        gaps: of the whole job.
        seed: of the random numbers, 0 or more; the same seed gives the same counts.
    Raises:
        GeometryError: a number of trials or a seed that can't be.
    """
    if not FEWEST <= trials <= MOST:
        raise GeometryError.saying("risk.trials", where="trials", given=trials, least=FEWEST, most=MOST)
    if seed < 0:
        raise GeometryError.saying("risk.seed", where="seed")
    which = np.flatnonzero(gaps.is_live)
    live = gaps.taken(gaps.is_live)
    counts = gaps.counts[which]
    form = blocks_of(live)
    mean_in = live.mean_in[form.order][:, None]
    of_row = np.argsort(form.order)  # row of each live gap
    counted = of_row[counts]
    job = _Union(counted)
    rules = {
        code: _Union(of_row[_of_code(live, code)]) for code in sorted({one.code for one in live.between})
    }
    holes = {number: _Union(of_row[rows]) for number, rows in _of_holes(live, counts)}
    unions = [job, *rules.values(), *holes.values()]
    pairs = (trials + 1) // 2
    of_gap, spoilt, squares = np.zeros(live.count), 0, 0
    done = 0
    for at, (low, high) in enumerate(_drawn(form, mean_in, pairs, seed)):
        if at % _TOLD_EVERY == 0:
            progress(min(1.0, done / pairs), said("risk.doing", trials=2 * pairs))
        done += low.shape[1]
        of_gap += np.count_nonzero(low, axis=1) + np.count_nonzero(high, axis=1)
        several = np.add.reduce(low[counted], axis=0, dtype=np.int32)
        several += np.add.reduce(high[counted], axis=0, dtype=np.int32)
        spoilt, squares = spoilt + int(several.sum()), squares + int((several * several).sum())
        for union in unions:
            union.add(low, high)
    per_job = _estimate(spoilt, squares, pairs)
    return Simulated(
        trials=2 * pairs,
        seed=seed,
        distances=live.count,
        job=job.estimate(pairs),
        spoilt_per_hundred=Estimate(PER * per_job.value, PER * per_job.standard),
        holes={number: one.estimate(pairs) for number, one in holes.items()},
        rules={code: one.estimate(pairs) for code, one in rules.items()},
        of_gap=(of_gap / (2.0 * pairs))[of_row],
        which=which,
    )


def _drawn(form: Blocks, mean_in: Floats, pairs: int, seed: int) -> Iterator[tuple[Bools, Bools]]:
    """Which gaps end short in a chunk of trials, and which in the same with their signs turned, shape (m, n) each."""
    draw = np.random.Generator(np.random.PCG64(seed))
    rows, shared = form.common.shape
    size = min(_CHUNK, pairs, max(_LEAST_CHUNK, _AT_ONCE // max(rows, 1)))
    common, own = np.empty((shared, size)), np.empty((form.columns, size))
    change, part = np.empty((rows, size)), np.empty((rows, size))
    low, high = np.empty((rows, size), dtype=bool), np.empty((rows, size), dtype=bool)
    for begin in range(0, pairs, size):
        draw.standard_normal(out=common)
        draw.standard_normal(out=own)
        np.matmul(form.common, common, out=change)
        for block in form.blocks:
            added = part[: block.change.shape[0]]
            np.matmul(block.change, own[block.columns], out=added)
            change[block.rows] += added
        np.less(change, -mean_in, out=low)
        np.greater(change, mean_in, out=high)
        n = min(size, pairs - begin)
        yield low[:, :n], high[:, :n]


def _of_code(gaps: Gaps, code: str) -> Integers:
    return np.array([at for at, one in enumerate(gaps.between) if one.code == code], dtype=np.intp)


def _of_holes(gaps: Gaps, counts: Bools) -> Iterator[tuple[int, Integers]]:
    """Number of each hole, with the gaps that count and are about it."""
    found: dict[int, list[int]] = {}
    for at in np.flatnonzero(counts).tolist():
        for hole in filter(None, (gaps.between[at].hole, gaps.between[at].other)):
            found.setdefault(hole.number, []).append(at)
    return ((number, np.array(some, dtype=np.intp)) for number, some in sorted(found.items()))
