"""The doubler made anew: as drawn where it was cut wrong, or wider on the side of a hole too near its edge."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.job.outline import loop_about
from hatchwright.layout.layout import Hole, points_of
from hatchwright.remedy import PartChange
from hatchwright.rules.wording import is_flush
from hatchwright.said import inch, said
from hatchwright.search.candidate import Candidate, Concern, stepped_in, steps_in
from hatchwright.search.ways.entering import Side, edge_of, nearest_side, widened
from hatchwright.shapes.distance import distances
from hatchwright.shapes.profile import Profile

_EDGE = "doubler outer edge"


def new_ring(concern: Concern) -> Iterator[Candidate]:
    """A doubler as drawn in place of one that was measured, then one with an edge out by what is missing, and more."""
    job = concern.job
    if job.doubler is None or _EDGE not in concern.edges or not concern.named:
        return
    again = _again(concern)
    if again:
        yield Candidate((), said("way.new_ring_as_drawn"), again)
    for by_in in steps_in(concern):
        if found := _wider(concern, concern.named[0].place, by_in):
            side, edge_in, new = found
            what = said(
                "way.new_ring", side=side.name, old=inch(edge_in), new=inch(edge_in + side.sign * by_in)
            )
            yield Candidate((), what, (*again, new))


def ring_for(concern: Concern, hole: Hole, size_in: float) -> tuple[PartChange, ...]:
    """A doubler as much wider as a larger rivet in one hole asks for; nothing where there is room, or none can be had.

    Args:
        size_in: nominal diameter of that rivet [in].
    """
    doubler = concern.layout.part("doubler")
    outer = next((edge for edge in doubler.edges if edge.name == _EDGE), None) if doubler else None
    if outer is None or "doubler" not in hole.stack:
        return ()
    least = "edge_min_countersunk" if is_flush(hole) else "edge_min_single_row_protruding"
    away_in = float(distances(Profile((outer.loop,)), points_of((hole,))).distance_in[0])
    asked_in = (
        concern.layout.limit(least).value * size_in + hole.uncertainty_in + outer.uncertainty_in - away_in
    )
    if asked_in <= 0.0:
        return ()
    found = _wider(concern, hole.place, stepped_in(asked_in, concern.unit))
    return (*_again(concern), found[2]) if found else ()


def _again(concern: Concern) -> tuple[PartChange, ...]:
    """What was measured of a doubler, taken away: a new one is made."""
    made = concern.job.as_made
    return (PartChange("as_made.doubler_outer", None),) if made and made.doubler_outer else ()


def _wider(
    concern: Concern, place: tuple[float, float], by_in: float
) -> tuple[Side, float, PartChange] | None:
    """The side that a place lies at, where its edge is drawn, and the doubler with that edge out."""
    doubler, middle_in = concern.job.doubler, concern.layout.center_in
    if doubler is None:
        return None
    bounds = loop_about(doubler.outer, middle_in).bounds
    side = nearest_side(place, bounds)
    new = widened(doubler.outer, side, by_in, middle_in, concern.unit)
    return None if new is None else (side, edge_of(bounds, side), PartChange("doubler.outer", new))
