"""Laps along an edge: down a ramp to each level, once round, and over the tabs.

Height is worked out as a function of the length run: first what laps and ramps ask for, then never below the tabs,
which begin with a step up and end with a ramp down. Method: docs/theory/toolpath.md.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import count, pairwise, takewhile

import numpy as np
from msgspec import Struct

from hatchwright.making.toolpath.tool_moves import Move
from hatchwright.shapes.profile import Loop

_CLOSE_IN = 2e-5
"""Places along the run that are closer are one place: five decimals must not make two of them one [in]."""

_WIDEST_RAD = 0.5 * np.pi + 1e-9
"""Wider arcs are halved: five decimals place a center too loosely to hold a half circle within 1e-5 in."""

Run = tuple[float, float, float, float]
"""Length run and height at the beginning, the same at the end [in]."""


class Laps(Struct, frozen=True):
    """How an edge is cut.

    Args:
        levels_in: height of each lap, going down, negative [in].
        slope_ratio: descent for each unit of length [-].
        tab_run_in: how far the tool's center runs level over a tab [in].
        tab_top_in: height of the tool over a tab, negative [in].
        safe_in: height for moves across [in].
        approach_in: height where feed begins [in].
        feed_in: feed along the edge [in/min].
        plunge_in: feed straight down or up [in/min].
    """

    levels_in: tuple[float, ...]
    slope_ratio: float
    tab_count: int
    tab_run_in: float
    tab_top_in: float
    safe_in: float
    approach_in: float
    feed_in: float
    plunge_in: float

    @property
    def tab_foot_in(self) -> float:
        """Length of a tab at its foot, the ramp down from it included [in]."""
        return self.tab_run_in + max(self.tab_top_in - self.levels_in[-1], 0.0) / self.slope_ratio


def lap_moves(path: Loop, laps: Laps) -> Iterator[Move]:
    """The moves that cut one edge along a path of the tool's center [in], from and to the safe height."""
    # It begins at the longest piece, where a mark of the tool's entry is easiest to file away.
    trail = _Trail(Loop(np.roll(path.rows, -int(path.working_form().length_in.argmax()), axis=0)))
    at = trail.point(0.0)
    yield Move((*at, laps.safe_in))
    yield Move((*at, laps.approach_in))
    yield Move((*at, 0.0), laps.plunge_in)
    height = 0.0
    for start, z_start, end, z_end in _tidy(_heights(trail.length_in, laps), trail):
        if z_start > height + _CLOSE_IN:
            yield Move((*trail.point(start), z_start), laps.plunge_in)
        yield from trail.moves(start, z_start, end, z_end, laps.feed_in)
        height = z_end
    yield Move((*trail.point(end), laps.safe_in))


class _Trail:
    """A closed path that is run round and round, by the length run from its first vertex."""

    def __init__(self, path: Loop) -> None:
        self._parts = path.working_form()
        self._ends = np.cumsum(self._parts.length_in)
        self.length_in = float(self._ends[-1])
        wide = np.abs(self._parts.sweep_rad) > _WIDEST_RAD
        middles = (self._ends - 0.5 * self._parts.length_in)[wide]
        self._stops = [float(place) for place in np.sort(np.concatenate([self._ends, middles]))]

    def point(self, along: float) -> tuple[float, float]:
        which, share = self._piece(along)
        z = self._parts.at(np.array([which]), np.array([share]))[0]
        return float(z.real), float(z.imag)

    def snapped(self, along: float) -> float:
        """The same place, or the vertex that is as good as there."""
        turns, within = divmod(along, self.length_in)
        nearest = min((0.0, *self._stops), key=lambda stop: abs(stop - within))
        return turns * self.length_in + nearest if abs(nearest - within) < _CLOSE_IN else along

    def moves(self, start: float, z_start: float, end: float, z_end: float, feed_in: float) -> Iterator[Move]:
        """Moves from one place to another, one for each piece passed."""
        turns = int(start // self.length_in), int(end // self.length_in) + 1
        passed = (turn * self.length_in + stop for turn in range(*turns) for stop in self._stops)
        stops = [start, *(stop for stop in passed if start + _CLOSE_IN < stop < end - _CLOSE_IN), end]
        for here, there in pairwise(stops):
            which, _ = self._piece(0.5 * (here + there))
            to = (*self.point(there), z_start + (z_end - z_start) * (there - start) / (end - start))
            center = complex(self._parts.center[which])
            hub = (center.real, center.imag) if self._parts.is_arc[which] else None
            yield Move(to, feed_in, hub, is_left=bool(self._parts.bulge[which] > 0.0))

    def _piece(self, along: float) -> tuple[int, float]:
        within = along % self.length_in
        which = min(int(np.searchsorted(self._ends, within, side="right")), len(self._ends) - 1)
        length = float(self._parts.length_in[which])
        return which, (within - (float(self._ends[which]) - length)) / length


def _heights(length_in: float, laps: Laps) -> Iterator[Run]:
    """Height over the length run, in straight parts."""
    along, heights = [0.0], [0.0]
    for level in laps.levels_in:
        along += [along[-1] + (heights[-1] - level) / laps.slope_ratio]
        along += [along[-1] + length_in]
        heights += [level, level]
    apart, foot = length_in / laps.tab_count, laps.tab_foot_in
    tabs = list(takewhile(lambda begin: begin < along[-1], count(0.5 * apart, apart)))  # on every turn
    breaks = {*along, *(b for a in tabs for b in (a, a + laps.tab_run_in, a + foot) if b < along[-1])}
    for start, end in pairwise(sorted(breaks)):
        asked = [float(h) for h in np.interp((start, end), along, heights)]
        begun = [a for a in tabs if a < 0.5 * (start + end) < a + foot]
        if not begun:
            yield start, asked[0], end, asked[1]
            continue
        least = [
            laps.tab_top_in - laps.slope_ratio * max(s - begun[0] - laps.tab_run_in, 0.0)
            for s in (start, end)
        ]
        yield from _higher(start, end, asked, least)


def _higher(start: float, end: float, one: Sequence[float], other: Sequence[float]) -> Iterator[Run]:
    """The higher of two straight parts over the same length, cut where they cross."""
    above = one[0] - other[0], one[1] - other[1]
    if above[0] * above[1] >= 0.0:
        higher = one if above[0] + above[1] >= 0.0 else other
        yield start, higher[0], end, higher[1]
        return
    share = above[0] / (above[0] - above[1])
    middle, height = start + share * (end - start), one[0] + share * (one[1] - one[0])
    first, second = (one, other) if above[0] > 0.0 else (other, one)
    yield start, first[0], middle, height
    yield middle, height, end, second[1]


def _tidy(runs: Iterator[Run], trail: _Trail) -> list[Run]:
    """The same heights without parts too short to write, and with parts of one slope made one."""
    tidy: list[Run] = []
    for start, z_start, end, z_end in runs:
        start, end = trail.snapped(start), trail.snapped(end)
        if end - start < _CLOSE_IN:
            continue
        if tidy:
            before, z_before, start, z_joint = tidy[-1]
            slopes = (z_joint - z_before) / (start - before), (z_end - z_start) / (end - start)
            if abs(z_joint - z_start) < _CLOSE_IN * 0.1 and abs(slopes[0] - slopes[1]) < 1e-9:
                tidy[-1] = (before, z_before, end, z_end)
                continue
        tidy.append((start, z_start, end, z_end))
    return tidy
