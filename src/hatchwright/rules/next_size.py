"""R105, R214: whether edge and spacing hold with the next rivet size, for all holes and for one that is oversize."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Generic, Literal, TypeVar

import numpy as np
import numpy.typing as npt
from msgspec import Struct

from hatchwright.errors import TableError
from hatchwright.finding import Finding
from hatchwright.judged import Judgement, Measure, Numbers, Status, bound, judge
from hatchwright.layout.layout import Hole
from hatchwright.layout.oversize import is_oversize
from hatchwright.layout.survey import EdgeDistances, Survey
from hatchwright.register import Shelf
from hatchwright.remedy import ASK
from hatchwright.rules.answer import held, stated
from hatchwright.rules.rule import judged_by, rule
from hatchwright.rules.wording import edge_named, is_flush, numbered, part_named
from hatchwright.said import Listed, Said, missing, room, said
from hatchwright.tables.cited import Cited
from hatchwright.tables.instructions import practised
from hatchwright.tables.rivet_part import parse_rivet
from hatchwright.tables.rivets import hole_range, next_rivet_diameter
from hatchwright.tables.table import ShopTables

Integers = npt.NDArray[np.intp]
Beside = TypeVar("Beside", EdgeDistances, int)

_NO_LARGER = practised(
    "an oversize or damaged hole takes the next rivet size only where there is one", "the next size of rivet"
)


def sizes_above(survey: Survey) -> dict[str, float]:
    """The next standard size of each rivet of a layout that has a larger one, by its part number [in]."""
    found: dict[str, float] = {}
    for hole in {hole.fastener: hole for hole in survey.layout.holes_of("rivet")}.values():
        try:
            found[hole.fastener] = next_rivet_diameter(
                hole.diameter_in, parse_rivet(hole.fastener).unit, above=True
            ).value
        except TableError:
            continue
    return found


def next_part(hole: Hole, size_in: float) -> str:
    """Part number of the rivet of another diameter for a hole [in]."""
    return str(parse_rivet(hole.fastener).of_diameter(size_in))


class AtNextSize(Struct, Generic[Beside], frozen=True):
    """Rivets that have a larger size, judged as if each had it; one may stand there beside several things.

    Args:
        holes: number of each rivet, shape (n,).
        beside: what each is judged beside: an edge, or the number of a neighbor.
        judged: its arrays are of shape (n,).
    """

    holes: Integers
    beside: Sequence[Beside]
    judged: Judgement


def edge_held_at_next(distance_in: Numbers, u_in: Numbers, next_in: Numbers, least: Cited) -> Judgement:
    """Hold edge distances to the least of the next rivet size.

    Args:
        u_in: expanded uncertainty of each [in].
        next_in: diameter of each next size [in].
        least: asked of that size [D].
    """
    e = Measure("e", distance_in, u_in, per=("D next", next_in, "in"))
    return Judgement(e, (bound(least, next_in, "D next"),), fails_as=Status.CAUTION)


def _edges(survey: Survey, sizes: dict[str, float]) -> Iterator[AtNextSize[EdgeDistances]]:
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
                judged = edge_held_at_next(row.distance_in, row.uncertainty_in, next_in, least)
                yield AtNextSize(
                    np.array([hole.number for hole in row.holes]), [row] * len(row.holes), judged
                )


def spacing_held_at_next(apart_in: Numbers, u_in: Numbers, larger_in: Numbers, least: Cited) -> Judgement:
    """Hold spacings to the least of the next rivet size.

    Args:
        u_in: expanded uncertainty of each [in].
        larger_in: diameter of the larger rivet of each pair, the next size among them [in].
        least: asked of that [D].
    """
    p = Measure("p", apart_in, u_in, per=("D next", larger_in, "in"))
    return Judgement(p, (bound(least, larger_in, "D next"),), fails_as=Status.CAUTION)


def _neighbors(survey: Survey, sizes: dict[str, float]) -> Iterator[AtNextSize[int]]:
    """Spacing of all rivets that have a larger size to each near one, at its own size unless its hole is too large for
    that as well.
    """
    rivets = survey.layout.holes_of("rivet")
    last = max((hole.number for hole in rivets), default=0)
    own_in, next_in = (np.zeros(last + 1) for _ in range(2))
    for hole in rivets:
        next_in[hole.number] = sizes.get(hole.fastener, 0.0)
        own_in[hole.number] = next_in[hole.number] if is_oversize(hole, survey.shop, doubt=True) else 0.0
        own_in[hole.number] = max(own_in[hole.number], hole.diameter_in)
    near = [
        (pair.first.number, pair.second.number, pair.distance_in, pair.uncertainty_in)
        for pair in survey.near
        if pair.first.kind == pair.second.kind == "rivet"
    ]
    if not near:
        return
    one, two, apart_in, unsure_in = (np.array(column) for column in zip(*near, strict=True))
    first, other = np.append(one, two), np.append(two, one)
    apart_in, unsure_in = np.append(apart_in, apart_in), np.append(unsure_in, unsure_in)
    has_next = next_in[first] > 0.0
    first, other, apart_in, unsure_in = (each[has_next] for each in (first, other, apart_in, unsure_in))
    if len(first):
        larger_in = np.maximum(next_in[first], own_in[other])
        least = survey.limit("pitch_min_single_row")
        judged = spacing_held_at_next(apart_in, unsure_in, larger_in, least)
        yield AtNextSize(first, other.tolist(), judged)


def _worst(found: Sequence[AtNextSize[Beside]], hole: Hole) -> tuple[Beside, Judgement] | None:
    """What one hole is nearest to failing beside, and the judgement; None for a hole beside nothing."""
    own = [
        (one.beside[k], one.judged.at(k))
        for one in found
        for k in np.flatnonzero(one.holes == hole.number).tolist()
    ]
    return max(own, key=lambda pair: (pair[1].status.rank, -pair[1].margins()[0]), default=None)


def _count(survey: Survey, id: str, found: Sequence[AtNextSize[Beside]], least: Cited) -> Finding:
    """How many of all rivets have a next size that holds, told without asking for anything."""
    rivets, sizes = survey.layout.holes_of("rivet"), sizes_above(survey)
    short = {number for one in found for number in one.holes[one.judged.ranks() > 0].tolist()}
    count = sum(hole.fastener in sizes and hole.number not in short for hole in rivets)
    subject = said(id, count=count, n=len(rivets))
    return stated(Status.PASS, subject, least, value=float(count), limit=float(len(rivets)), unit="holes")


def _too_large(survey: Survey) -> tuple[Hole, ...]:
    rivets = survey.layout.holes_of("rivet")
    return tuple(hole for hole in rivets if is_oversize(hole, survey.shop, doubt=True))


@rule("R105", Shelf.KNOW, reads=("distinct_edges", "holes"), marks_holes=True, step="drill")
@judged_by(_NO_LARGER, limits=("edge_min_single_row_protruding", "edge_min_countersunk"))
def edge_distance_at_next_size(survey: Survey) -> Iterator[Finding]:
    """R105: edge distance at the next rivet size."""
    rivets = survey.layout.holes_of("rivet")
    if not rivets:
        return
    sizes = sizes_above(survey)
    found = tuple(_edges(survey, sizes))
    for hole in _too_large(survey):
        if hole.fastener not in sizes:
            subject, advice = said("R105.no_larger", hole=numbered(hole)), (ASK,)
            yield stated(Status.CAUTION, subject, _NO_LARGER, *advice, holes=(hole.number,))
        elif worst := _worst(found, hole):
            row, judged = worst
            subject = said(
                "R105.oversize",
                hole=numbered(hole),
                rivet=next_part(hole, sizes[hole.fastener]),
                edge=edge_named(row.edge),
                part=part_named(row.part),
            )
            yield held(judged, subject, said("next_size.no"), ASK, holes=(hole.number,), place=hole.place)
    flush = all(is_flush(hole) for hole in rivets)
    least = survey.limit("edge_min_countersunk" if flush else "edge_min_single_row_protruding")
    yield _count(survey, "R105.count", found, least)


@rule("R214", Shelf.KNOW, reads=("holes", "near"), marks_holes=True, step="drill")
@judged_by(limits=("pitch_min_single_row",))
def spacing_at_next_size(survey: Survey) -> Iterator[Finding]:
    """R214: spacing at the next rivet size."""
    sizes = sizes_above(survey)
    if not sizes:
        return
    found = tuple(_neighbors(survey, sizes))
    for hole in _too_large(survey):
        if worst := _worst(found, hole):
            other, judged = worst
            both = tuple(one for one in survey.layout.holes if one.number in (hole.number, other))
            subject = said(
                "R214.oversize", hole=numbered(hole), rivet=next_part(hole, sizes[hole.fastener]), other=other
            )
            place = (sum(one.x_in for one in both) / 2.0, sum(one.y_in for one in both) / 2.0)
            yield held(judged, subject, said("next_size.no"), ASK, holes=(hole.number, other), place=place)
    yield _count(survey, "R214.count", found, survey.limit("pitch_min_single_row"))


class NextSizes(Struct, frozen=True):
    """Every rivet of a layout judged as if it had the next size, of `sizes_above`, beside its edges and neighbors."""

    sizes: dict[str, float]
    edges: tuple[AtNextSize[EdgeDistances], ...]
    neighbors: tuple[AtNextSize[int], ...]


def next_sizes(survey: Survey) -> NextSizes:
    """Judge every rivet of a layout at the next size."""
    sizes = sizes_above(survey)
    return NextSizes(sizes, tuple(_edges(survey, sizes)), tuple(_neighbors(survey, sizes)))


def next_size_room(found: NextSizes, hole: Hole) -> Said:
    """By how much a rivet's edge distance and spacing hold at its own next size, or miss it."""
    size_in = found.sizes.get(hole.fastener)
    if size_in is None:
        return said("next_size.none_listed")
    told: list[Said] = []
    for what, left_in in next_size_left(found, hole):
        name = said(f"next_size.{what}")
        if left_in >= 0.0:
            told.append(said("next_size.to_spare", what=name, by=room(left_in)))
        else:
            told.append(said("next_size.short", what=name, by=missing(-left_in)))
    return said("next_size.room", rivet=next_part(hole, size_in), room=Listed(tuple(told), ";"))


