"""A rivet that is not drilled yet, moved away from a hole too near it; one more rivet where one is missing."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any

from hatchwright.job.as_typed import typed_length
from hatchwright.layout.layout import Hole, points_of
from hatchwright.remedy import PartChange
from hatchwright.said import Numbered, Place, said
from hatchwright.search.candidate import Candidate, Concern, stepped_in, steps_in
from hatchwright.search.ways.entering import row_at
from hatchwright.shapes.distance import distances
from hatchwright.shapes.profile import Profile

_OF_EVERY_ROW = ("name", "rivet", "preparation", "pilot", "final")
"""What a row of points keeps of the row that it takes the place of."""


def moved_rivet(concern: Concern) -> Iterator[Candidate]:
    """Each rivet that is named beside a drilled hole and is not drilled itself, straight away from it; its row becomes
    one of single points."""
    rivets = [hole for hole in concern.named if hole.kind == "rivet" and not hole.is_drilled]
    for from_ in concern.drilled:
        for hole in rivets:
            apart_in = math.dist(hole.place, from_.place)
            at = row_at(concern.job, hole)
            if at is None or apart_in == 0.0:
                continue
            for by_in in steps_in(concern):
                x_in, y_in = (
                    one + by_in * (one - other) / apart_in
                    for one, other in zip(hole.place, from_.place, strict=True)
                )
                what = said(
                    "way.moved_rivet",
                    hole=Numbered("rivet", (hole.number,)),
                    old=Place(*hole.place),
                    new=Place(x_in, y_in),
                )
                new = _as_points(concern, at, {hole.number: (x_in, y_in)})
                yield Candidate((), what, (PartChange(f"rows.{at}", new),))


def added_rivet(concern: Concern) -> Iterator[Candidate]:
    """One more rivet for each hole that lost its own: half way to a neighbor, square to the opening's edge, then
    between any two neighbors of its row."""
    job = concern.job
    for hole in concern.layout.holes_of("rivet"):
        at = row_at(job, hole)
        name = f"{hole.row[:_LONGEST_NAME]}+{hole.number}"
        if hole.is_fitted or at is None or name in {row.name for row in job.rows}:
            continue
        for place in _beside(concern, hole):
            points = [[typed_length(one, concern.unit) for one in place]]
            new = _kept(concern, at) | {"name": name, "lay": "points", "points": points}
            what = said("way.added_rivet", hole=Numbered("hole", (hole.number,)), at=Place(*place))
            yield Candidate((), what, (PartChange(f"rows.{len(job.rows)}", new),))


_LONGEST_NAME = 70
"""Letters of a row's name that the name of a rivet added beside it begins with: the job takes 80 [-]."""
_NEIGHBORS = 2
"""A hole lies between two others of its row [-]."""
_AWAY = (3.0, 3.5, 4.0)
"""How far beside an empty hole one more rivet is tried [D]."""


def _beside(concern: Concern, hole: Hole) -> Iterator[tuple[float, float]]:
    """Places for one more rivet, the nearest first of each kind [in]."""
    of_row = [pair for pair in concern.layout.pitches if pair.first.row == hole.row]
    between = sorted((pair.middle for pair in of_row), key=lambda middle: math.dist(middle, hole.place))
    yield from between[:_NEIGHBORS]
    foot = distances(Profile((concern.layout.opening,)), points_of((hole,))).foot[0].tolist()
    edge_in = math.dist(hole.place, foot)
    for away in _AWAY if hole.nominal_in and edge_in > 0.0 else ():
        by_in = stepped_in(away * (hole.nominal_in or 0.0) + hole.uncertainty_in, concern.unit)
        for out_in in (by_in, -by_in):
            x_in, y_in = (
                one + out_in * (one - other) / edge_in for one, other in zip(hole.place, foot, strict=True)
            )
            yield x_in, y_in
    yield from between[_NEIGHBORS:]


def _kept(concern: Concern, at: int) -> dict[str, Any]:
    entered = concern.job.rows[at].model_dump(exclude_none=True)
    return {name: entered[name] for name in _OF_EVERY_ROW if name in entered}


def _as_points(concern: Concern, at: int, moved: dict[int, tuple[float, float]]) -> dict[str, Any]:
    """A row as single points, some of them moved, its holes numbered as they are."""
    name = concern.job.rows[at].name
    holes = sorted(concern.layout.rows()[name], key=lambda hole: hole.number)
    points = [[typed_length(one, concern.unit) for one in _laid(hole, moved)] for hole in holes]
    return {**_kept(concern, at), "lay": "points", "first_number": holes[0].number, "points": points}


def _laid(hole: Hole, moved: dict[int, tuple[float, float]]) -> tuple[float, float]:
    return moved.get(hole.number, hole.drawn_in or hole.place)
