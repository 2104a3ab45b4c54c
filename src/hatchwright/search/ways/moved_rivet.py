"""A rivet that is not drilled yet, moved away from a hole too near it; one more rivet where a gap is long."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any

from hatchwright.job.as_typed import typed_length
from hatchwright.layout.layout import Hole
from hatchwright.remedy import PartChange
from hatchwright.said import Numbered, Place, said
from hatchwright.search.candidate import Candidate, Concern, steps_in
from hatchwright.search.ways.entering import row_at

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
    """One more rivet half way between a drilled hole and each of its neighbors, the farther one first."""
    job = concern.job
    numbers = {hole.number for hole in concern.drilled}
    beside = [pair for pair in concern.layout.pitches if {pair.first.number, pair.second.number} & numbers]
    for pair in sorted(beside, key=lambda one: -one.distance_in):
        at = row_at(job, pair.first)
        if at is None:
            continue
        names = {row.name for row in job.rows}
        name = f"added {pair.first.number}-{pair.second.number}"
        if name in names:
            continue
        kept = _kept(concern, at) | {"name": name, "lay": "points"}
        new = {**kept, "points": [[typed_length(one, concern.unit) for one in pair.middle]]}
        between = Numbered("rivet", (pair.first.number, pair.second.number))
        what = said("way.added_rivet", between=between, at=Place(*pair.middle))
        yield Candidate((), what, (PartChange(f"rows.{len(job.rows)}", new),))


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
