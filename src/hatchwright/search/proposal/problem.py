"""What is searched at one size of opening: rivets and sheets, each with its limits, its room and what it keeps off."""

from __future__ import annotations

import math
from collections.abc import Iterator, Set
from functools import cached_property

import numpy as np
from msgspec import Struct
from msgspec.structs import replace

from hatchwright.errors import HatchwrightError
from hatchwright.job.fasteners import without_length
from hatchwright.layout.layout import Layout, points_of
from hatchwright.layout.mass import rivet_masses
from hatchwright.search.proposal.best_first import Drilled, Found, Tally, in_order
from hatchwright.search.proposal.family import Family, Kind, family_of
from hatchwright.search.proposal.limits import kept_in, limits_of
from hatchwright.search.proposal.obstacles import obstacles_of
from hatchwright.search.proposal.place import Obstacles, Shift, least_shift, widest_shifted_in
from hatchwright.search.proposal.ring import Shape
from hatchwright.search.proposal.values import Aim
from hatchwright.tables.materials import sheet
from hatchwright.tables.rivet_part import parse_rivet

_STRICTLY_IN = 1e-6
"""A ring that goes through is narrower than the way through by more than this: touching is not through [in]."""


class Asked(Struct, frozen=True):
    """One rivet in one sheet, with what its ring keeps off.

    Args:
        least_in: narrowest ring of one row, and of two, that strength asks for [in].
    """

    kind: Kind
    obstacles: Obstacles
    least_in: tuple[float, float] = (0.0, 0.0)


class Problem(Struct, frozen=True, dict=True):
    """A size of opening, and what may be laid round it.

    Args:
        step_in: lengths are rounded up to this [in].
        most_rows: rows on each side at most [-].
        shift_in: how far opening and ring may be shifted at most [in].
        through: whether the ring must go through the opening flat.
        near: what else is drilled round the opening.
    """

    shape: Shape
    asked: tuple[Asked, ...]
    step_in: float
    most_rows: int
    shift_in: float
    through: bool
    near: Drilled

    def room_in(self, one: Asked) -> float:
        """The widest ring that has a place, and goes through where it must; less than nothing where none has [in]."""
        if self.shift_in > 0.0:
            place_in = widest_shifted_in(one.obstacles, self.shape, self.shift_in, self.step_in)
        else:
            place_in = one.obstacles.widest_in(self.shape)
        return min(place_in, self.through_in) if self.through else place_in

    def of(self, rivet: str, gauge_in: float) -> Problem:
        """The part of it that has one rivet in one gauge of doubler."""
        some = (one for one in self.asked if (one.kind.limits.rivet, one.kind.gauge_in) == (rivet, gauge_in))
        return replace(self, asked=tuple(some))

    def _at_most_in(self, one: Asked) -> float:
        """No ring can be wider: a shift gives no more room than it is long, and whether there is a place is asked of
        each width, see `has_room` [in]."""
        place_in = one.obstacles.widest_in(self.shape) + self.shift_in
        return min(place_in, self.through_in) if self.through else place_in

    def has_room(self, of: int, width: int) -> bool:
        """Whether a ring has a place, itself or shifted.

        Args:
            of: number of its family.
            width: of the ring [steps].
        """
        if self.shift_in <= 0.0:
            return True  # no wider ring is in the family
        fits, misses = self._rooms[of]
        if not fits < width < misses:
            return width <= fits
        one = self.asked[of]
        found = least_shift(one.obstacles, self.shape, width * self.step_in, self.shift_in, self.step_in)
        self._rooms[of] = (fits, width) if found is None else (width, misses)
        return found is not None

    @cached_property
    def _rooms(self) -> list[tuple[int, float]]:
        """Of each family the widest ring that was found to have a place, and the narrowest that has none [steps]."""
        return [(-1, math.inf)] * len(self.asked)

    @property
    def through_in(self) -> float:
        """The widest ring whose least width is shorter than the longest chord of the opening [in]."""
        shape = self.shape
        return (shape.longest_chord_in - min(shape.width_in, shape.height_in)) / 2.0 - _STRICTLY_IN

    @cached_property
    def families(self) -> tuple[Family, ...]:
        """The rings of every rivet in every sheet that have the rivets asked for and room."""
        return tuple(
            family_of(
                self.shape,
                one.kind,
                step_in=self.step_in,
                widest_in=max(0.0, self._at_most_in(one)),
                most_rows=self.most_rows,
                least_in=one.least_in,
            )
            for one in self.asked
        )

    def in_order(self, aim: Aim, tally: Tally, left_out: Set[int] = frozenset()) -> Iterator[Found]:
        """Every ring that holds hole by hole and has a place, the best of an aim first.

        Args:
            left_out: numbers of families that are laid out no more; it may grow on the way.
        """

        def has_room(of: int, width: int) -> bool:
            return of not in left_out and self.has_room(of, width)

        return in_order(aim, self.families, self.near, tally, has_room)

    def has_ring(self, tally: Tally, most: int | None = None) -> bool:
        """Whether a ring holds and has a place; of so many of the narrowest that are laid out, None for all."""
        return (
            next(in_order(Aim.LARGEST, self.families, self.near, tally, self.has_room, most), None)
            is not None
        )

    def place(self, found: Found) -> Shift:
        """The least shift at which a ring has a place [in]."""
        one = self.asked[found.of]
        ring_in = found.ring.width * self.step_in
        return least_shift(one.obstacles, self.shape, ring_in, self.shift_in, self.step_in) or (0.0, 0.0)


