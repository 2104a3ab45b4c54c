"""The derived geometry of a job, as frozen values: parts with their edges, and every hole with its stack."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from functools import cached_property
from typing import Literal, NamedTuple

import numpy as np
import numpy.typing as npt
from msgspec import Struct

from hatchwright.errors import UnlistedError
from hatchwright.job.frame import Frame
from hatchwright.job.job import Job
from hatchwright.job.side_uncertainty import SideUncertainty
from hatchwright.layout.stray import Stray
from hatchwright.said import said
from hatchwright.shapes.corners import Corner, corners, smallest_corner
from hatchwright.shapes.profile import Loop, Profile
from hatchwright.tables.cited import Cited
from hatchwright.tables.limits import limit
from hatchwright.tables.table import ShopTables

PartName = Literal["skin", "doubler", "cover", "plug"]
HoleKind = Literal["rivet", "screw"]
Array = npt.NDArray[np.float64]

_CLOSES_WITHIN = 1.1


class Edge(Struct, frozen=True, dict=True):
    """One edge of one part.

    Args:
        name: in the trade's words, such as "opening edge".
        loop: the edge itself, counter-clockwise [in].
        metal_inside: whether the part's metal lies inside the loop.
        own_u: of each of its sides and corners, None for a drawn one.
    """

    name: str
    loop: Loop
    metal_inside: bool
    own_u: SideUncertainty | None = None

    @property
    def is_split(self) -> bool:
        """Whether it is the strip between the two pieces of a split doubler: an edge of both, open at its ends."""
        return self.name == "doubler split edge"

    @property
    def uncertainty_in(self) -> float:
        """Of the measured edge, the greatest of its sides and corners; 0 for a drawn one [in]."""
        return self.own_u.greatest_in if self.own_u else 0.0

    def u_at(self, points: Array) -> Array:
        """Of the edge where it passes points of it, shape (n, 2) [in], shape (n,) [in]."""
        return self.own_u.at(self.loop.bounds, points) if self.own_u else np.zeros(len(points))

    def u_near(self, place: tuple[float, float]) -> float:
        """The same at one point [in]."""
        return float(self.u_at(np.array([place]))[0])

    def corner_u_in(self, corner: Corner) -> float:
        """Of the radius of one of its corners [in]."""
        return self.own_u.of_corner(self.loop.bounds, corner.place) if self.own_u else 0.0

    @cached_property
    def least_sure_corner(self) -> Corner | None:
        """The corner that may be the sharpest within its uncertainty; see `corner`."""
        every = () if self.is_split else corners(self.loop)
        return min(every, key=lambda one: one.radius_in - self.corner_u_in(one), default=None)

    @cached_property
    def corner(self) -> Corner | None:
        """Its sharpest corner, None without corners, as of the strip of a split, which has none on the doubler."""
        return None if self.is_split else smallest_corner(self.loop)


class Part(Struct, frozen=True):
    """One sheet of the stack.

    Args:
        thickness_in: nominal [in].
        measured_in: thickness as measured, None where it was not [in].
        measured_u_in: expanded uncertainty of that, 0 where none was named [in].
    """

    name: PartName
    thickness_in: float
    alloy: str
    temper: str
    clad: bool
    edges: tuple[Edge, ...]
    measured_in: float | None = None
    measured_u_in: float = 0.0


class Hole(Struct, frozen=True):
    """One hole of the job.

    Args:
        x_in: center [in].
        y_in: center [in].
        fastener: part number without the length, or the thread of a screw; as typed where no table lists it.
        nominal_in: nominal diameter of the fastener, None where no table lists it [in].
        stack: the parts it goes through, from outside.
        is_made: whether the place was measured on the aircraft.
        uncertainty_in: of the measured place, 0 for a drawn one [in].
        hole_in: measured hole diameter, None when it was not measured [in].
        size_uncertainty_in: of the measured diameter, 0 without one [in].
        drawn_in: where a measured hole was drawn, None when the place above is the drawn one [in].
        is_fitted: whether a fastener is in it; a hole that lost its rivet weakens the sheets and carries nothing.
    """

    number: int
    row: str
    kind: HoleKind
    x_in: float
    y_in: float
    fastener: str
    nominal_in: float | None
    stack: tuple[PartName, ...]
    is_made: bool = False
    uncertainty_in: float = 0.0
    hole_in: float | None = None
    drawn_in: tuple[float, float] | None = None
    is_fitted: bool = True
    size_uncertainty_in: float = 0.0

    @property
    def is_drilled(self) -> bool:
        """Whether it is there: its place or its size was measured on the aircraft."""
        return self.is_made or self.hole_in is not None

    @property
    def place(self) -> tuple[float, float]:
        """Its center [in]."""
        return self.x_in, self.y_in

    @property
    def diameter_in(self) -> float:
        """Nominal diameter of the fastener, not of the hole [in].

        Raises:
            UnlistedError: no table lists the fastener, and a size is never guessed.
        """
        if self.nominal_in is None:
            raise UnlistedError(said(f"unlisted.{self.kind}", name=self.fastener))
        return self.nominal_in


class Spacing(NamedTuple):
    """The distance between two hole centers [in]."""

    first: Hole
    second: Hole
    distance_in: float

    @property
    def uncertainty_in(self) -> float:
        """Of the measured distance, 0 when both were drawn [in]."""
        return max(self.first.uncertainty_in, self.second.uncertainty_in)

    @property
    def diameter_in(self) -> float:
        """Of the larger fastener [in]."""
        return max(self.first.diameter_in, self.second.diameter_in)

    @property
    def middle(self) -> tuple[float, float]:
        """Half way between the two [in]."""
        return (self.first.x_in + self.second.x_in) / 2.0, (self.first.y_in + self.second.y_in) / 2.0


class Layout(Struct, frozen=True, dict=True):
    """All that is derived from a job, each thing once.

    Args:
        frame: its frame, laid on the page.
        center_in: center of the opening [in].
        wanted: the finished opening as drawn [in].
        opening: the opening as it stands: as filed when measured, else as drawn [in].
        rough_cut: the line to cut to before filing, None without a cutter [in].
        parts: skin, doubler, cover and plug, those that there are.
        strays: holes of the skin that belong to no row.
        shop: a shop's own rows of the tables, by which the job is judged and made; None without.
    """

    job: Job
    frame: Frame
    center_in: tuple[float, float]
    wanted: Loop
    opening: Loop
    rough_cut: Profile | None
    parts: tuple[Part, ...]
    holes: tuple[Hole, ...]
    shop: ShopTables | None = None
    strays: tuple[Stray, ...] = ()

    @cached_property
    def wanted_corner(self) -> Corner | None:
        """Sharpest corner of the finished opening as drawn, None without corners."""
        return smallest_corner(self.wanted)

    @cached_property
    def bulging_corner(self) -> Corner | None:
        """The same among those that bulge out of it, which a cutter must turn."""
        return smallest_corner(self.wanted, reentrant=False)

    @cached_property
    def rough_corner(self) -> Corner | None:
        """The sharpest of the rough cut that bulges out of it, None without a rough cut or corners."""
        return smallest_corner(*self.rough_cut.loops, reentrant=False) if self.rough_cut else None

    @cached_property
    def pitches(self) -> tuple[Spacing, ...]:
        """Neighbors along each row, once round where a row is closed."""
        return tuple(_pitches(self.rows()))

    def limit(self, key: str) -> Cited:
        """One limit of the tables, the shop's own where it has one; see `tables.limits.limit`."""
        return limit(key, self.shop)

    def part(self, name: PartName) -> Part | None:
        """The part of that name, or None when the job has none."""
        return next((part for part in self.parts if part.name == name), None)

    @cached_property
    def _by_kind(self) -> dict[HoleKind, tuple[Hole, ...]]:
        kinds: tuple[HoleKind, ...] = ("rivet", "screw")
        return {kind: tuple(hole for hole in self.holes if hole.kind == kind) for kind in kinds}

    def holes_of(self, kind: HoleKind) -> tuple[Hole, ...]:
        """All rivets or all screws."""
        return self._by_kind[kind]

    def rows(self) -> dict[str, tuple[Hole, ...]]:
        """Row name to its holes, in the order in which they are laid."""
        rows: dict[str, list[Hole]] = {}
        for hole in self.holes:
            rows.setdefault(hole.row, []).append(hole)
        return {name: tuple(holes) for name, holes in rows.items()}


def points_of(holes: Iterable[Hole]) -> Array:
    """Centers, shape (n_holes, 2) [in]."""
    return np.array([(hole.x_in, hole.y_in) for hole in holes], dtype=float).reshape(-1, 2)


def is_closed(points: Array) -> bool:
    """Whether a row runs all round: its ends lie no farther apart than its other neighbors, within a tenth.

    Args:
        points: hole centers in order, shape (n, 2) [in]; fewer than four never do.
    """
    if len(points) < 4:
        return False
    steps = np.hypot(*np.diff(points, axis=0).T)
    return float(np.hypot(*(points[0] - points[-1]))) <= _CLOSES_WITHIN * float(steps.max())


def _pitches(rows: Mapping[str, tuple[Hole, ...]]) -> Iterator[Spacing]:
    """Neighbors in the order in which they are laid, and the last with the first where a row runs all round."""
    for holes in rows.values():
        points = points_of(holes)
        apart_in = np.hypot(*np.diff(points, axis=0).T).tolist()
        yield from (Spacing(*pair) for pair in zip(holes, holes[1:], apart_in, strict=False))
        if is_closed(points):
            yield Spacing(holes[-1], holes[0], float(np.hypot(*(points[0] - points[-1]))))