def next_size_left(found: NextSizes, hole: Hole) -> Iterator[tuple[Literal["edge", "spacing"], float]]:
    """What a rivet's least edge distance and spacing leave over at its own next size, less than 0 where they fall
    short [in]; none where it has no larger size or stands beside nothing."""
    beside: tuple[tuple[Literal["edge", "spacing"], tuple[object, Judgement] | None], ...] = (
        ("edge", _worst(found.edges, hole)),
        ("spacing", _worst(found.neighbors, hole)),
    )
    for what, worst in beside:
        if worst is not None:
            yield what, left_of(worst[1])


def left_of(judged: Judgement) -> float:
    """What one distance leaves over beyond its limit and its uncertainty, less than 0 where it falls short [in]."""
    assert judged.value is not None  # a distance that was measured
    assert judged.limit is not None
    left_in = judged.value - judged.uncertainty - judged.limit
    return max(left_in, 0.0) if judged.status is Status.PASS else left_in


def next_size_told(found: NextSizes, hole: Hole, shop: ShopTables | None) -> tuple[Said, ...]:
    """What to do about a hole that is too large: its own next size, tried on the hole and judged.

    Returns:
        tuple: that edge distance, spacing and the hole itself hold for the next size, or what does not.
    """
    size_in = found.sizes.get(hole.fastener)
    if size_in is None:
        return said("next_size.none"), ASK
    assert hole.hole_in is not None  # only measured holes are too large
    takes = size_takes(hole.hole_in, hole.size_uncertainty_in, size_in, shop)
    missed = [] if takes else [said("next_size.hole")]
    for what, worst in (("edge", _worst(found.edges, hole)), ("spacing", _worst(found.neighbors, hole))):
        if worst and worst[1].status is not Status.PASS:
            missed.append(said(f"next_size.{what}"))
    rivet = next_part(hole, size_in)
    if missed:
        return said("next_size.misses", rivet=rivet, what=Listed(tuple(missed))), ASK
    return (said("next_size.holds_flush" if is_flush(hole) else "next_size.holds", rivet=rivet),)


def size_takes(hole_in: float, u_in: float, size_in: float, shop: ShopTables | None) -> bool:
    """Whether a measured hole is no larger than a size of rivet allows [in]."""
    try:
        most_in = hole_range(size_in, shop).greatest_in
    except TableError:
        return False
    return not judge(hole_in, most_in, u=u_in, at_least=False)
