"""Limits that the shop set itself: rivets on the shelf, rows, short holes accepted, a ring that goes through flat."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator

from msgspec.structs import replace

from hatchwright.errors import HatchwrightError
from hatchwright.layout.layout import Layout
from hatchwright.remedy import EntryChange, PartChange
from hatchwright.rules.rivets_per_inch import asked_per_inch
from hatchwright.said import Amount, missing, room, said
from hatchwright.search.proposal.conflict_asked import Asked, Question
from hatchwright.search.proposal.conflict_limit import Limit
from hatchwright.search.proposal.conflict_sets import Movable
from hatchwright.tables.rivet_part import RivetPart, parse_rivet

MOST_SHORT_HOLES = 10.0
"""Short holes in a hundred jobs that a shop might still accept [-]. Own choice, no source."""


def shelf(layout: Layout, asked: Asked) -> Iterator[Limit]:
    """Each next size of the rivets there are, one at a time: it would have to be got."""
    parts = [parse_rivet(rivet) for rivet in asked.rivets]
    for part in parts[:1]:
        for steps in (-1, 1):
            other = _next_size(layout, part, steps)
            if other is None or other in asked.rivets:
                continue
            more = (*asked.rivets, other)
            yield Limit(
                "shop",
                said("conflict.limit.shelf", rivet=other),
                Movable(f"shelf {other}", 1, _with_rivets(more)),
                Amount(len(asked.rivets), ""),
                lambda stop, more=more: Amount(len(more), ""),  # type: ignore[misc]
                lambda stop, more=more: PartChange("wish.rivets", list(more)),  # type: ignore[misc]
            )


def _with_rivets(rivets: tuple[str, ...]) -> Callable[[Asked, int], Asked]:
    return lambda asked, stop: replace(asked, rivets=rivets)


def _next_size(layout: Layout, part: RivetPart, steps: int) -> str | None:
    """The next smaller or larger rivet that the tables count and that bears in the skin; None where there is none."""
    sizes = part.series.diameters
    at = sizes.index(part.diameter) + steps
    if not 0 <= at < len(sizes):
        return None
    other = replace(part, diameter=sizes[at])
    share = layout.job.skin.thickness.inch / other.diameter_in
    if share < layout.limit("t_over_d_min_for_bearing_allowables").value:
        return None
    if other.diameter_in < layout.limit("diameter_min_structural").value - 1e-9:
        return None
    try:
        return str(other) if asked_per_inch(layout, other.diameter_in) else None
    except HatchwrightError:
        return None


def rows(asked: Asked) -> Iterator[Limit]:
    """Two rows where one was wished for."""
    if asked.most_rows == 1:
        yield Limit(
            "shop",
            said("conflict.limit.rows"),
            Movable("rows", 1, lambda asked, stop: replace(asked, most_rows=2)),
            Amount(1, ""),
            lambda stop: Amount(2, ""),
            lambda stop: EntryChange("wish.most_rows", "1", "2"),
        )


def kept(layout: Layout, asked: Asked) -> Iterator[Limit]:
    """More short holes accepted, where a scatter is entered: so less is kept for drilling."""
    own = asked.short_holes
    stops = math.floor(MOST_SHORT_HOLES - own)
    if layout.job.scatter is None or stops < 1:
        return
    yield Limit(
        "shop",
        said("conflict.limit.short_holes"),
        Movable("short_holes", stops, lambda asked, stop: replace(asked, short_holes=own + stop)),
        Amount(own, ""),
        lambda stop: Amount(own + stop, ""),
        lambda stop: EntryChange("wish.short_holes", layout.job.wish.short_holes.text, f"{own + stop:g}"),
    )


def through(question: Question, asked: Asked) -> Iterator[Limit]:
    """A ring that need not go through flat."""
    left = [
        {name: getattr(size, "text", size) for name, size in one.model_dump(exclude_none=True).items()}
        for one in question.layout.job.wish.passes
        if one.what != "ring"
    ]
    shape, narrowest = asked.shape, question.narrowest(asked)
    ring_in = narrowest.width_in if narrowest is not None else 0.0
    across_in = min(shape.width_in, shape.height_in) + 2.0 * ring_in
    yield Limit(
        "shop",
        said("conflict.limit.through"),
        Movable("through", 1, lambda asked, stop: replace(asked, is_through=False)),
        room(shape.longest_chord_in),
        lambda stop: missing(across_in),
        lambda stop: PartChange("wish.passes", left or None),
        gives="leg",
    )
