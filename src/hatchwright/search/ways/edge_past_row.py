"""The opening past a row too near its edge: the cut takes its holes away, doubler and cover are made anew."""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Iterator

from hatchwright.job.as_typed import typed_length
from hatchwright.job.outline import FiledEdges, RoundedRectangle
from hatchwright.job.rivet_rows import LineRow, OffsetRow, PointRow, PolarRow
from hatchwright.remedy import EntryChange, PartChange
from hatchwright.said import Listed, Said, inch, said
from hatchwright.search.candidate import Candidate, Concern, is_drilled, stepped_in
from hatchwright.search.ways.edge_past_round_row import edge_past_round_row
from hatchwright.search.ways.entering import SIDES, Side, edge_of, moved_out, without_readings
from hatchwright.search.ways.taken_in import MOST_OUT_IN, takes_in

_NEAREST = 1e-6
_ENDS_OFF = (0, 1, 2)
"""Rivets that the row laid anew may lose at each end, where it comes to lie in the corners of the new doubler [-]."""


def edge_past_row(concern: Concern) -> Iterator[Candidate]:
    """Each straight row beside the opening that has a drilled hole too near its edge: the edge moves out past all of
    the row. A row beyond it that is drilled takes its place, and it is laid anew beyond that one; else both move out.
    Past a row that runs all round, it moves out all round.
    """
    opening = concern.job.opening
    if "opening edge" not in concern.edges:
        return
    for name in dict.fromkeys(hole.row for hole in concern.drilled if hole.kind == "rivet"):
        at = next(at for at, row in enumerate(concern.job.rows) if row.name == name)
        if isinstance(concern.job.rows[at], OffsetRow | PolarRow):
            yield from edge_past_round_row(concern, at)
        elif isinstance(opening, RoundedRectangle) and (side := _side_of(concern, at)):
            yield from _past(concern, opening, at, side)


def _side_of(concern: Concern, at: int) -> Side | None:
    """The side of the opening that a straight row runs along, None for any other row."""
    row, bounds = concern.job.rows[at], concern.layout.wanted.bounds
    if not isinstance(row, LineRow):
        return None
    for side in SIDES:
        ends_in = [end[side.axis].inch for end in (row.start, row.end)]
        if abs(ends_in[0] - ends_in[1]) < _NEAREST and side.sign * (ends_in[0] - edge_of(bounds, side)) > 0:
            return side
    return None


def _past(concern: Concern, opening: RoundedRectangle, at: int, side: Side) -> Iterator[Candidate]:
    layout, job = concern.layout, concern.job
    edge_in = edge_of(layout.wanted.bounds, side)
    beyond = _beyond(concern, at, side)
    if beyond is not None and is_drilled(layout.rows()[job.rows[beyond].name]):
        by_in = _at(concern, beyond, side) - _at(concern, at, side)
        again_in = 2.0 * by_in
    else:
        by_in = again_in = _least_out(concern, opening, at, side)
    if not _takes_in(concern, opening, at, side, by_in):
        return
    row, edge = job.rows[at].name, (inch(edge_in), inch(edge_in + side.sign * by_in))
    what = said("way.edge_past_row", side=side.name, old=edge[0], new=edge[1], row=row)
    entries = tuple(_made_edge(concern, side, edge_in + side.sign * by_in))
    screws = tuple(_more_screws(concern, by_in))
    denser = tuple(_denser(concern, at, side, by_in))
    for more in dict.fromkeys(((), denser, screws, (*denser, *screws))):
        told = (
            said("way.also", what=what, also=Listed(tuple(_also(concern, one) for one in more)))
            if more
            else what
        )
        for fewer in _ENDS_OFF:
            parts = tuple(_parts(concern, opening, at, side, (by_in, again_in), fewer))
            yield Candidate((*entries, *more), told, parts)


def _also(concern: Concern, one: EntryChange) -> Said:
    """One more entry that changes, such as the pitch of a row."""
    _, of, *rest = one.field.split(".")
    if rest == ["pitch"]:
        return said("way.also.pitch", row=concern.job.rows[int(of)].name, old=one.old, new=one.new)
    return said("way.also.screws", old=one.old, new=one.new)


def _denser(concern: Concern, at: int, side: Side, by_in: float) -> Iterator[EntryChange]:
    """One space more in each straight row that gets longer with the opening: its side asks for more rivets."""
    middle_in, unit = concern.layout.center_in[side.axis], concern.unit
    laid = concern.layout.rows()
    for k, row in enumerate(concern.job.rows):
        if k == at or not isinstance(row, LineRow) or is_drilled(laid[row.name]):
            continue
        is_out = [side.sign * (end[side.axis].inch - middle_in) > 0 for end in (row.start, row.end)]
        if row.pitch is None or is_out[0] == is_out[1]:
            continue
        run_in = by_in + math.dist(*([one.inch for one in end] for end in (row.start, row.end)))
        spaces = math.ceil(run_in / row.pitch.inch - _NEAREST) + 1
        pitch = typed_length(stepped_in(run_in / spaces, unit), unit)
        yield EntryChange(f"rows.{k}.pitch", row.pitch.text, pitch)


def _more_screws(concern: Concern, by_in: float) -> Iterator[EntryChange]:
    """As many cover screws as keep their spacing round the longer edge, where none is drilled."""
    layout, cover = concern.layout, concern.job.cover
    screws = cover.screws if cover else None
    if screws and screws.count is not None and not is_drilled(layout.holes_of("screw")):
        around_in = layout.wanted.length_in
        more = math.ceil(screws.count * (around_in + 2.0 * by_in) / around_in)
        yield EntryChange("cover.screws.count", str(screws.count), str(more + more % 2))


