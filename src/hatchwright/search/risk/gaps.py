"""All distances of a job that can end short, as one linear form in the errors: G = g0 + A c + W z.

Method: docs/theory/risk.md, eq. 1 to 6.
"""

from __future__ import annotations

import math
from functools import cached_property

import numpy as np
import numpy.typing as npt
from msgspec import Struct

from hatchwright.layout.layout import Edge, Hole, Part
from hatchwright.search.risk.errors import CULPRITS, Culprit

Floats = npt.NDArray[np.float64]
Integers = npt.NDArray[np.intp]
Bools = npt.NDArray[np.bool_]

LIVE = 7.5
"""Gaps wider than so many standard deviations are bounded and not simulated [-]."""

AS_MEASURED = len(CULPRITS)
"""Column, behind those of the culprits, of what is measured already and known within its uncertainty."""


class Between(Struct, frozen=True):
    """What one gap lies between: a hole and an edge, two holes, or a hole and the row beside it.

    Args:
        other: the second hole, None for an edge.
        part: whose edge it is, None between holes.
        other_row: name of the row beside it, "" for none.
        across: the edge on the other side, where the sheet between two edges is meant; None else.
        is_greatest: whether the distance may be too long, and not too short.
    """

    code: str
    hole: Hole
    part: Part | None = None
    edge: Edge | None = None
    other: Hole | None = None
    other_row: str = ""
    across: Edge | None = None
    is_greatest: bool = False

    @property
    def measured(self) -> tuple[object, ...]:
        """What tells one measured distance, and which way it may miss, from another, whatever rule holds it."""
        other = self.other.number if self.other else 0
        part, edge = self.part.name if self.part else "", self.edge.name if self.edge else ""
        across = self.across.name if self.across else ""
        return frozenset((self.hole.number, other)), part, edge, self.other_row, across, self.is_greatest


