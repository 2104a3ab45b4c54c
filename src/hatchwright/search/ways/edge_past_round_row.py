"""The opening past a row that runs all round it: wider all round, doubler and cover made anew, the row laid beyond."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator

from hatchwright.job.as_typed import typed_length
from hatchwright.job.made_outline import RoundEnds
from hatchwright.job.outline import FiledEdges
from hatchwright.job.rivet_rows import OffsetRow, PolarRow
from hatchwright.remedy import EntryChange, PartChange
from hatchwright.said import Said, inch, said
from hatchwright.search.candidate import Candidate, Concern, entry_change, numbers, pitches, stepped_in
from hatchwright.search.ways.entering import widened_all_round, without_readings
from hatchwright.search.ways.taken_in import MOST_OUT_IN, takes_in

_NEAREST = 1e-6


def edge_past_round_row(concern: Concern, at: int) -> Iterator[Candidate]:
    """The least that the opening grows all round so that it takes in a row, then the same with another spacing of it.

    Nothing where another hole is drilled too: its row would have to stay, or its readings would be of other holes.
    """
    layout, opening, unit = concern.layout, concern.job.opening, concern.unit
    row = concern.job.rows[at]
    gone = layout.rows()[row.name]
    is_alone = not any(hole.is_drilled and hole.row != row.name for hole in layout.holes)
    if not is_alone or widened_all_round(opening, 0.0, unit) is None:
        return
    step_in = stepped_in(_NEAREST, unit)

    def is_out(step: int) -> bool:
        new = type(opening).model_validate(
            widened_all_round(opening, step * step_in, unit), context={"unit": unit}
        )
        return takes_in(concern, new, gone)

    steps = range(1, round(MOST_OUT_IN / step_in))
    first = bisect_left(steps, True, key=is_out)
    if first == len(steps):
        return
    by_in = steps[first] * step_in
    what = said("way.edge_past_round_row", by=inch(by_in), row=row.name)
    entries, parts = tuple(_made_edges(concern, by_in)), tuple(_parts(concern, at, by_in))
    yield Candidate(entries, what, parts)
    for spaced, told in _spaced(concern, at, what):
        yield Candidate((*entries, spaced), told, parts)


def _spaced(concern: Concern, at: int, what: Said) -> Iterator[tuple[EntryChange, Said]]:
    """Other spacings of the row, which is longer now, each with the sentence that tells it."""
    row = concern.job.rows[at]
    if isinstance(row, OffsetRow | PolarRow) and row.count is not None:
        for number in numbers(row.count):
            told = said("way.other_count", what=what, old=row.count, new=number)
            yield entry_change(f"rows.{at}.count", row.count, number), told
    elif isinstance(row, OffsetRow) and row.pitch is not None:
        for pitch in pitches(row.pitch, len(concern.layout.rows()[row.name]), concern.unit):
            told = said("way.other_pitch", what=what, old=inch(row.pitch.inch), new=inch(pitch.inch))
            yield entry_change(f"rows.{at}.pitch", row.pitch, pitch), told


def _made_edges(concern: Concern, by_in: float) -> Iterator[EntryChange]:
    """The edges that were measured, as they are to be filed now."""
    made = concern.job.as_made.opening if concern.job.as_made else None
    if not isinstance(made, FiledEdges | RoundEnds):
        return
    bounds = concern.layout.wanted.bounds
    for key, edge_in, out in zip(("x_from", "y_from", "x_to", "y_to"), bounds, (-1, -1, 1, 1), strict=True):
        new = typed_length(edge_in + out * by_in, concern.unit)
        yield EntryChange(f"as_made.opening.{key}", getattr(made, key).text, new)
    if isinstance(made, FiledEdges):
        new = typed_length(made.radius.inch + by_in, concern.unit)
        yield EntryChange("as_made.opening.radius", made.radius.text, new)


def _parts(concern: Concern, at: int, by_in: float) -> Iterator[PartChange]:
    """Opening, doubler, cover and rows on circles, all farther out; rows at a distance from an edge follow it."""
    job, unit = concern.job, concern.unit
    drawn = {
        "opening": job.opening,
        "doubler.outer": job.doubler.outer if job.doubler else None,
        "doubler.inner": job.doubler.inner if job.doubler else None,
        "cover.outline": job.cover.outline if job.cover else None,
    }
    for field, outline in drawn.items():
        if new := widened_all_round(outline, by_in, unit):
            yield PartChange(field, new)
    for k, row in enumerate(job.rows):
        if isinstance(row, PolarRow):
            is_radius = row.radius is not None
            size_in = row.radius_in + by_in if is_radius else 2.0 * (row.radius_in + by_in)
            yield PartChange(
                f"rows.{k}.{'radius' if is_radius else 'bolt_circle'}", typed_length(size_in, unit)
            )
    if job.as_made:
        if job.as_made.doubler_outer:
            yield PartChange("as_made.doubler_outer", None)
        gone = frozenset(hole.number for hole in concern.layout.rows()[job.rows[at].name])
        yield from without_readings(job.as_made, gone)