def _least_out(concern: Concern, opening: RoundedRectangle, at: int, side: Side) -> float:
    """The least that the edge moves out so that it takes in all of a row, on a step, within `MOST_OUT_IN` [in]."""
    step_in = stepped_in(_NEAREST, concern.unit)
    steps = range(1, round(MOST_OUT_IN / step_in))
    first = bisect_left(steps, True, key=lambda step: _takes_in(concern, opening, at, side, step * step_in))
    return (first + 1) * step_in


def _takes_in(concern: Concern, opening: RoundedRectangle, at: int, side: Side, by_in: float) -> bool:
    """Whether every hole of a row is cut away once an edge is moved out."""
    new = moved_out(opening, side, by_in, concern.layout.center_in, concern.unit)
    outline = RoundedRectangle.model_validate(new, context={"unit": concern.unit})
    return takes_in(concern, outline, concern.layout.rows()[concern.job.rows[at].name])


def _at(concern: Concern, at: int, side: Side) -> float:
    """How far out a straight row is drawn on its side [in]."""
    row = concern.job.rows[at]
    assert isinstance(row, LineRow)  # only those run along a side
    return side.sign * row.start[side.axis].inch


def _beyond(concern: Concern, at: int, side: Side) -> int | None:
    """The next straight row outward on the same side, None where there is none."""
    out_in = _at(concern, at, side)
    others = (k for k in range(len(concern.job.rows)) if k != at and _side_of(concern, k) == side)
    farther = ((_at(concern, k, side), k) for k in others if _at(concern, k, side) > out_in + _NEAREST)
    return min(farther, default=(0.0, None))[1]


def _made_edge(concern: Concern, side: Side, edge_in: float) -> Iterator[EntryChange]:
    """The edge that was measured, as it is to be filed now."""
    made = concern.job.as_made.opening if concern.job.as_made else None
    if isinstance(made, FiledEdges):
        key = f"{'xy'[side.axis]}_{'to' if side.sign > 0 else 'from'}"
        old = getattr(made, key)
        yield EntryChange(f"as_made.opening.{key}", old.text, typed_length(edge_in, concern.unit))


def _parts(
    concern: Concern,
    opening: RoundedRectangle,
    at: int,
    side: Side,
    out_in: tuple[float, float],
    fewer: int,
) -> Iterator[PartChange]:
    """Everything drawn on that side of the center moves out with the edge; what is drilled stays.

    Args:
        out_in: how far the edge moves out, with all that is not drilled; and the row that the opening takes in, which
            is drilled anew [in].
        fewer: rivets that this row loses at each end [-].
    """
    job, layout, middle_in, unit = concern.job, concern.layout, concern.layout.center_in, concern.unit
    by_in, again_in = out_in
    yield PartChange("opening", moved_out(opening, side, by_in, middle_in, unit))
    drawn = {
        "doubler.outer": job.doubler.outer if job.doubler else None,
        "doubler.inner": job.doubler.inner if job.doubler else None,
        "cover.outline": job.cover.outline if job.cover else None,
    }
    for field, outline in drawn.items():
        if isinstance(outline, RoundedRectangle):
            yield PartChange(field, moved_out(outline, side, by_in, middle_in, unit))
    holes = layout.rows()
    for k, row in enumerate(job.rows):
        if k == at and isinstance(row, LineRow):
            yield from _laid_anew(concern, at, row, side, (again_in, fewer))
        elif isinstance(row, LineRow | PointRow) and not is_drilled(holes.get(row.name, ())):
            yield from _row_moved(concern, k, row, side, by_in)
    if job.as_made:
        if job.as_made.doubler_outer:
            yield PartChange("as_made.doubler_outer", None)
        gone = frozenset(hole.number for hole in holes[job.rows[at].name])
        yield from without_readings(job.as_made, gone)


def _laid_anew(
    concern: Concern, at: int, row: LineRow, side: Side, out: tuple[float, int]
) -> Iterator[PartChange]:
    """Both ends of a row farther out and, for each rivet that it loses at an end, one pitch nearer to each other."""
    by_in, fewer = out
    count = len(concern.layout.rows()[row.name])
    if count - 2 * fewer < 2:
        return
    ends = {"start": (row.start, row.end), "end": (row.end, row.start)}
    for name, (own, other) in ends.items():
        share = fewer / (count - 1)
        place_in = [one.inch + share * (far.inch - one.inch) for one, far in zip(own, other, strict=True)]
        place_in[side.axis] += side.sign * by_in
        yield PartChange(f"rows.{at}.{name}", [typed_length(one, concern.unit) for one in place_in])
    if row.count is not None and fewer:
        yield PartChange(f"rows.{at}.count", count - 2 * fewer)


def _row_moved(
    concern: Concern, at: int, row: LineRow | PointRow, side: Side, by_in: float
) -> Iterator[PartChange]:
    """The points of a row that lie on that side of the opening's center, moved out."""
    middle_in = concern.layout.center_in[side.axis]
    named = {"start": row.start, "end": row.end} if isinstance(row, LineRow) else dict(enumerate(row.points))
    for name, point in named.items():
        place_in = [one.inch for one in point]
        if side.sign * (place_in[side.axis] - middle_in) > 0:
            place_in[side.axis] += side.sign * by_in
            field = f"rows.{at}.{name}" if isinstance(name, str) else f"rows.{at}.points.{name}"
            yield PartChange(field, [typed_length(one, concern.unit) for one in place_in])