def problem_of(layout: Layout, shape: Shape, *, shift_in: float = 0.0) -> Problem:
    """What a job and its wish leave to choose at one size of opening.

    Args:
        shift_in: see `Problem`.
    """
    wish = layout.job.wish
    step_in = wish.step_in(layout.job.unit)
    holes = most_holes(layout, shape)
    kept = kept_in(layout, shape, holes)
    asked = []
    for rivet in rivets_of(layout):
        limits = limits_of(layout, shape, rivet, kept)
        for gauge_in in gauges_of(layout):
            kind = Kind(
                limits=limits,
                gauge_in=gauge_in,
                sheet_lb_in3=_density(layout),
                rivet_lb=_rivet_lb(layout, rivet, gauge_in),
                window_sq_in=_window_sq_in(layout, shape),
            )
            asked.append(Asked(kind, obstacles_of(layout, limits, gauge_in)))
    return Problem(
        shape=shape,
        asked=tuple(asked),
        step_in=step_in,
        most_rows=wish.most_rows,
        shift_in=shift_in,
        through=any(one.what == "ring" for one in wish.passes),
        near=drilled_besides(layout),
    )


def rivets_of(layout: Layout) -> tuple[str, ...]:
    """The rivets on the shelf, else those of the job's rows that a table lists."""
    job = layout.job
    if job.wish.rivets:
        return tuple(dict.fromkeys(job.wish.rivets))
    listed = (hole.fastener for hole in layout.holes_of("rivet") if hole.nominal_in is not None)
    return tuple(dict.fromkeys(map(without_length, listed)))


def gauges_of(layout: Layout) -> tuple[float, ...]:
    """Sheets for the doubler, the thinnest first: those on the shelf, else the job's own, else the skin's; none
    thinner than the skin [in]."""
    job = layout.job
    own = job.doubler.thickness if job.doubler else job.skin.thickness
    sheets = {one.inch for one in job.wish.sheets or (own,)}
    return tuple(sorted(one for one in sheets if one >= job.skin.thickness.inch - _THINNER_IN))


_THINNER_IN = 1e-9


def most_holes(layout: Layout, shape: Shape) -> int:
    """Holes that a proposal may drill at most: two rows of the smallest rivet at its least pitch, as far out as a ring
    of its greatest edge distances reaches [-]."""
    sizes = [parse_rivet(rivet).diameter_in for rivet in rivets_of(layout)]
    if not sizes:
        return 1
    least_in, out_in = min(sizes), layout.limit("edge_max").value * max(sizes)
    round_in = 4.0 * (shape.half_x_in + shape.half_y_in) + 2.0 * math.pi * (shape.radius_in + out_in)
    return max(1, math.ceil(2.0 * round_in / (layout.limit("pitch_min_single_row").value * least_in)))


def drilled_besides(layout: Layout) -> Drilled:
    """The cover's screws where they go through the skin, so through the ring: new holes keep from them what the rule
    asks, or no less than the job's own rivets do where those are nearer."""
    screws = [hole for hole in layout.holes_of("screw") if "skin" in hole.stack and hole.nominal_in]
    if not screws:
        return Drilled(np.zeros((0, 2)))
    points = points_of(screws) - np.array(layout.center_in)
    least = layout.limit("new_to_existing_spacing").value
    largest_in = max(hole.nominal_in or 0.0 for hole in screws)
    asked_in = least * largest_in
    rivets = points_of(layout.holes_of("rivet")) - np.array(layout.center_in)
    if len(rivets):
        gaps = np.hypot(*np.moveaxis(points[:, None, :] - rivets[None, :, :], -1, 0))
        asked_in = min(asked_in, float(gaps.min()))
    return Drilled(points, asked_in)


def _density(layout: Layout) -> float:
    """Of the doubler's sheet, else of the skin's [lb/in^3]."""
    part = layout.job.doubler or layout.job.skin
    return float(sheet(part.alloy, part.temper, part.clad, layout.shop).density.value)


def _rivet_lb(layout: Layout, rivet: str, gauge_in: float) -> float:
    """Mass of one rivet through skin and doubler; 0 where no table lets it be weighed [lb]."""
    try:
        grip_in = layout.job.skin.thickness.inch + gauge_in
        return sum(one.mass_lb for one in rivet_masses(rivet, 1, grip_in, layout))
    except HatchwrightError:
        return 0.0


def _window_sq_in(layout: Layout, shape: Shape) -> float:
    """What is cut out of the doubler at this size of opening [in^2]."""
    doubler = layout.part("doubler")
    own = abs(layout.wanted.area_sq_in)
    window = abs(doubler.edges[1].loop.area_sq_in) if doubler and len(doubler.edges) > 1 else own
    return window + shape.area_sq_in() - own
