"""Distances of a layout, taken once: hole to edge, hole to hole, row to row."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cached_property
from itertools import compress

import numpy as np
import numpy.typing as npt
from msgspec import Struct
from msgspec.structs import replace

from hatchwright.judged import Chosen
from hatchwright.layout.cut_side import CutSide, sides_of_cut
from hatchwright.layout.layout import Edge, Hole, Layout, Part, Spacing, points_of
from hatchwright.layout.row_spacing import RowSpacing, row_spacings
from hatchwright.shapes.distance import distances, pairs_within
from hatchwright.shapes.profile import Profile
from hatchwright.tables.cited import Cited
from hatchwright.tables.rivet_part import LARGEST_RIVET_IN
from hatchwright.tables.table import ShopTables

Array = npt.NDArray[np.float64]


class EdgeDistances(Struct, frozen=True):
    """True distances from the holes of a part to one of its edges, arcs included.

    Args:
        distance_in: negative where the center is off the metal, shape (n_holes,) [in].
        foot_in: nearest points of the edge, shape (n_holes, 2) [in].
        nominal_in: of the fasteners, NaN where no table lists one, shape (n_holes,) [in].
        uncertainty_in: of each distance, as the mechanic gives it for a measurement; 0 where both hole and edge are
            drawn, shape (n_holes,) [in].
    """

    part: Part
    edge: Edge
    holes: tuple[Hole, ...]
    distance_in: Array
    foot_in: Array
    nominal_in: Array
    uncertainty_in: Array

    @property
    def diameter_in(self) -> Array:
        """Of the fasteners, shape (n_holes,) [in].

        Raises:
            UnlistedError: no table lists one of them.
        """
        if np.isnan(self.nominal_in).any():
            return np.array([hole.diameter_in for hole in self.holes])
        return self.nominal_in

    def of(self, chosen: npt.NDArray[np.bool_]) -> EdgeDistances:
        """The same edge with some of its holes, by a mask of shape (n_holes,)."""
        arrays = (self.distance_in, self.foot_in, self.nominal_in, self.uncertainty_in)
        holes = tuple(compress(self.holes, chosen))
        return EdgeDistances(self.part, self.edge, holes, *(array[chosen] for array in arrays))


class Survey(Struct, frozen=True, dict=True):
    """Everything that rules measure on a layout.

    Args:
        rows: name to holes of each row, in the order in which they are laid.
        edges: hole to edge, for every edge of every part.
        near: pairs of holes of any row that lie within `NEAR_DIAMETERS` of each other.
        row_spacings: for each pair of neighboring rows, the closest hole.
        beside: the same, by which rows make a pattern: rows of fasteners that no table lists are rows too.
    """

    layout: Layout
    rows: Mapping[str, tuple[Hole, ...]]
    edges: tuple[EdgeDistances, ...]
    near: tuple[Spacing, ...]
    row_spacings: tuple[RowSpacing, ...]
    beside: tuple[RowSpacing, ...]

    @property
    def shop(self) -> ShopTables | None:
        """A shop's own rows, None without."""
        return self.layout.shop

    @cached_property
    def points(self) -> Array:
        """Centers of all holes, shape (n_holes, 2) [in]."""
        return points_of(self.layout.holes)

    @cached_property
    def sides(self) -> tuple[CutSide, ...]:
        """The sides of the cut with the rivets that count on each."""
        return sides_of_cut(self.layout)

    @cached_property
    def distinct_edges(self) -> tuple[EdgeDistances, ...]:
        """Hole to edge, each edge once: where the doubler ends at the opening, the skin's edge speaks for both."""
        found = []
        for row in self.edges:
            if row.part.name == "doubler" and row.edge.loop == self.layout.opening:
                row = row.of(np.array(["skin" not in hole.stack for hole in row.holes]))
            if row.holes:
                found.append(row)
        return tuple(found)

    @cached_property
    def rivet_pitches(self) -> Mapping[str, tuple[Spacing, ...]]:
        """Name of each rivet row to the neighbors along it, never none."""
        found: dict[str, list[Spacing]] = {}
        for pair in self.layout.pitches:
            if pair.first.kind == "rivet":
                found.setdefault(pair.first.row, []).append(pair)
        return {row: tuple(pairs) for row, pairs in found.items()}

    def limit(self, key: str) -> Cited:
        """One limit of the tables, the shop's own where it has one; see `tables.limits.limit`."""
        return self.layout.limit(key)

    def chosen(self, code: str) -> Chosen | None:
        """The reading that the job goes by where documents differ, None when it chose none for this code."""
        choice = self.layout.job.choice(code)
        return Chosen(choice.reading, choice.reason) if choice else None

    def pattern(self, row: str) -> frozenset[str]:
        """The rows that make one pattern with a row: itself, the rows beside it, those beside them, and so on."""
        found, fresh = {row}, {row}
        while fresh:
            beside = {
                name
                for pair in self.beside
                for name in (pair.hole.row, pair.other_row)
                if fresh & {pair.hole.row, pair.other_row}
            }
            fresh = beside - found
            found |= fresh
        return frozenset(found)

    def listed(self) -> Survey:
        """The same of the holes whose fasteners a table lists; every distance between them is what it was."""
        layout = self.layout
        names = {name for name, (first, *_) in self.rows.items() if first.nominal_in is not None}
        rows = tuple(row for row in layout.job.rows if row.name in names)
        holes = tuple(hole for hole in layout.holes if hole.row in names)
        edges = (row.of(np.array([hole.row in names for hole in row.holes])) for row in self.edges)
        return Survey(
            layout=replace(layout, job=layout.job.model_copy(update={"rows": rows}), holes=holes),
            rows={name: row for name, row in self.rows.items() if name in names},
            edges=tuple(row for row in edges if row.holes),
            near=tuple(pair for pair in self.near if {pair.first.row, pair.second.row} <= names),
            row_spacings=tuple(pair for pair in self.row_spacings if pair.rows <= names),
            beside=self.beside,
        )


