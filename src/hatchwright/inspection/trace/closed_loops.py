"""Closed loops out of runs of points that were drawn in any order and direction."""

from __future__ import annotations

import numpy as np

from hatchwright.errors import EntryError
from hatchwright.number import SIZE_IN
from hatchwright.said import Place, inch
from hatchwright.shapes.pieces import Complexes, Floats, points_of

MOST_POINTS = 200_000
"""More take seconds, and no part of an opening needs them [-]."""

_SAME_IN = 1e-7
"""Neighboring points closer than this are one [in]."""

_TWIN_PLACES = 5
"""Decimals by which two runs are one [-]."""

_NEAR = 4
"""Ends that are looked at beside each [-]."""


def closed_loops(runs: list[Complexes], *, gap_in: float, name: str) -> tuple[Floats, ...]:
    """Join runs end to end.

    Args:
        runs: each of shape (n,) [in].
        gap_in: how far two ends that belong together may lie apart [in].
    Returns:
        tuple[Floats, ...]: closed polygons, their last point not the first again, each of shape (n, 2) [in].
    Raises:
        EntryError: nothing is drawn, a point lies too far away, or a run stays open; the place is named.
    """
    runs = _without_twins([run for run in map(_without_repeats, runs) if len(run) > 1])
    if not runs:
        raise EntryError.saying("trace.empty", where=name)
    if not all(np.all(np.abs(points_of(run)) <= SIZE_IN.most) for run in runs):
        raise EntryError.saying("job.dxf_far", name=name, most=inch(SIZE_IN.most))
    ends = np.array([end for run in runs for end in (run[0], run[-1])])
    partner = _partners(ends, runs, gap_in)
    _refuse_open(ends, partner, gap_in, name)
    loops, left = [], set(range(len(runs)))
    while left:
        end = 2 * min(left)
        chain: list[Complexes] = []
        while end // 2 in left:
            left.remove(end // 2)
            run = runs[end // 2]
            chain.append(run if end % 2 == 0 else run[::-1])
            end = int(partner[end ^ 1])
        loop = _without_repeats(np.concatenate(chain))
        if abs(loop[0] - loop[-1]) <= _SAME_IN:
            loop = loop[:-1]
        if len(loop) > 2:
            loops.append(points_of(loop))
    return tuple(loops)


def _without_repeats(run: Complexes) -> Complexes:
    return run[np.concatenate([[True], np.abs(np.diff(run)) > _SAME_IN])] if len(run) else run


def _without_twins(runs: list[Complexes]) -> list[Complexes]:
    """Each run once, whichever way it was drawn: what lies on two layers is one edge."""
    seen: dict[object, Complexes] = {}
    for run in runs:
        ends = sorted(_rounded(end) for end in (run[0], run[-1]))
        seen.setdefault((*ends, _rounded(run.mean()), len(run)), run)
    return list(seen.values())


def _rounded(z: complex) -> tuple[float, float]:
    return round(float(z.real), _TWIN_PLACES), round(float(z.imag), _TWIN_PLACES)


def _partners(ends: Complexes, runs: list[Complexes], gap_in: float) -> Floats:
    """For each end the one that it meets, -1 for none; the nearest first."""
    from scipy.spatial import cKDTree

    points = points_of(ends)
    apart, others = cKDTree(points).query(points, k=min(_NEAR + 1, len(ends)), distance_upper_bound=gap_in)
    pairs = sorted(
        (float(far), one, int(other))
        for one, (row, near) in enumerate(zip(apart, others, strict=True))
        for far, other in zip(row, near, strict=True)
        if one < other < len(ends)
    )
    partner = np.full(len(ends), -1)
    for _, one, other in pairs:
        is_whole = one // 2 == other // 2
        if partner[one] < 0 and partner[other] < 0 and not (is_whole and len(runs[one // 2]) < 4):
            partner[one], partner[other] = other, one
    return partner


def _refuse_open(ends: Complexes, partner: Floats, gap_in: float, name: str) -> None:
    loose = ends[partner < 0]
    if not len(loose):
        return
    apart = np.abs(loose[:, None] - loose)
    np.fill_diagonal(apart, np.inf)
    one = int(np.argmin(apart.min(axis=1)))
    raise EntryError.saying(
        "trace.open",
        where=name,
        n=len(loose),
        place=Place(float(loose[one].real), float(loose[one].imag)),
        apart=inch(float(apart[one].min())),
        gap=inch(gap_in, fine=True),
    )
