"""R101 to R104: edge distance, from the hole center to the nearest edge of each part it goes through."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

import numpy as np

from hatchwright.finding import Finding
from hatchwright.judged import RANKED, Chosen, Judgement, Measure, Numbers, Status, bound, lengths
from hatchwright.layout.layout import Hole
from hatchwright.layout.survey import EdgeDistances, Survey
from hatchwright.register import Shelf
from hatchwright.remedy import ASK, Change
from hatchwright.rules.answer import held
from hatchwright.rules.rule import judged_by, mended_by, rule
from hatchwright.rules.wording import edge_named, is_flush, numbered, part_named
from hatchwright.said import Said, said
from hatchwright.tables.cited import Cited
from hatchwright.workings import Grade, Source

FLUSH_READINGS = ("handbook, flush heads", "circular, any head")

WHOLE = Cited(0.5, "D", Source("GEOMETRY", "a hole within its sheet"), Grade.COMPUTED)
"""A hole whose center is nearer to an edge breaks out through it [D]."""


_NEARER_IN = (
    Change.ROW_DISTANCE,
    Change.ROW_PLACE,
    Change.DOUBLER_SIZE,
    Change.LAND_SIZE,
    Change.OPENING_SIZE,
    Change.NEW_RING,
    Change.EDGE_PAST_ROW,
)


@rule("R101", Shelf.HOLDS, reads=("edges",), marks_holes=True)
@judged_by(WHOLE, limits=("edge_min_single_row_protruding",))
@mended_by(*_NEARER_IN)
def edge_distance_protruding(survey: Survey) -> Iterator[Finding]:
    """R101: edge distance, protruding heads."""
    yield from _findings(judged_edges(survey, "R101"))


@rule("R102", Shelf.HOLDS, reads=("edges",), marks_holes=True)
@judged_by(WHOLE, limits=("edge_min_countersunk", "edge_min_single_row_protruding"), readings=FLUSH_READINGS)
@mended_by(*_NEARER_IN)
def edge_distance_flush(survey: Survey) -> Iterator[Finding]:
    """R102: edge distance, flush heads; the handbook's figure is the default, the countersink takes metal away."""
    yield from _findings(judged_edges(survey, "R102"))


@rule("R103", Shelf.HOLDS, reads=("edges",), marks_holes=True, cause="screw edges")
@judged_by(WHOLE, limits=("cover_screw_edge_distance",))
@mended_by(Change.SCREW_INSET, Change.COVER_SIZE, Change.LAND_SIZE)
def edge_distance_screws(survey: Survey) -> Iterator[Finding]:
    """R103: edge distance, cover screws; the rivet rule applied to them cautions, a hole that breaks out stops."""
    yield from _findings(judged_edges(survey, "R103"))


EDGE_CODES = ("R101", "R102", "R103")
"""The rules that hold each hole to a least distance from each edge."""


def judged_edges(survey: Survey, code: str) -> Iterator[tuple[EdgeDistances, Judgement, Judgement]]:
    """What one of `EDGE_CODES` holds against its limit, edge by edge; see `judge_edges`."""
    if code == "R103":
        screws = {"": survey.limit("cover_screw_edge_distance")}
        return judge_edges(survey, code, screws, lambda hole: hole.kind == "screw", short=Status.CAUTION)
    flush = code == "R102"
    least = least_edges(survey.limit, flush=flush)
    return judge_edges(survey, code, least, lambda hole: hole.kind == "rivet" and is_flush(hole) == flush)


def least_edges(limit: Callable[[str], Cited], *, flush: bool) -> dict[str, Cited]:
    """Name of each reading to the least edge distance of a rivet [D], the default first.

    Args:
        limit: one limit of the tables by its name.
        flush: whether its head is flush.
    """
    any_head = limit("edge_min_single_row_protruding")
    if not flush:
        return {"": any_head}
    handbook, circular = FLUSH_READINGS
    return {handbook: limit("edge_min_countersunk"), circular: any_head}


def edge_held(
    e: Measure,
    diameter_in: Numbers,
    least: dict[str, Cited],
    *,
    chosen: Chosen | None = None,
    short: Status = Status.STOP,
) -> tuple[Judgement, Judgement]:
    """Hold an edge distance to what is asked, and to that the hole does not break out through the edge.

    Args:
        e: of one hole or of many [in].
        diameter_in: of each fastener [in].
        least: see `least_edges`.
        short: the answer where it is short.
    """
    asked = tuple(bound(cited, diameter_in, "D", reading=name) for name, cited in least.items())
    return (
        Judgement(e, asked, fails_as=short, chosen=chosen),
        Judgement(e, (bound(WHOLE, diameter_in, "D"),)),
    )


