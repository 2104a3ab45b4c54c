"""Flush rivets with reduced heads, where the shop or a document tells their size; elsewhere what is to be looked up.

Such a head is not for tension ([COLLEGE-NOTES], rivet types): it is tried nowhere where the job says that the load
pulls on the heads, or leaves that open.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress

from msgspec.structs import replace

from hatchwright.errors import EntryError, TableError
from hatchwright.job.job import Job
from hatchwright.layout.layout import Hole
from hatchwright.remedy import EntryChange
from hatchwright.said import Numbered, Said, Value, said
from hatchwright.search.candidate import Candidate, Concern
from hatchwright.search.ways.entering import fitted, row_at
from hatchwright.search.ways.next_rivet import drilled_out, larger_rivets, larger_said, with_ring
from hatchwright.tables.rivet_part import RivetPart, parse_rivet, rivet_heads
from hatchwright.tables.rivets import head_size
from hatchwright.tables.table import ShopTables

_BRINGS = (("R417", said("way.reduced_head.open")),)


def reduced_head(concern: Concern) -> Iterator[Candidate]:
    """Each countersunk row with reduced heads of its size and alloy, before any hole of it is sunk."""
    made, rows = concern.job.as_made, concern.layout.rows()
    begun = {one.number for of in (made.countersinks, made.heads) for one in of} if made else set[int]()
    for hole, other in _same_size(concern):
        at = row_at(concern.job, hole)
        is_begun = not begun.isdisjoint(one.number for one in rows[hole.row])
        if at is None or is_begun or not _may_be_tried(concern, other):
            continue
        row = concern.job.rows[at]
        what = said("way.reduced_head_row", row=row.name, old=row.rivet, new=str(other))
        yield Candidate((EntryChange(f"rows.{at}.rivet", row.rivet, str(other)),), what, (), _BRINGS)


def next_reduced_head(concern: Concern) -> Iterator[Candidate]:
    """Each drilled hole of a countersunk row with the next sizes of rivet that have a reduced head."""
    made = concern.job.as_made
    for hole, other in _next_sizes(concern) if made else ():
        assert made is not None  # nothing is drilled that was not measured
        if _may_be_tried(concern, other):
            opened, drill = drilled_out(concern, hole, other)
            what = said("way.reduced_head", what=larger_said(hole, other, drill))
            parts = (*opened, *fitted(made, hole.number, str(other)))
            for one in with_ring(concern, hole, other, what, parts):
                yield replace(one, brings=_BRINGS)


def reduced_head_asked(concern: Concern) -> Iterator[Said]:
    """What is to be looked up, or answered, before reduced heads are tried in rows."""
    found = {hole.row: other for hole, other in _same_size(concern)}
    yield from _asked(concern, ((said("rescue.row", row=row), other) for row, other in found.items()))


def next_reduced_head_asked(concern: Concern) -> Iterator[Said]:
    """The same of single holes and the next sizes."""
    found = dict[int, RivetPart]()
    for hole, other in _next_sizes(concern):
        found.setdefault(hole.number, other)
    yield from _asked(concern, ((Numbered("hole", (at,)), other) for at, other in found.items()))


def _asked(concern: Concern, wanted: Iterator[tuple[Value, RivetPart]]) -> Iterator[Said]:
    is_pulled = _is_pulled(concern.job)
    for of, rivet in wanted if concern.missing_in > 0.0 else ():
        if is_pulled is None:
            yield said("rescue.ask_pulled", of=of)
        elif not is_pulled and not _is_listed(rivet, concern.layout.shop):
            yield said("rescue.ask_reduced_head", of=of, rivet=str(rivet))


def _same_size(concern: Concern) -> Iterator[tuple[Hole, RivetPart]]:
    """The first named hole of each countersunk row, with each reduced head of its size and alloy."""
    rows: set[str] = set()
    for hole, part in _countersunk(concern, concern.named):
        if hole.row not in rows:
            rows.add(hole.row)
            yield from ((hole, other) for other in _reduced(part))


def _next_sizes(concern: Concern) -> Iterator[tuple[Hole, RivetPart]]:
    """Each drilled hole of a countersunk row, with each reduced head of the next sizes."""
    for hole, _ in _countersunk(concern, concern.drilled):
        for part in larger_rivets(hole):
            yield from ((hole, other) for other in _reduced(part))


def _countersunk(concern: Concern, holes: tuple[Hole, ...]) -> Iterator[tuple[Hole, RivetPart]]:
    """Those of some holes that take a full flush head in a machine countersink."""
    sunk = {row.name for row in concern.job.rows if row.preparation == "countersink"}
    for hole in holes:
        with suppress(EntryError):
            part = parse_rivet(hole.fastener) if hole.kind == "rivet" and hole.row in sunk else None
            if part and part.is_flush and not part.head.is_reduced:
                yield hole, part


def _reduced(part: RivetPart) -> Iterator[RivetPart]:
    for family, head in rivet_heads().items():
        if head.is_reduced and head.unit == part.unit:
            yield replace(part, family=family)


def _may_be_tried(concern: Concern, rivet: RivetPart) -> bool:
    return _is_pulled(concern.job) is False and _is_listed(rivet, concern.layout.shop)


def _is_listed(rivet: RivetPart, shop: ShopTables | None) -> bool:
    """Whether more is known of a head's size than what is remembered."""
    with suppress(TableError):
        return head_size(rivet, shop).grade.may_stop
    return False


def _is_pulled(job: Job) -> bool | None:
    """Whether the load pulls on the heads, as far as the job says; None where it is left open."""
    if job.skin.pressurized or job.mount or job.loads.cover.air_pressure is not None:
        return True
    return job.gate.pressure_skin
