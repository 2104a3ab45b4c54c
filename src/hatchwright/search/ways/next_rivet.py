"""The next size of rivet in one hole: edge, spacing, count and neighbors are judged again with it."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress

from hatchwright.errors import EntryError, TableError
from hatchwright.layout.layout import Hole
from hatchwright.remedy import PartChange
from hatchwright.said import Numbered, Said, inch, said
from hatchwright.search.candidate import Candidate, Concern
from hatchwright.search.ways.entering import fitted, resized
from hatchwright.search.ways.new_ring import ring_for
from hatchwright.tables.drills import Drill
from hatchwright.tables.rivet_part import RivetPart, parse_rivet
from hatchwright.tables.rivets import hole_drill, hole_range, next_rivet_diameter

_SIZES = 2
"""The next size, and the one after it: a hole that takes a quite other rivet is another design [-]."""


def next_rivet(concern: Concern) -> Iterator[Candidate]:
    """Each drilled rivet hole with a larger rivet; one that is too small for it is drilled out first."""
    made = concern.job.as_made
    for hole in concern.drilled if made else ():
        for part in larger_rivets(hole):
            parts, drill = drilled_out(concern, hole, part)
            assert made is not None  # nothing is drilled that was not measured
            entered = (*parts, *fitted(made, hole.number, str(part)))
            yield from with_ring(concern, hole, part, larger_said(hole, part, drill), entered)


def with_ring(
    concern: Concern, hole: Hole, part: RivetPart, what: Said, parts: tuple[PartChange, ...]
) -> Iterator[Candidate]:
    """A larger rivet in a hole, then the same with a doubler that has the edge distance for it."""
    yield Candidate((), what, parts)
    if ring := ring_for(concern, hole, part.diameter_in):
        yield Candidate((), said("way.with_ring", what=what), (*parts, *ring))


def larger_rivets(hole: Hole) -> Iterator[RivetPart]:
    """The rivets of a hole's own kind in the next sizes, none where no table lists its rivet or none is larger."""
    with suppress(EntryError, TableError):
        part = parse_rivet(hole.fastener)
        for _ in range(_SIZES if hole.kind == "rivet" else 0):
            part = part.of_diameter(next_rivet_diameter(part.diameter_in, part.unit, above=True).value)
            yield part


def drilled_out(concern: Concern, hole: Hole, part: RivetPart) -> tuple[tuple[PartChange, ...], Drill | None]:
    """The reading of a measured hole that is to be opened up for a rivet, by its usual drill."""
    made, shop = concern.job.as_made, concern.layout.shop
    with suppress(TableError):
        least_in = hole_range(part.diameter_in, shop).least_in
        if made and hole.hole_in is not None and hole.hole_in - hole.size_uncertainty_in < least_in:
            drill = hole_drill(part.diameter_in, shop=shop)
            opened = drill.diameter_in > hole.hole_in and resized(made, hole.number, typed_drill(drill))
            return ((opened,), drill) if opened else ((), None)
    return (), None


def typed_drill(drill: Drill) -> str:
    """A drill as the size of a hole is typed."""
    return f"#{drill.name}" if drill.name.isdigit() else drill.name


def larger_said(hole: Hole, part: RivetPart, drill: Drill | None) -> Said:
    """A larger rivet in a hole, and the drill where that is opened up first."""
    named, old, new = Numbered("rivet", (hole.number,)), hole.fastener, str(part)
    if drill is None:
        return said("way.next_rivet", hole=named, old=old, new=new)
    size = inch(drill.diameter_in, fine=True)
    return said("way.next_rivet_drilled", hole=named, old=old, new=new, drill=typed_drill(drill), size=size)
