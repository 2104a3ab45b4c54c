"""Rings of one rivet in one sheet: the space that is searched at one size of opening, as arrays."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt
from msgspec import Struct
from msgspec.structs import replace

from hatchwright.search.proposal.laid import LaidRow
from hatchwright.search.proposal.limits import RowLimits
from hatchwright.search.proposal.options import (
    Floats,
    Groups,
    Rings,
    double_rings,
    groups_of,
    rows_of,
    single_rings,
    steps_down,
    steps_up,
)
from hatchwright.search.proposal.ring import Shape


class Kind(Struct, frozen=True):
    """One rivet in one sheet of the doubler.

    Args:
        gauge_in: of the doubler [in].
        sheet_lb_in3: density of its sheet [lb/in^3].
        rivet_lb: mass of one rivet [lb].
        window_sq_in: what is cut out of the doubler [in^2].
    """

    limits: RowLimits
    gauge_in: float
    sheet_lb_in3: float
    rivet_lb: float
    window_sq_in: float


class Ring(Struct, frozen=True):
    """One ring with its rows, the nearest to the opening first.

    Args:
        width: from the opening's edge to its outer edge [steps].
        at: distance of each row from the opening's edge [steps].
        until: the greatest of each at which its longest pitch holds [steps].
        is_looked_through: whether its rows face each other, as at all distances of the outer one up to this.
    """

    rows: tuple[LaidRow, ...]
    width: int
    at: tuple[int, ...]
    until: tuple[int, ...]
    is_looked_through: bool = False

    @property
    def count(self) -> int:
        """Rivets [-]."""
        return sum(row.count for row in self.rows)


class Family(Struct, frozen=True):
    """All rings of one kind round one opening.

    Args:
        edge, between: least distance of a hole from an edge, and of two rows from each other [steps].
        nearest_end: greatest distance of the row beside the opening from its edge [steps].
        outer_most: the same of the other from the ring's outer edge [steps].
        widest: ring that has room [steps].
        options: rows that were asked [-].
    """

    shape: Shape
    kind: Kind
    step_in: float
    edge: int
    between: int
    nearest_end: int
    outer_most: int
    widest: int
    groups: Groups
    rings: Rings
    options: int

    @property
    def mass_lb(self) -> Floats:
        """Of ring and rivets, the window left out, shape (n_rings,) [lb]."""
        width_in = np.asarray(self.rings.width * self.step_in, dtype=np.float64)
        return self.mass_of_lb(width_in, self.rings.count)

    def mass_of_lb(self, width_in: Floats, count: npt.NDArray[np.int64]) -> Floats:
        """The same of rings so wide with so many rivets [lb]."""
        shape, kind = self.shape, self.kind
        radius_in = shape.radius_in + width_in
        across = (shape.half_x_in + radius_in) * (shape.half_y_in + radius_in)
        area = 4.0 * across - (4.0 - np.pi) * radius_in**2 - kind.window_sq_in
        return np.asarray(area * kind.gauge_in * kind.sheet_lb_in3 + count * kind.rivet_lb)

    def ring(self, number: int) -> Ring:
        """One of its rings."""
        rings = self.rings
        inner, outer = int(rings.inner[number]), int(rings.outer[number])
        at = (int(rings.inner_at[number]), int(rings.outer_at[number]))
        until = (int(rings.inner_until[number]), int(rings.outer_until[number]))
        rows = (self.row(inner, at[0]), self.row(outer, at[1]))
        n = 1 if rings.is_single[number] else 2
        return Ring(rows[:n], int(rings.width[number]), at[:n], until[:n])

    def moved(self, ring: Ring, which: int, by: int) -> Ring | None:
        """A ring with one of its rows farther out, the row beyond it and the outer edge as far out as they must be;
        None where it has no room, or a pitch would be too long.

        Args:
            which: row, 0 for the one beside the opening.
            by: how far [steps].
        """
        at = list(ring.at)
        at[which] += by
        if which + 1 < len(at):
            at[which + 1] = max(at[which + 1], at[which] + self.between)
        width = max(ring.width, at[-1] + self.edge)
        is_far = width > self.widest or any(one > most for one, most in zip(at, ring.until, strict=True))
        if is_far or at[0] > self.nearest_end or width - at[-1] > self.outer_most:
            return None
        rows = tuple(
            replace(row, distance_in=one * self.step_in) for row, one in zip(ring.rows, at, strict=True)
        )
        return Ring(rows, width, tuple(at), ring.until)

    def row(self, group: int, at: int) -> LaidRow:
        """One row of a group [steps]."""
        groups = self.groups
        x, y = int(groups.x_bays[group]), int(groups.y_bays[group])
        return LaidRow(x, y, bool(groups.staggered[group]), at * self.step_in)


def family_of(
    shape: Shape,
    kind: Kind,
    *,
    step_in: float,
    widest_in: float,
    most_rows: int,
    least_in: tuple[float, float] = (0.0, 0.0),
) -> Family:
    """Every ring of one kind that has the rivets asked for and room.

    Args:
        step_in: lengths are rounded up to this [in].
        widest_in: widest ring that has room [in].
        most_rows: rows on each side at most [-].
        least_in: narrowest ring of one row, and of two, that strength asks for [in].
    """
    limits = kind.limits
    edge, between = (steps_up(one + limits.kept_in, step_in) for one in (limits.edge_in, limits.between_in))
    # Past this the outer row is no longer beside the inner one, and farther out than the widest edge distance.
    farthest_in = limits.edge_most_in + limits.reach_in + limits.edge_in + limits.kept_in
    widest = steps_down(min(widest_in, farthest_in), step_in)
    least_single, least_double = (steps_up(each_in, step_in) for each_in in least_in)
    groups = groups_of(shape, limits, widest * step_in)
    begin = max(edge, steps_up(limits.begin_in, step_in))
    nearest_end = min(steps_down(limits.edge_most_in, step_in), widest - edge)
    single = rows_of(shape, limits, groups, limits.pitch_in[0], begin, nearest_end, step_in)
    sizes = {"edge": edge, "widest": widest, "outer_most": steps_down(limits.outer_most_in, step_in)}
    rings, options = single_rings(groups, single, limits, least=least_single, **sizes), len(single.at)
    if most_rows > 1:
        inner = rows_of(
            shape,
            limits,
            groups,
            limits.pitch_in[1],
            begin,
            min(nearest_end, widest - edge - between),
            step_in,
        )
        outer = rows_of(shape, limits, groups, limits.pitch_in[1], begin + between, widest - edge, step_in)
        overlap = max(least_double, steps_up(limits.overlap_in, step_in))
        double = double_rings(groups, inner, outer, limits, between=between, least=overlap, **sizes)
        rings, options = rings.and_those(double), options + len(inner.at) + len(outer.at)
    outer_most = steps_down(limits.outer_most_in, step_in)
    return Family(
        shape, kind, step_in, edge, between, nearest_end, outer_most, widest, groups, rings, options
    )
