"""R105, R214: whether edge and spacing hold with the next rivet size, for all holes and for one that is oversize."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from hatchwright.errors import TableError
from hatchwright.finding import Finding, held, stated
from hatchwright.judged import Judgement, Measure, Status, bound, judge
from hatchwright.layout.layout import Hole
from hatchwright.layout.survey import EdgeDistances, Survey
from hatchwright.register import Shelf
from hatchwright.rules.rule import rule
from hatchwright.rules.wording import edge_named, is_flush, numbered, part_named
from hatchwright.said import Listed, Said, said
from hatchwright.tables.cited import Cited
from hatchwright.tables.instructions import Instruction
from hatchwright.tables.rivet_part import parse_rivet
from hatchwright.tables.rivets import hole_range, next_rivet_diameter
from hatchwright.tables.table import ShopTables
from hatchwright.workings import Grade, Source

Integers = npt.NDArray[np.intp]

_NO_LARGER = Instruction(
    "an oversize or damaged hole takes the next rivet size only where there is one",
    Source("PRACTICE", "the next size of rivet"),
    Grade.PRACTICE,
)


def sizes_above(survey: Survey) -> dict[str, float]:
    """The next standard size for each rivet of a layout.

    Returns:
        dict: part number to diameter [in]; without rivets that have no larger size.
    """
    found: dict[str, float] = {}
    for hole in {hole.fastener: hole for hole in survey.layout.holes_of("rivet")}.values():
        try:
            found[hole.fastener] = next_rivet_diameter(hole.diameter_in, above=True).value
        except TableError:
            continue
    return found


def next_part(hole: Hole, size_in: float) -> str:
    """Part number of the rivet of another diameter for a hole [in]."""
    return str(replace(parse_rivet(hole.fastener), diameter_32nds=round(size_in * 32)))


def too_large(hole: Hole, shop: ShopTables | None) -> bool:
    """Whether a measured hole is larger than its rivet allows, or may be by its uncertainty."""
    if hole.hole_in is None:
        return False
    try:
        greatest_in = hole_range(hole.diameter_in, shop).greatest_in
    except TableError:
        return False
    return bool(judge(hole.hole_in, greatest_in, u=hole.uncertainty_in, at_least=False))


@dataclass(frozen=True, slots=True)
class EdgesAtNextSize:
    """Holes to one edge, judged as if each had the next rivet size; every array is of shape (n_holes,)."""

    row: EdgeDistances
    next_in: npt.NDArray[np.float64]
    judged: Judgement


def _edges(survey: Survey, sizes: dict[str, float]) -> Iterator[EdgesAtNextSize]:
    """Edge distance of all rivets that have a larger size, edge by edge, flush and protruding heads apart."""
    for flush, least in (
        (False, survey.limit("edge_min_single_row_protruding")),
        (True, survey.limit("edge_min_countersunk")),
    ):
        for every in survey.distinct_edges:
            row = every.of(
                np.array([hole.fastener in sizes and is_flush(hole) == flush for hole in every.holes], bool)
            )
            if row.holes:
                next_in = np.array([sizes[hole.fastener] for hole in row.holes])
                e = Measure("e", row.distance_in, row.uncertainty_in, per=("D next", next_in, "in"))
                bounds = (bound(least, next_in, "D next"),)
                yield EdgesAtNextSize(row, next_in, Judgement(e, bounds, fails_as=Status.CAUTION))


@dataclass(frozen=True, slots=True)
class NeighborsAtNextSize:
    """Each rivet beside each near one, judged as if the first had the next size; arrays of shape (n_pairs,).

    Args:
        first: number of the rivet with the next size.
        other: number of its neighbor, at its own size unless its hole is too large for that as well.
    """

    first: Integers
    other: Integers
    judged: Judgement


def _neighbors(survey: Survey, sizes: dict[str, float]) -> NeighborsAtNextSize | None:
    """Spacing of all rivets that have a larger size; None where no two rivets are near each other."""
    rivets = survey.layout.holes_of("rivet")
    last = max((hole.number for hole in rivets), default=0)
    own_in, next_in, u_in = (np.zeros(last + 1) for _ in range(3))
    for hole in rivets:
        next_in[hole.number] = sizes.get(hole.fastener, 0.0)
        own_in[hole.number] = next_in[hole.number] if too_large(hole, survey.shop) else 0.0
        own_in[hole.number] = max(own_in[hole.number], hole.diameter_in)
        u_in[hole.number] = hole.uncertainty_in
    near = [
        (one.number, two.number, apart)
        for one, two, apart in survey.near
        if one.kind == "rivet" and two.kind == "rivet"
    ]
    if not near:
        return None
    one, two, apart_in = (np.array(column) for column in zip(*near, strict=True))
    first, other, apart_in = np.append(one, two), np.append(two, one), np.append(apart_in, apart_in)
    has_next = next_in[first] > 0.0
    first, other, apart_in = first[has_next], other[has_next], apart_in[has_next]
    if not len(first):
        return None
    larger_in = np.maximum(next_in[first], own_in[other])
    p = Measure("p", apart_in, np.maximum(u_in[first], u_in[other]), per=("D next", larger_in, "in"))
    bounds = (bound(survey.limit("pitch_min_single_row"), larger_in, "D next"),)
    return NeighborsAtNextSize(first, other, Judgement(p, bounds, fails_as=Status.CAUTION))


@dataclass(frozen=True, slots=True)
class NextSizes:
    """Every rivet judged as if it had the next size.

    Args:
        sizes: part number to the next diameter, those that have one [in].
        holes: numbers of the rivets that have one.
        neighbors: hole to hole, None where no two are near each other.
    """

    sizes: dict[str, float]
    holes: frozenset[int]
    edges: tuple[EdgesAtNextSize, ...]
    neighbors: NeighborsAtNextSize | None

    def keep_edge(self) -> frozenset[int]:
        """Rivets that keep their edge distance."""
        short = (
            one.row.holes[k].number for one in self.edges for k in np.flatnonzero(one.judged.ranks()).tolist()
        )
        return self.holes - frozenset(short)

    def keep_spacing(self) -> frozenset[int]:
        """Rivets that keep their spacing."""
        found = self.neighbors
        if found is None:
            return self.holes
        return self.holes - frozenset(found.first[np.flatnonzero(found.judged.ranks())].tolist())

    def worst_edge(self, hole: Hole) -> tuple[EdgeDistances, Judgement] | None:
        """The edge that one hole is nearest to failing; None for a hole without an edge."""
        found = [
            (one.row, one.judged.at(k))
            for one in self.edges
            for k, other in enumerate(one.row.holes)
            if other.number == hole.number
        ]
        return max(found, key=lambda pair: (pair[1].status.rank, -pair[1].margins()[0]), default=None)

    def worst_neighbor(self, hole: Hole) -> tuple[int, Judgement] | None:
        """Number of the neighbor that one hole is nearest to failing, and the judgement."""
        found = self.neighbors
        if found is None:
            return None
        mine = np.flatnonzero(found.first == hole.number).tolist()
        pairs = [(int(found.other[k]), found.judged.at(k)) for k in mine]
        return max(pairs, key=lambda pair: (pair[1].status.rank, -pair[1].margins()[0]), default=None)


def next_sizes(survey: Survey) -> NextSizes:
    """Judge every rivet of a layout at the next size."""
    sizes = sizes_above(survey)
    return NextSizes(sizes, _numbers(survey, sizes), tuple(_edges(survey, sizes)), _neighbors(survey, sizes))


def _numbers(survey: Survey, sizes: dict[str, float]) -> frozenset[int]:
    return frozenset(hole.number for hole in survey.layout.holes_of("rivet") if hole.fastener in sizes)


def _too_large(survey: Survey) -> tuple[Hole, ...]:
    return tuple(hole for hole in survey.layout.holes_of("rivet") if too_large(hole, survey.shop))


def _standing(code: str, subject: Said, count: int, every: int, least: Cited) -> Finding:
    """The number that is told of all holes, without asking for anything."""
    return stated(code, Status.PASS, subject, least, value=float(count), limit=float(every), unit="holes")


@rule(
    "R105",
    Shelf.KNOW,
    limits=("edge_min_single_row_protruding", "edge_min_countersunk"),
    rests_on=(_NO_LARGER,),
    reads=("distinct_edges", "holes"),
    marks_holes=True,
    step="drill",
)
def edge_distance_at_next_size(survey: Survey) -> Iterator[Finding]:
    """R105: edge distance at the next rivet size."""
    rivets = survey.layout.holes_of("rivet")
    if not rivets:
        return
    sizes = sizes_above(survey)
    found = NextSizes(sizes, _numbers(survey, sizes), tuple(_edges(survey, sizes)), None)
    for hole in _too_large(survey):
        if hole.fastener not in sizes:
            subject, advice = said("R105.no_larger", hole=numbered(hole)), (said("ask.disposition"),)
            yield stated("R105", Status.CAUTION, subject, _NO_LARGER, *advice, holes=(hole.number,))
        elif worst := found.worst_edge(hole):
            row, judged = worst
            yield held(
                "R105",
                judged,
                said(
                    "R105.oversize",
                    hole=numbered(hole),
                    rivet=next_part(hole, sizes[hole.fastener]),
                    edge=edge_named(row.edge),
                    part=part_named(row.part),
                ),
                said("next_size.no"),
                said("ask.disposition"),
                holes=(hole.number,),
                place=(hole.x_in, hole.y_in),
            )
    flush = all(is_flush(hole) for hole in rivets)
    least = survey.limit("edge_min_countersunk" if flush else "edge_min_single_row_protruding")
    count = len(found.keep_edge())
    yield _standing("R105", said("R105.count", count=count, n=len(rivets)), count, len(rivets), least)


@rule(
    "R214",
    Shelf.KNOW,
    limits=("pitch_min_single_row",),
    reads=("holes", "near"),
    marks_holes=True,
    step="drill",
)
def spacing_at_next_size(survey: Survey) -> Iterator[Finding]:
    """R214: spacing at the next rivet size."""
    sizes = sizes_above(survey)
    if not sizes:
        return
    found = NextSizes(sizes, _numbers(survey, sizes), (), _neighbors(survey, sizes))
    for hole in _too_large(survey):
        if worst := found.worst_neighbor(hole):
            other, judged = worst
            both = tuple(one for one in survey.layout.holes if one.number in (hole.number, other))
            yield held(
                "R214",
                judged,
                said(
                    "R214.oversize",
                    hole=numbered(hole),
                    rivet=next_part(hole, sizes[hole.fastener]),
                    other=other,
                ),
                said("next_size.no"),
                said("ask.disposition"),
                holes=(hole.number, other),
                place=(sum(one.x_in for one in both) / 2.0, sum(one.y_in for one in both) / 2.0),
            )
    count, every = len(found.keep_spacing()), len(survey.layout.holes_of("rivet"))
    least = survey.limit("pitch_min_single_row")
    yield _standing("R214", said("R214.count", count=count, n=every), count, every, least)


def next_size_told(found: NextSizes, hole: Hole, shop: ShopTables | None) -> tuple[Said, ...]:
    """What to do about a hole that is too large: its own next size, tried on the hole and judged.

    Returns:
        tuple: that edge distance, spacing and the hole itself hold for the next size, or what does not.
    """
    size_in = found.sizes.get(hole.fastener)
    if size_in is None:
        return said("next_size.none"), said("ask.disposition")
    edge, neighbor = found.worst_edge(hole), found.worst_neighbor(hole)
    missed = []
    if not _takes(hole, size_in, shop):
        missed.append(said("next_size.hole"))
    if edge and edge[1].status is not Status.PASS:
        missed.append(said("next_size.edge"))
    if neighbor and neighbor[1].status is not Status.PASS:
        missed.append(said("next_size.spacing"))
    rivet = next_part(hole, size_in)
    if missed:
        return said("next_size.misses", rivet=rivet, what=Listed(tuple(missed))), said("ask.disposition")
    return (said("next_size.holds_flush" if is_flush(hole) else "next_size.holds", rivet=rivet),)


def _takes(hole: Hole, size_in: float, shop: ShopTables | None) -> bool:
    """Whether a measured hole is no larger than the next size of rivet allows."""
    try:
        most_in = hole_range(size_in, shop).greatest_in
    except TableError:
        return False
    assert hole.hole_in is not None  # only measured holes are too large
    return not judge(hole.hole_in, most_in, u=hole.uncertainty_in, at_least=False)