def judge_edges(
    survey: Survey,
    code: str,
    least: dict[str, Cited],
    concerns: Callable[[Hole], bool],
    *,
    short: Status = Status.STOP,
) -> Iterator[tuple[EdgeDistances, Judgement, Judgement]]:
    """Judge the edge distance of all holes of one kind, edge by edge.

    Args:
        code: whose reading the job may have chosen.
        least: name of each reading to its least distance [D], the default first.
    Yields:
        tuple: the holes to one edge; their distance as asked; that no hole breaks out through the edge.
    """
    for edge in survey.distinct_edges:
        row = edge.of(np.array([concerns(hole) for hole in edge.holes], dtype=bool))
        if not row.holes:
            continue
        e = Measure(
            "e",
            row.distance_in,
            row.uncertainty_in,
            per=("D", row.diameter_in, "in"),
            with_=lengths(foot_X=row.foot_in[:, 0], foot_Y=row.foot_in[:, 1]),
        )
        yield row, *edge_held(e, row.diameter_in, least, chosen=survey.chosen(code), short=short)


def _findings(judged: Iterable[tuple[EdgeDistances, Judgement, Judgement]]) -> Iterator[Finding]:
    """A measured hole that does not pass speaks for itself; of the others the closest of its row speaks for all."""
    for row, asked, whole in judged:
        short, out = asked.ranks(), whole.ranks()
        breaks_out, ranks, ratio = out > short, np.maximum(short, out), row.distance_in / row.diameter_in
        alike: dict[tuple[int, str], list[int]] = {}
        some_of: list[list[int]] = []
        for i in np.flatnonzero(ranks).tolist():
            rank, hole = int(ranks[i]), row.holes[i]
            if hole.is_made and RANKED[rank].holds_back:
                some_of.append([i])
            else:
                alike.setdefault((rank, hole.row), []).append(i)
        some_of += [sorted(some, key=lambda i: float(ratio[i])) for some in alike.values()]
        passing = np.flatnonzero(ranks == 0)
        if passing.size:
            closest = passing[np.argmin(ratio[passing])]
            some_of.append([int(closest), *passing[passing != closest].tolist()])
        for some in some_of:
            yield _finding(row, (whole if breaks_out[some[0]] else asked).at(some[0]), some)


def _finding(row: EdgeDistances, judged: Judgement, some: list[int]) -> Finding:
    """One finding on the first of some holes, which speaks for the others."""
    i = some[0]
    hole = row.holes[i]
    subject = said(
        "edge.closest" if len(some) > 1 else "edge.one",
        hole=numbered(hole),
        edge=edge_named(row.edge),
        part=part_named(row.part),
        n=len(some),
    )
    advice = _advice(hole, row, float(row.distance_in[i]))
    numbers = tuple(row.holes[j].number for j in (some if judged.status is not Status.PASS else some[:1]))
    return held(judged, subject, *advice, holes=numbers, place=hole.place, cause=row.edge.name)


def _advice(hole: Hole, row: EdgeDistances, distance_in: float) -> Iterator[Said]:
    if distance_in < 0:
        yield said("edge.off_the_part", part=part_named(row.part))
    elif distance_in < hole.diameter_in / 2.0:
        yield said("edge.breaks_out", edge=edge_named(row.edge))
    else:
        yield ASK


@rule("R104", Shelf.HOLDS, reads=("distinct_edges", "mount"), marks_holes=True, needs_every_hole=True)
@judged_by(limits=("edge_max",))
@mended_by(Change.ROW_DISTANCE, Change.ROW_PLACE, Change.DOUBLER_SIZE, Change.OPENING_SIZE)
def longest_edge_distance(survey: Survey) -> Iterator[Finding]:
    """R104: edge distance, longest; an edge that cover screws clamp cannot lift and is not asked."""
    if survey.layout.job.mount:
        return
    most = survey.limit("edge_max")
    for every in survey.distinct_edges:
        row = every.of(np.array([hole.kind == "rivet" for hole in every.holes], dtype=bool))
        if not row.holes or row.edge.name == "doubler inner edge" or _is_clamped(every):
            continue
        i = int(np.argmin(row.distance_in))
        e = Measure("e", row.distance_in, row.uncertainty_in, per=("D", row.diameter_in, "in"))
        judged = Judgement(e, (bound(most, row.diameter_in, "D"),), at_least=False).at(i)
        hole = row.holes[i]
        subject = said(
            "R104.nearest", edge=edge_named(row.edge), part=part_named(row.part), hole=numbered(hole)
        )
        advice = said("R104.lifts")
        yield held(judged, subject, advice, ASK, holes=(hole.number,), place=hole.place, cause=row.edge.name)


def _is_clamped(row: EdgeDistances) -> bool:
    """Whether the screws of a cover hold the sheet down along the opening: that edge cannot lift."""
    return row.edge.name == "opening edge" and any(hole.kind == "screw" for hole in row.holes)
