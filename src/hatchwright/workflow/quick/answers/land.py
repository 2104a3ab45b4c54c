"""Land from edge distance: how wide a ring must be beside the opening for its rows of rivets."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Annotated

from msgspec import Struct

from hatchwright.finding import Finding, held
from hatchwright.ground import Ground
from hatchwright.job.entry import Count, Entered, Positive, SameAs
from hatchwright.job.fasteners import RivetName
from hatchwright.job.rivet_rows import OffsetRow
from hatchwright.judged import Measure
from hatchwright.remedy import ASK
from hatchwright.rules.edge_distance import edge_held, least_edges
from hatchwright.rules.row_pattern import overlap_held
from hatchwright.rules.spacing import rows_held
from hatchwright.said import Amount, inch, said
from hatchwright.tables.rivet_part import RivetPart, parse_rivet
from hatchwright.workflow.quick.answer import Answer, Bench, Quick, Told, listed, told
from hatchwright.workings import Quantity, Source, Working

_ACROSS = Ground(Source("GEOMETRY", "a land is two edge distances and the spaces between its rows"))


class LandAsked(Entered):
    """Rows of rivets side by side on the land of a ring."""

    rivet: Annotated[RivetName, SameAs(OffsetRow, "rivet")]
    rows: Count = 1
    edge: Positive | None = None
    spacing: Positive | None = None
    land: Positive | None = None


class _Land(Struct, frozen=True):
    """A land as it is asked: where one is given and no edge distance, rows stand in its middle."""

    part: RivetPart
    rows: int
    edge_in: float
    spacing_in: float

    @property
    def across_in(self) -> float:
        return 2.0 * self.edge_in + (self.rows - 1) * self.spacing_in


def _answer(asked: LandAsked, bench: Bench) -> Answer:
    part = parse_rivet(asked.rivet)
    diameter_in = part.diameter_in
    default = next(iter(least_edges(bench.limit, flush=part.is_flush).values()))
    row_least = bench.limit("transverse_pitch_min")
    least_edge_in, least_row_in = default.value * diameter_in, row_least.value * diameter_in
    spacing_in = asked.spacing.inch if asked.spacing else least_row_in
    least = _Land(part, asked.rows, least_edge_in, spacing_in)
    edge_in = asked.edge.inch if asked.edge else least_edge_in
    if asked.land and not asked.edge:
        edge_in = max(0.0, (asked.land.inch - (asked.rows - 1) * spacing_in) / 2.0)
    drawn = _Land(part, asked.rows, edge_in, spacing_in)
    open_ = [
        said("quick.land.open.corner"),
        said("quick.land.open.neighbors"),
        said("quick.land.open.next_size"),
    ]
    return Answer(tuple(_findings(drawn, asked, bench)), tuple(_told(least, drawn, bench)), tuple(open_))


def _findings(land: _Land, asked: LandAsked, bench: Bench) -> Iterator[Finding]:
    diameter_in, flush = land.part.diameter_in, land.part.is_flush
    e = Measure("e", land.edge_in, per=("D", diameter_in, "in"))
    edge, whole = edge_held(e, diameter_in, least_edges(bench.limit, flush=flush))
    judged = whole if whole.status.rank > edge.status.rank else edge
    yield held("R102" if flush else "R101", judged, said("quick.land.edges", rivet=str(land.part)), ASK)
    if land.rows > 1:
        s = Measure("s", land.spacing_in, per=("D", diameter_in, "in"))
        yield held("R204", rows_held(s, diameter_in, bench.limit), said("quick.land.rows"), ASK)
        overlap = Measure("overlap", land.across_in, per=("D", diameter_in, "in"))
        held_to = overlap_held(overlap, diameter_in, bench.limit("min_overlap_double_row"))
        yield held("R208", held_to, said("quick.land.overlap"), said("R208.too_narrow"), ASK)
    if asked.land and asked.edge:
        room = Measure("land", asked.land.inch)
        yield held("", _ACROSS.at_least(room, land.across_in), said("quick.land.given"), ASK)


def _told(least: _Land, drawn: _Land, bench: Bench) -> Iterator[Told]:
    yield told("land.least", inch(least.across_in, fine=True), _across(least))
    if drawn != least:
        yield told("land.drawn", inch(drawn.across_in, fine=True), _across(drawn))
        ratio = drawn.edge_in / drawn.part.diameter_in
        e = Quantity("e/D", ratio, "")
        yield told(
            "land.edge", Amount(ratio, "D"), _ACROSS.working("e / D", e, Quantity("e", drawn.edge_in, "in"))
        )
    flush = drawn.part.is_flush
    default = next(iter(least_edges(bench.limit, flush=flush).values()))
    yield told("land.least_edge", inch(least.edge_in, fine=True), listed(default, "e", default.value, "D"))
    if drawn.rows > 1:
        row = bench.limit("transverse_pitch_min")
        yield told(
            "land.least_row",
            inch(row.value * drawn.part.diameter_in, fine=True),
            listed(row, "s", row.value, "D"),
        )


def _across(land: _Land) -> Working:
    put_in = (
        Quantity("e", land.edge_in, "in"),
        Quantity("n", float(land.rows), ""),
        Quantity("s", land.spacing_in, "in"),
    )
    return _ACROSS.working("land = 2 e + (n - 1) s", Quantity("land", land.across_in, "in"), *put_in)


QUICK = Quick("land", LandAsked, _answer)
