"""Sections of the doubler square to a load: at the middle of the opening, and the least of all that the load passes."""

from __future__ import annotations

import numpy as np
from msgspec import Struct
from numpy.typing import NDArray

from hatchwright.errors import HatchwrightError
from hatchwright.layout.layout import Hole, points_of
from hatchwright.layout.stray import Stray
from hatchwright.layout.stray_edges import open_in
from hatchwright.strength.drawn_load import middle_of_cut
from hatchwright.strength.lost_width import lost_width_in
from hatchwright.strength.site import Site, section_widths_in

Floats = NDArray[np.float64]

_STEPS = 97
_BESIDE_IN = 1e-6
"""A section so far beside a corner is as good as on it, and doesn't run along an edge square to the load [in]."""

_ALIKE = 1e-5
"""Legs, or sections, whose metal for all of the load differs by less are alike: as little as an arc is off [in]."""


class DoublerSection(Struct, frozen=True):
    """One section of the doubler, with both legs or one.

    Args:
        at_in: its place along the load [in].
        leg: 0 for the leg below the middle of the opening, 1 for the one above, None for both.
        width_in: of metal, before holes [in].
        cut: the holes that the section is taken to cut: those that it does, open stray ones too, and one of every row
            that it crosses between two holes, as far as their size is known.
        known_in: width of metal that each takes away [in].
        missing: why the size of another is not known, None where all are.
    """

    at_in: float
    leg: int | None
    width_in: float
    cut: tuple[Hole | Stray, ...] = ()
    known_in: tuple[float, ...] = ()
    missing: HatchwrightError | None = None

    @property
    def holes_in(self) -> tuple[float, ...]:
        """Width that each of the holes takes away [in].

        Raises:
            HatchwrightError: the size of one is not known.
        """
        if self.missing is not None:
            raise self.missing
        return self.known_in


def doubler_section(site: Site, axis: int) -> DoublerSection:
    """Cut the doubler across the middle of the opening; one that is split has no metal there for a load across it.

    Args:
        site: with a doubler.
        axis: the load runs along it, 0 for X, 1 for Y.
    """
    at_in = site.layout.center_in[axis]
    if _is_split(site, axis):
        return DoublerSection(at_in, None, 0.0)
    return _sweep(site, axis, np.array([at_in])).section(0, None)


def least_section(site: Site, axis: int, shares: tuple[float, float]) -> DoublerSection:
    """The section anywhere along the opening that has the least metal for what passes it, of both legs or of one.

    Sections pass through the corners of opening and doubler, the middle, every line of holes, and many places between,
    from the last line of holes before the opening to the first one beyond it. All of the load passes each of them.

    Args:
        site: with a doubler.
        axis: the load runs along it, 0 for X, 1 for Y.
        shares: of the load, below and above the middle of the opening [-].
    Returns:
        DoublerSection: of both legs where they are alike, else of the weaker one.
    Method: docs/theory/net_section.md.
    """
    if _is_split(site, axis):
        return DoublerSection(site.layout.center_in[axis], None, 0.0)
    sweep, middle_in = _sweep(site, axis, _places(site, axis)), site.layout.center_in[axis]
    at, _, _ = sweep.weakest(shares, middle_in)
    # Once more, closely about the weakest: a corner's arc has its least a little beyond its tangent.
    low, high = max(at - 1, 0), min(at + 1, len(sweep.at_in) - 1)
    near_in = np.linspace(sweep.at_in[low], sweep.at_in[high], _STEPS)
    sweep = _sweep(site, axis, np.unique(np.append(near_in, sweep.at_in[at])))
    at, leg, is_alike = sweep.weakest(shares, middle_in)
    return sweep.section(at, None if is_alike else leg)


def _is_split(site: Site, axis: int) -> bool:
    patch = site.layout.job.patch
    return bool(patch and patch.split and patch.split.axis == axis)


def _places(site: Site, axis: int) -> Floats:
    """Where to cut, in order, shape (k,) [in]."""
    assert site.doubler is not None  # asked for only with a doubler
    outer, *windows = (edge.loop for edge in site.doubler.part.edges if not edge.is_split)
    gaps = (site.layout.opening, *windows)
    low_in = min(loop.bounds[axis] for loop in gaps)
    high_in = max(loop.bounds[axis + 2] for loop in gaps)
    lines_in = np.array([hole.place[axis] for hole in site.layout.holes if "doubler" in hole.stack])
    strays_in = [stray.place[axis] for stray in open_in(site.layout, "doubler")]
    corners_in = np.concatenate([loop.rows[:, axis] for loop in (outer, *gaps)])
    places_in = np.concatenate(
        [
            [site.layout.center_in[axis]],
            np.linspace(low_in, high_in, _STEPS),
            *(corners_in + beside_in for beside_in in (-_BESIDE_IN, 0.0, _BESIDE_IN)),
            lines_in,
            strays_in,
        ]
    )
    along = places_in[(places_in >= low_in) & (places_in <= high_in)]
    before_in, beyond_in = lines_in[lines_in < low_in], lines_in[lines_in > high_in]
    return np.unique(np.concatenate([np.sort(before_in)[-1:], along, np.sort(beyond_in)[:1]]))


