"""My hole is 1.9D: which limits an edge distance is held to, and what the next rivet size does."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Annotated

from msgspec import Struct

from hatchwright.errors import EntryError, TableError
from hatchwright.finding import Finding, held
from hatchwright.job.as_made import AsMade
from hatchwright.job.entry import Diameter, Entered, NotNegative, Positive, SameAs, UncertaintyOrNone
from hatchwright.job.fasteners import RivetName
from hatchwright.judged import Judgement, Measure, Status
from hatchwright.remedy import ASK
from hatchwright.rules.answer import worse
from hatchwright.rules.edge_distance import edge_held, least_edges
from hatchwright.rules.hole_size import size_held
from hatchwright.rules.next_size import edge_held_at_next, left_of, size_takes, spacing_held_at_next
from hatchwright.rules.spacing import spacing_held
from hatchwright.said import Amount, Said, inch, missing, room, said
from hatchwright.tables.rivet_part import RivetPart, parse_rivet
from hatchwright.tables.rivets import hole_range, next_rivet_diameter
from hatchwright.tables.screws import screw_size
from hatchwright.words.readings import reading_called
from hatchwright.workflow.quick.answer import Answer, Bench, Quick, Told, listed, told
from hatchwright.workflow.quick.screw_edge import ScrewEdge
from hatchwright.workings import Quantity, Working


class EdgeAsked(Entered):
    """A hole near an edge, its rivet or cover screw, and how well its place was measured."""

    fastener: RivetName
    distance: NotNegative
    uncertainty: Annotated[UncertaintyOrNone | None, SameAs(AsMade, "uncertainty")] = None
    hole: Diameter | None = None
    spacing: Positive | None = None


class _Hole(Struct, frozen=True):
    part: RivetPart
    distance_in: float
    u_in: float
    next_in: float | None
    hole_in: float | None

    @property
    def next_part(self) -> str:
        assert self.next_in is not None  # asked only where there is a larger size
        return str(self.part.of_diameter(self.next_in))


def _answer(asked: EdgeAsked, bench: Bench) -> Answer:
    try:
        part = parse_rivet(asked.fastener)
    except EntryError:
        return _of_screw(asked, bench)
    u_in = asked.uncertainty.inch if asked.uncertainty else 0.0
    hole = _Hole(part, asked.distance.inch, u_in, _next_in(part), asked.hole.inch if asked.hole else None)
    apart_in = asked.spacing.inch if asked.spacing else None
    beside = () if apart_in is None else (_spacing(apart_in, hole, bench),)
    at_next, is_oversize = tuple(_at_next_size(apart_in, hole, bench)), _is_oversize(hole, bench)
    asks = [
        held(code, judged, what, said("next_size.no"), ASK) for code, what, judged in at_next if is_oversize
    ]
    findings = (_edge(hole, bench), *beside, *asks, *_size(hole, bench))
    left = [_left(what, judged) for _, what, judged in at_next if not is_oversize]
    open_ = [said("quick.edge.open.nearest")]
    if not asked.spacing:
        open_.append(said("quick.edge.open.spacing"))
    if hole.next_in is None:
        open_.insert(0, said("quick.edge.open.no_larger", rivet=asked.fastener))
    if asked.uncertainty is None:
        open_.append(said("quick.edge.open.u"))
    if asked.hole is None:
        open_.append(said("quick.edge.open.hole"))
    return Answer(findings, (*_told(hole, bench), *left), tuple(open_))


def _of_screw(asked: EdgeAsked, bench: Bench) -> Answer:
    """What is no rivet is a screw.

    Raises:
        EntryError: it is neither.
    """
    try:
        screw = screw_size(asked.fastener, bench.shop)
    except TableError as error:
        what, do = said("quick.edge.no_fastener"), said("quick.edge.no_fastener.do")
        raise EntryError(what, where="fastener", remedy=do) from error
    distance, u, hole, spacing = (
        one.inch if one else None for one in (asked.distance, asked.uncertainty, asked.hole, asked.spacing)
    )
    return ScrewEdge(asked.fastener, screw, distance or 0.0, u, hole, spacing, bench).answer()


def _next_in(part: RivetPart) -> float | None:
    try:
        return next_rivet_diameter(part.diameter_in, part.unit, above=True).value
    except TableError:
        return None


def _edge(hole: _Hole, bench: Bench) -> Finding:
    diameter_in = hole.part.diameter_in
    e = Measure("e", hole.distance_in, hole.u_in, per=("D", diameter_in, "in"))
    asked, whole = edge_held(e, diameter_in, least_edges(bench.limit, flush=hole.part.is_flush))
    breaks_out = whole.status.rank > asked.status.rank
    judged = whole if breaks_out else asked
    advice = said("quick.edge.breaks_out") if hole.distance_in < diameter_in / 2.0 else ASK
    code = "R102" if hole.part.is_flush else "R101"
    return held(code, judged, said("quick.edge.subject", rivet=str(hole.part)), advice)


def _at_next_size(apart_in: float | None, hole: _Hole, bench: Bench) -> Iterator[tuple[str, Said, Judgement]]:
    """Edge distance, and spacing to the nearest rivet as that is, with the next size in this hole: an oversize one
    needs it, of another it is good to know."""
    if hole.next_in is None:
        return
    least = next(iter(least_edges(bench.limit, flush=hole.part.is_flush).values()))
    e = edge_held_at_next(hole.distance_in, hole.u_in, hole.next_in, least)
    yield "R105", said("quick.edge.next", rivet=hole.next_part), e
    if apart_in is not None:
        p = spacing_held_at_next(apart_in, hole.u_in, hole.next_in, bench.limit("pitch_min_single_row"))
        yield "R214", said("quick.edge.spacing_next", rivet=hole.next_part), p


def _left(what: Said, judged: Judgement) -> Told:
    left_in = left_of(judged)
    short, spare = said("quick.edge.short", by=missing(-left_in)), said("quick.edge.spare", by=room(left_in))
    return Told(what, short if left_in < 0.0 else spare, judged.working)


def _spacing(apart_in: float, hole: _Hole, bench: Bench) -> Finding:
    """Spacing to the nearest rivet."""
    diameter_in = hole.part.diameter_in
    p = Measure("p", apart_in, hole.u_in, per=("D", diameter_in, "in"))
    judged = spacing_held(p, diameter_in, {"": bench.limit("pitch_min_single_row")})
    return held("R201", judged, said("quick.edge.spacing", rivet=str(hole.part)), ASK)


def _is_oversize(hole: _Hole, bench: Bench) -> bool:
    """Whether a hole is, or may be by its uncertainty, too large for its rivet."""
    if hole.hole_in is None:
        return False
    large, _ = size_held(hole.hole_in, hole.u_in, hole_range(hole.part.diameter_in, bench.shop))
    return large.status is not Status.PASS


def _size(hole: _Hole, bench: Bench) -> Iterator[Finding]:
    """The hole as it was measured, and whether it takes the next size where it is too large."""
    if hole.hole_in is None:
        return
    allowed = hole_range(hole.part.diameter_in, bench.shop)
    large, small = size_held(hole.hole_in, hole.u_in, allowed)
    sizes = {"least": inch(allowed.least_in), "most": inch(allowed.greatest_in)}
    subject = said("quick.edge.hole_size", rivet=str(hole.part), **sizes)
    if large.status is not Status.PASS:
        advice = _rescue(hole.hole_in, hole, bench)
        yield held("R404", large, subject, *advice)
    else:
        yield held("R404", worse(small, large), subject, said("R404.open_up"))


def _rescue(hole_in: float, hole: _Hole, bench: Bench) -> tuple[Said, ...]:
    if hole.next_in is None:
        return said("next_size.none"), ASK
    takes = size_takes(hole_in, hole.u_in, hole.next_in, bench.shop)
    return (said("quick.edge.takes" if takes else "quick.edge.too_large", rivet=hole.next_part), ASK)


def _told(hole: _Hole, bench: Bench) -> Iterator[Told]:
    diameter_in = hole.part.diameter_in
    d, least = Quantity("D", diameter_in, "in"), least_edges(bench.limit, flush=hole.part.is_flush)
    ratio = Quantity("e/D", hole.distance_in / diameter_in, "")
    default = next(iter(least.values()))
    put_in = (Quantity("e", hole.distance_in, "in"), d)
    yield told(
        "edge.ratio",
        Amount(ratio.value, "D", beside=default.value),
        Working.resting_on(default, "e / D", ratio, *put_in),
    )
    for reading, cited in least.items():
        e = Quantity("e", cited.value * diameter_in, "in")
        working = Working.resting_on(cited, f"e = {cited.value:g} D", e, d)
        id, called = ("least_by", {"reading": reading_called(reading)}) if reading else ("least", {})
        yield told(f"edge.{id}", inch(e.value, fine=True), working, **called)
    most = bench.limit("edge_max")
    e = Quantity("e", most.value * diameter_in, "in")
    yield told("edge.most", inch(e.value, fine=True), Working.resting_on(most, f"e = {most.value:g} D", e, d))
    if hole.next_in is not None:
        at_next = next_rivet_diameter(diameter_in, hole.part.unit, above=True)
        yield told("edge.next_size", hole.next_part, listed(at_next, "D next", hole.next_in))


QUICK = Quick("edge", EdgeAsked, _answer)
