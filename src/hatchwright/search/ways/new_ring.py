"""The doubler made anew: as drawn where it was cut wrong, or wider on the side of a hole too near its edge."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.job.outline import RoundedRectangle, loop_about
from hatchwright.remedy import PartChange
from hatchwright.said import Amount, inch, said
from hatchwright.search.candidate import Candidate, Concern, rounded, steps
from hatchwright.search.ways.entering import edge_of, moved_out, nearest_side

_EDGE = "doubler outer edge"
_PER_IN = {"in": 1.0, "mm": 25.4}


def new_ring(concern: Concern) -> Iterator[Candidate]:
    """A doubler as drawn in place of one that was measured, then one with an edge out by what is missing, and more."""
    job = concern.job
    if job.doubler is None or _EDGE not in concern.edges or not concern.named:
        return
    again: tuple[PartChange, ...] = ()
    if job.as_made and job.as_made.doubler_outer:
        again = (PartChange("as_made.doubler_outer", None),)
        yield Candidate((), said("way.new_ring_as_drawn"), again)
    outer = job.doubler.outer
    if not isinstance(outer, RoundedRectangle):
        return
    middle_in = concern.layout.center_in
    bounds = loop_about(outer, middle_in).bounds
    side = nearest_side(concern.named[0].place, bounds)
    for by in steps(concern):
        by_in = float(rounded(by, concern.unit, up=True)) / _PER_IN[concern.unit]
        new = moved_out(outer, side, by_in, middle_in, concern.unit)
        edge_in = edge_of(bounds, side)
        at: tuple[Amount, Amount] = inch(edge_in), inch(edge_in + side.sign * by_in)
        what = said("way.new_ring", side=side.name, old=at[0], new=at[1])
        yield Candidate((), what, (*again, PartChange("doubler.outer", new)))