class Gaps(Struct, frozen=True, dict=True):
    """n gaps, each what is measured less its limit, positive while it holds.

    Args:
        between: of each.
        drawn_in: gap as drawn, shape (n,) [in].
        measured_in: distance as drawn, and limit_in: what it is held to, shape (n,) [in].
        holds_back: whether work stops, or can't be shown to pass, where it ends short, shape (n,).
        is_held: whether it does so already, as drawn or as measured, shape (n,).
        common: change of each gap by each standard deviation of an error that holes share, shape (n, k) [in].
        culprit: index of the culprit of each of those, shape (k,).
        gap, source, coefficient: the same of what each hole has by itself: coefficient[j] is the change of gap[j] by
            each standard deviation of source[j]; shape (w,), (w,) and (w,) [in].
        bent_in: mean of what bends, culprit by culprit, shape (n, n_culprits) [in].
        known_in: standard uncertainty of what is measured already, shape (n,) [in].
        sources: number of sources.
    """

    between: tuple[Between, ...]
    drawn_in: Floats
    measured_in: Floats
    limit_in: Floats
    holds_back: Bools
    is_held: Bools
    common: Floats
    culprit: Integers
    gap: Integers
    source: Integers
    coefficient: Floats
    bent_in: Floats
    known_in: Floats
    sources: int

    @property
    def count(self) -> int:
        """Number of gaps."""
        return len(self.between)

    @cached_property
    def variance_in2(self) -> Floats:
        """Of each gap by each culprit, and by what is measured already, shape (n, n_culprits + 1) [in^2]."""
        found = np.zeros((self.count, len(CULPRITS) + 1))
        for k, culprit in enumerate(self.culprit.tolist()):
            found[:, culprit] += self.common[:, k] ** 2
        own = np.bincount(self.gap, weights=self.coefficient**2, minlength=self.count)
        found[:, CULPRITS.index(Culprit.DRILLING)] += own[: self.count]
        found[:, AS_MEASURED] = self.known_in**2
        return found

    @cached_property
    def mean_in(self) -> Floats:
        """g0: the gap that is to be expected, shape (n,) [in]."""
        mean_in: Floats = self.drawn_in + self.bent_in.sum(axis=1)
        return mean_in

    @cached_property
    def deviation_in(self) -> Floats:
        """Standard deviation of each gap, shape (n,) [in]."""
        deviation_in: Floats = np.sqrt(self.variance_in2.sum(axis=1))
        return deviation_in

    def short(
        self, scales: Floats | None = None, *, measuring_in: float = 0.0, beyond_in: float = 0.0
    ) -> Floats:
        """Chance of each gap to end short, whatever its errors share with those of others, shape (n,) [-].

        Args:
            scales: what the standard deviation of each culprit is multiplied by, None for one, shape (n_culprits,) [-].
            measuring_in: standard deviation of a measured distance, 0 for what is true [in].
            beyond_in: how much farther than its limit it is to be, negative for as much less [in].
        Method: docs/theory/risk.md, eq. 6.
        """
        variance, bent = self.variance_in2, self.bent_in
        if scales is not None:
            variance = variance * np.append(scales**2, 1.0)
            bent = bent * scales**2
        mean_in = self.drawn_in + bent.sum(axis=1) - beyond_in
        deviation_in = np.sqrt(variance.sum(axis=1) + measuring_in**2)
        return below(mean_in, deviation_in)

    @cached_property
    def counts(self) -> Bools:
        """Which of them count for the job: they hold back, and of those on one distance only the narrowest, shape (n,).

        What is short as drawn does not, nor what nothing moves: the rules speak of it, and no scatter makes it so.
        """
        narrowest: dict[tuple[object, ...], int] = {}
        for i in np.flatnonzero(self.holds_back & self.is_open).tolist():
            key = self.between[i].measured
            at = narrowest.get(key)
            if at is None or self.drawn_in[i] < self.drawn_in[at]:
                narrowest[key] = i
        found = np.zeros(self.count, dtype=bool)
        found[list(narrowest.values())] = True
        return found

    @cached_property
    def is_short_as_drawn(self) -> Bools:
        """Which are short before anything is drilled, shape (n,)."""
        return self.drawn_in < -1e-9

    @cached_property
    def is_open(self) -> Bools:
        """Which hold as drawn, and something moves them yet, shape (n,)."""
        is_moved: Bools = self.variance_in2[:, :AS_MEASURED].sum(axis=1) > 0.0
        return ~self.is_short_as_drawn & is_moved

    @cached_property
    def is_live(self) -> Bools:
        """Which are narrow enough to be simulated, shape (n,)."""
        return self.is_open & (self.mean_in < LIVE * self.deviation_in)

    def taken(self, chosen: Bools) -> Gaps:
        """Some of them, by a mask of shape (n,)."""
        index = np.cumsum(chosen) - 1
        kept = chosen[self.gap]
        return Gaps(
            between=tuple(one for one, is_kept in zip(self.between, chosen.tolist(), strict=True) if is_kept),
            drawn_in=self.drawn_in[chosen],
            measured_in=self.measured_in[chosen],
            limit_in=self.limit_in[chosen],
            holds_back=self.holds_back[chosen],
            is_held=self.is_held[chosen],
            common=self.common[chosen],
            culprit=self.culprit,
            gap=index[self.gap[kept]],
            source=self.source[kept],
            coefficient=self.coefficient[kept],
            bent_in=self.bent_in[chosen],
            known_in=self.known_in[chosen],
            sources=self.sources,
        )


def nothing() -> Gaps:
    """No gap at all, as of a job without holes."""
    none, no_index = np.zeros(0), np.zeros(0, dtype=np.intp)
    no_bend = np.zeros((0, len(CULPRITS)))
    is_none = np.zeros(0, dtype=bool)
    no_common = np.zeros((0, 0))
    return Gaps(
        (),
        none,
        none,
        none,
        is_none,
        is_none,
        no_common,
        no_index,
        no_index,
        no_index,
        none,
        no_bend,
        none,
        0,
    )


def below(mean_in: Floats, deviation_in: Floats) -> Floats:
    """Chance that normal values come out under nought, shape (n,) [-]; what can't scatter is sure.

    Method: docs/theory/risk.md, eq. 6: Phi(-g0/s).

    >>> below(np.array([0.0, 0.02, 0.1]), np.array([0.01, 0.01, 0.0])).round(5).tolist()
    [0.5, 0.02275, 0.0]
    """
    pairs = zip(mean_in.tolist(), deviation_in.tolist(), strict=True)
    return np.array([_below(mean, deviation) for mean, deviation in pairs])


def _below(mean: float, deviation: float) -> float:
    if deviation <= 0.0:
        return 1.0 if mean < -1e-9 else 0.0
    return 0.5 * math.erfc(mean / (deviation * math.sqrt(2.0)))
