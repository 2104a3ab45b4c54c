"""A hole that belongs to no row: reamed to one with the rivet hole that it lies on, or filled where data allow it."""

from __future__ import annotations

import math
from collections.abc import Iterator
from contextlib import suppress

from msgspec.structs import replace

from hatchwright.errors import TableError
from hatchwright.job.as_typed import typed_length
from hatchwright.job.hole_readings import StrayHole
from hatchwright.layout.layout import Hole
from hatchwright.remedy import PartChange
from hatchwright.said import Numbered, Place, Said, inch, said
from hatchwright.search.candidate import Candidate, Concern
from hatchwright.search.ways.entering import fitted, row_at
from hatchwright.search.ways.next_rivet import larger_rivets, typed_drill, with_ring
from hatchwright.tables.rivet_part import RivetPart, parse_rivet
from hatchwright.tables.rivets import hole_drill, hole_range

_Around = tuple[float, float, float]
"""Center and diameter of a hole that takes in two [in]."""


def cleaned_hole(concern: Concern) -> Iterator[Candidate]:
    """Each stray hole that runs into a drilled rivet hole, reamed with it to one hole of the next sizes of rivet."""
    made, shop, unit = concern.job.as_made, concern.layout.shop, concern.unit
    for at, stray in enumerate(made.strays if made else ()):
        for hole in concern.layout.holes_of("rivet"):
            if made is None or not hole.is_made or hole.nominal_in is None or not _touch(hole, stray):
                continue
            x_in, y_in, around_in = _around(hole, stray)
            u_in = max(hole.uncertainty_in, hole.size_uncertainty_in, made.u_in(stray))
            for part in larger_rivets(hole):
                with suppress(TableError):
                    drill = hole_drill(part.diameter_in, shop=shop)
                    if drill.diameter_in < around_in + u_in:
                        continue  # something of one of the two would be left
                    place = [typed_length(one, unit) for one in (x_in, y_in)]
                    reading = [hole.number, *place, typed_drill(drill)]
                    what = said(
                        "way.cleaned_hole",
                        hole=Numbered("rivet", (hole.number,)),
                        drill=typed_drill(drill),
                        size=inch(drill.diameter_in, fine=True),
                        at=Place(x_in, y_in),
                        old=hole.fastener,
                        new=str(part),
                    )
                    parts = (
                        PartChange(f"as_made.strays.{at}", None),
                        *_read_again(concern, hole, reading),
                        *fitted(made, hole.number, str(part)),
                    )
                    there = replace(hole, x_in=x_in, y_in=y_in)
                    yield from with_ring(concern, there, part, what, parts)


def _touch(hole: Hole, stray: StrayHole) -> bool:
    """Whether two holes run into each other, or leave less than a web between them that a drill would tear out."""
    apart_in = math.dist(hole.place, (stray.x.inch, stray.y.inch))
    return apart_in <= (_bored_in(hole) + stray.diameter.inch) / 2.0 + _WEB_IN


_WEB_IN = 1.0 / 32.0
"""Metal between two holes that is taken for none. Common practice, no source [in]."""


def _bored_in(hole: Hole) -> float:
    """As measured, else as large as its rivet allows [in]."""
    if hole.hole_in is not None:
        return hole.hole_in
    with suppress(TableError):
        return hole_range(hole.diameter_in).greatest_in
    return hole.diameter_in


def _around(hole: Hole, stray: StrayHole) -> _Around:
    """The smallest hole that takes in both."""
    one_in, other_in = _bored_in(hole), stray.diameter.inch
    at, to = hole.place, (stray.x.inch, stray.y.inch)
    apart_in = math.dist(at, to)
    if apart_in + min(one_in, other_in) / 2.0 <= max(one_in, other_in) / 2.0:
        return (*(at if one_in >= other_in else to), max(one_in, other_in))
    across_in = apart_in + (one_in + other_in) / 2.0
    share = (across_in / 2.0 - one_in / 2.0) / apart_in
    x_in, y_in = (a + share * (b - a) for a, b in zip(at, to, strict=True))
    return x_in, y_in, across_in


def _read_again(concern: Concern, hole: Hole, reading: list[object]) -> Iterator[PartChange]:
    """The reading of a hole's place and size as it is to be reamed, its own uncertainty kept."""
    made = concern.job.as_made
    for k, one in enumerate(made.polar if made else ()):
        for at, polar in enumerate(one.holes):
            if polar.number == hole.number:
                yield PartChange(f"as_made.polar.{k}.holes.{at}", None)
    for at, size in enumerate(made.sizes if made else ()):
        if size.number == hole.number:
            yield PartChange(f"as_made.sizes.{at}", None)
    count = len(made.holes) if made else 0
    for at, placed in enumerate(made.holes if made else ()):
        if placed.number == hole.number:
            u = [] if placed.uncertainty is None else [placed.uncertainty.text]
            yield PartChange(f"as_made.holes.{at}", [*reading, *u])
            return
    yield PartChange(f"as_made.holes.{count}", reading)


def filled_stray(concern: Concern) -> Iterator[Candidate]:
    """Each open stray hole for which data are entered, with a rivet of the nearest row that its size allows."""
    for at, stray, part in _fillings(concern):
        if stray.data:
            line = stray.model_copy(update={"filled": str(part)}).as_typed()
            what = said("way.filled_stray", number=at + 1, rivet=str(part), data=stray.data)
            yield Candidate((), what, (PartChange(f"as_made.strays.{at}", line),))


def filled_stray_asked(concern: Concern) -> Iterator[Said]:
    """What to ask the design approval holder before an open stray hole is filled."""
    asked = dict[int, RivetPart]()
    for at, stray, part in _fillings(concern):
        if not stray.data:
            asked.setdefault(at, part)
    for at, part in asked.items():
        yield said("rescue.ask_filled_stray", number=at + 1, rivet=str(part))


def _fillings(concern: Concern) -> Iterator[tuple[int, StrayHole, RivetPart]]:
    """Place of each open stray hole that is named, with each rivet of the nearest row or next sizes that it allows."""
    made, shop = concern.job.as_made, concern.layout.shop
    for at, stray in enumerate(made.strays if made else ()):
        rivets = [hole for hole in concern.layout.holes_of("rivet") if hole.nominal_in is not None]
        if stray.filled or not rivets or at + 1 not in concern.strays:
            continue
        to = (stray.x.inch, stray.y.inch)
        near = min(rivets, key=lambda hole: math.dist(hole.place, to))
        if row_at(concern.job, near) is None:
            continue
        for part in (parse_rivet(near.fastener), *larger_rivets(near)):
            with suppress(TableError):
                if hole_range(part.diameter_in, shop).greatest_in >= stray.diameter.inch:
                    yield at, stray, part