NEAR_DIAMETERS = 4.5
"""Holes farther apart than this many of the largest diameter break no spacing rule: three of the next rivet size, which
is at most one and a half times as large [-]."""


def survey(layout: Layout) -> Survey:
    """Take all distances of a layout."""
    rows = layout.rows()
    beside = row_spacings(rows)
    return Survey(
        layout=layout,
        rows=rows,
        edges=tuple(_edge_distances(layout)),
        near=tuple(_near(layout)),
        row_spacings=beside,
        beside=beside,
    )


def _edge_distances(layout: Layout) -> list[EdgeDistances]:
    found = []
    for part in layout.parts:
        holes = tuple(hole for hole in layout.holes if part.name in hole.stack)
        if not holes:
            continue
        points = points_of(holes)
        nominal_in = np.array([hole.nominal_in for hole in holes], dtype=float)
        u_in = np.array([hole.uncertainty_in for hole in holes])
        for edge in part.edges:
            gaps = distances(Profile((edge.loop,)), points)
            on_metal = gaps.inside == edge.metal_inside
            signed = np.where(on_metal, gaps.distance_in, -gaps.distance_in)
            uncertainty_in = np.maximum(u_in, edge.u_at(gaps.foot))
            found.append(EdgeDistances(part, edge, holes, signed, gaps.foot, nominal_in, uncertainty_in))
    return found


def _near(layout: Layout) -> list[Spacing]:
    holes = layout.holes
    if len(holes) < 2:
        return []
    near_in = NEAR_DIAMETERS * max(hole.nominal_in or LARGEST_RIVET_IN for hole in holes)
    first, second, apart = pairs_within(points_of(holes), near_in)
    pairs = zip(first.tolist(), second.tolist(), apart.tolist(), strict=True)
    return [Spacing(holes[i], holes[j], distance_in) for i, j, distance_in in pairs]
