"""A flush rivet with a smaller head in one hole, where a table has its head."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress

from msgspec.structs import replace

from hatchwright.errors import EntryError, TableError
from hatchwright.said import Numbered, said
from hatchwright.search.candidate import Candidate, Concern
from hatchwright.search.ways.entering import fitted
from hatchwright.tables.rivet_part import parse_rivet, rivet_heads
from hatchwright.tables.rivets import head_size


def reduced_head(concern: Concern) -> Iterator[Candidate]:
    """Each drilled flush hole with a rivet of its size and alloy whose head is smaller."""
    made, shop = concern.job.as_made, concern.layout.shop
    for hole in concern.drilled if made else ():
        with suppress(EntryError, TableError):
            part = parse_rivet(hole.fastener)
            if hole.kind != "rivet" or not part.is_flush:
                continue
            head_in = head_size(part, shop).head_in
            for family, head in rivet_heads().items():
                if not head.is_flush or head.unit != part.unit or head.replaced_by:
                    continue
                with suppress(TableError):
                    other = replace(part, family=family)
                    if head_size(other, shop).head_in < head_in and made:
                        named = Numbered("rivet", (hole.number,))
                        what = said("way.reduced_head", hole=named, old=hole.fastener, new=str(other))
                        yield Candidate((), what, tuple(fitted(made, hole.number, str(other))))
