"""R101 to R103: edge distance, from the hole center to the nearest edge of each part it goes through."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

import numpy as np

from hatchwright.finding import Finding, held
from hatchwright.judged import RANKED, Bound, Judgement, Measure, Status, bound
from hatchwright.layout.layout import Hole
from hatchwright.layout.survey import EdgeDistances, Survey
from hatchwright.register import Shelf
from hatchwright.remedy import Change
from hatchwright.rules.rule import rule
from hatchwright.rules.wording import edge_named, is_flush, numbered, part_named
from hatchwright.said import Said, said
from hatchwright.tables.cited import Cited
from hatchwright.workings import Grade, Source

FLUSH_READINGS = ("handbook, flush heads", "circular, any head")

_WHOLE = Cited(0.5, "D", Source("GEOMETRY", "a hole within its sheet"), Grade.COMPUTED)


@dataclass(frozen=True, slots=True)
class EdgeJudgement:
    """The holes of one kind to one edge, judged together; every array is of shape (n_holes,).

    Args:
        whole: that the hole does not break out through the edge.
    """

    row: EdgeDistances
    asked: Judgement
    whole: Judgement


@rule(
    "R101",
    Shelf.HOLDS,
    limits=("edge_min_single_row_protruding",),
    rests_on=(_WHOLE,),
    reads=("edges",),
    marks_holes=True,
    remedies=(
        Change.ROW_DISTANCE,
        Change.ROW_PLACE,
        Change.DOUBLER_SIZE,
        Change.LAND_SIZE,
        Change.OPENING_SIZE,
    ),
)
def edge_distance_protruding(survey: Survey) -> Iterator[Finding]:
    """R101: edge distance, protruding heads."""
    least = {"": survey.limit("edge_min_single_row_protruding")}
    for one in judge_edges(survey, "R101", least, lambda hole: hole.kind == "rivet" and not is_flush(hole)):
        yield from _findings(survey, "R101", one)


@rule(
    "R102",
    Shelf.HOLDS,
    limits=("edge_min_countersunk", "edge_min_single_row_protruding"),
    readings=FLUSH_READINGS,
    rests_on=(_WHOLE,),
    reads=("edges",),
    marks_holes=True,
    remedies=(
        Change.ROW_DISTANCE,
        Change.ROW_PLACE,
        Change.DOUBLER_SIZE,
        Change.LAND_SIZE,
        Change.OPENING_SIZE,
    ),
)
def edge_distance_flush(survey: Survey) -> Iterator[Finding]:
    """R102: edge distance, flush heads; the handbook's figure is the default, the countersink takes metal away."""
    handbook, circular = FLUSH_READINGS
    least = {
        handbook: survey.limit("edge_min_countersunk"),
        circular: survey.limit("edge_min_single_row_protruding"),
    }
    for one in judge_edges(survey, "R102", least, lambda hole: hole.kind == "rivet" and is_flush(hole)):
        yield from _findings(survey, "R102", one)


@rule(
    "R103",
    Shelf.HOLDS,
    limits=("cover_screw_edge_distance",),
    rests_on=(_WHOLE,),
    reads=("edges",),
    marks_holes=True,
    remedies=(Change.SCREW_INSET, Change.COVER_SIZE, Change.LAND_SIZE),
    cause="screw edges",
)
def edge_distance_screws(survey: Survey) -> Iterator[Finding]:
    """R103: edge distance, cover screws; the rivet rule applied to them cautions, a hole that breaks out stops."""
    least = {"": survey.limit("cover_screw_edge_distance")}
    for one in judge_edges(survey, "R103", least, lambda hole: hole.kind == "screw", short=Status.CAUTION):
        yield from _findings(survey, "R103", one)


def judge_edges(
    survey: Survey,
    code: str,
    least: dict[str, Cited],
    concerns: Callable[[Hole], bool],
    *,
    short: Status = Status.STOP,
) -> Iterator[EdgeJudgement]:
    """Judge the edge distance of all holes of one kind, edge by edge.

    Args:
        code: whose reading the job may have chosen.
        least: name of each reading to its least distance [D], the default first.
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
            with_=(("foot X", row.foot_in[:, 0], "in"), ("foot Y", row.foot_in[:, 1], "in")),
        )
        asked: tuple[Bound, ...] = tuple(
            bound(cited, row.diameter_in, "D", reading=name) for name, cited in least.items()
        )
        yield EdgeJudgement(
            row,
            Judgement(e, asked, fails_as=short, chosen=survey.chosen(code)),
            Judgement(e, (bound(_WHOLE, row.diameter_in, "D"),)),
        )


def _findings(survey: Survey, code: str, one: EdgeJudgement) -> Iterator[Finding]:
    """A measured hole that does not pass speaks for itself; of the others the closest of its row speaks for all."""
    asked, whole = one.asked.ranks(), one.whole.ranks()
    ranks, ratio = np.maximum(asked, whole), one.row.distance_in / one.row.diameter_in
    alike: dict[tuple[int, str], list[int]] = {}
    for i in np.flatnonzero(ranks).tolist():
        rank, hole = int(ranks[i]), one.row.holes[i]
        if hole.is_made and RANKED[rank].holds_back:
            yield _finding(code, one, [i], breaks_out=bool(whole[i] > asked[i]))
        else:
            alike.setdefault((rank, hole.row), []).append(i)
    for some in alike.values():
        some.sort(key=lambda i: float(ratio[i]))
        yield _finding(code, one, some, breaks_out=bool(whole[some[0]] > asked[some[0]]))
    passing = np.flatnonzero(ranks == 0)
    if passing.size:
        closest = passing[np.argmin(ratio[passing])]
        yield _finding(code, one, [int(closest), *passing[passing != closest].tolist()], breaks_out=False)


def _finding(code: str, one: EdgeJudgement, some: list[int], *, breaks_out: bool) -> Finding:
    """One finding on the first of some holes, which speaks for the others."""
    i, row = some[0], one.row
    hole, judged = row.holes[i], (one.whole if breaks_out else one.asked).at(i)
    subject = said(
        "edge.closest" if len(some) > 1 else "edge.one",
        hole=numbered(hole),
        edge=edge_named(row.edge),
        part=part_named(row.part),
        n=len(some),
    )
    return held(
        code,
        judged,
        subject,
        *_advice(hole, row, float(row.distance_in[i])),
        holes=tuple(row.holes[j].number for j in (some if judged.status is not Status.PASS else some[:1])),
        place=(hole.x_in, hole.y_in),
        cause=row.edge.name,
    )


def _advice(hole: Hole, row: EdgeDistances, distance_in: float) -> Iterator[Said]:
    if distance_in < 0:
        yield said("edge.off_the_part", part=part_named(row.part))
    elif distance_in < hole.diameter_in / 2.0:
        yield said("edge.breaks_out", edge=edge_named(row.edge))
    else:
        yield said("ask.disposition")