class _Sweep(Struct, frozen=True, eq=False):
    """Metal and holes of the doubler's legs on several sections.

    Args:
        at_in: places along the load, in order, shape (k,) [in].
        width_in: metal below and above the middle of the opening, before holes, shape (k, 2) [in].
        holes: those of the doubler, and the stray ones that are open in it, m of them.
        hole_in: width that each takes away, 0 where it is not known, shape (m,) [in].
        is_cut: which each section is taken to cut, shape (k, m).
        is_above: which lie above the middle, shape (m,).
        missing: why the size of one on the way is not known, None where all are.
    """

    at_in: Floats
    width_in: Floats
    holes: tuple[Hole | Stray, ...]
    hole_in: Floats
    is_cut: NDArray[np.bool_]
    is_above: NDArray[np.bool_]
    missing: HatchwrightError | None

    def weakest(self, shares: tuple[float, float], middle_in: float) -> tuple[int, int, bool]:
        """The section and the leg with the least metal for its share, and whether its other leg is as weak; of several
        alike the one next to the middle of the opening.
        """
        above_in, below_in = (self.is_cut * self.hole_in * on for on in (self.is_above, ~self.is_above))
        lost_in = np.stack([below_in.sum(axis=1), above_in.sum(axis=1)], axis=1)
        left_in = np.maximum(self.width_in - lost_in, 0.0) / np.array(shares)
        least_in = left_in.min(axis=1)
        alike = np.flatnonzero(least_in <= least_in.min() + _ALIKE)
        at = int(alike[np.abs(self.at_in[alike] - middle_in).argmin()])
        return at, int(left_in[at].argmin()), bool(np.ptp(left_in[at]) <= _ALIKE)

    def section(self, at: int, leg: int | None) -> DoublerSection:
        """One of them, both legs or one."""
        on_leg = np.ones_like(self.is_above) if leg is None else self.is_above == bool(leg)
        chosen = np.flatnonzero(self.is_cut[at] & on_leg & (self.hole_in > 0.0)).tolist()
        width_in = self.width_in[at].sum() if leg is None else self.width_in[at, leg]
        return DoublerSection(
            at_in=float(self.at_in[at]),
            leg=leg,
            width_in=float(width_in),
            cut=tuple(self.holes[k] for k in chosen),
            known_in=tuple(self.hole_in[chosen].tolist()),
            missing=self.missing,
        )


def _sweep(site: Site, axis: int, at_in: Floats) -> _Sweep:
    assert site.doubler is not None
    middle_in = middle_of_cut(site, axis)
    width_in = np.zeros((len(at_in), 2))
    for edge in site.doubler.part.edges:
        found_in = section_widths_in(edge.loop, axis=axis, at_in=at_in, middle_in=middle_in)
        width_in += found_in if edge.metal_inside else -found_in
    holes = tuple(hole for hole in site.layout.holes if "doubler" in hole.stack)
    hole_in, errors = np.zeros(len(holes)), {}
    for k, hole in enumerate(holes):
        try:
            hole_in[k] = lost_width_in(site, hole, "doubler")
        except HatchwrightError as error:
            errors[k] = error
    strays = open_in(site.layout, "doubler")
    hole_in = np.concatenate([hole_in, [stray.hole_in + stray.uncertainty_in for stray in strays]])
    places = np.concatenate([points_of(holes), np.array([stray.place for stray in strays]).reshape(-1, 2)])
    missing = None
    is_above = places[:, 1 - axis] > middle_in
    is_cut = np.abs(at_in[:, None] - places[:, axis]) < hole_in / 2.0
    rows: dict[tuple[str, bool], list[int]] = {}
    for k, hole in enumerate(holes):
        rows.setdefault((hole.row, bool(is_above[k])), []).append(k)
    for row in rows.values():
        own_in = places[row, axis]
        crosses = (own_in.min() <= at_in) & (at_in <= own_in.max())
        passes_between = crosses & ~is_cut[:, row].any(axis=1)
        is_cut[passes_between, row[int(hole_in[row].argmax())]] = True
        if crosses.any():
            missing = next((errors[k] for k in row if k in errors), missing)
    return _Sweep(at_in, width_in, (*holes, *strays), hole_in, is_cut, is_above, missing)
