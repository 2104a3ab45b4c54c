"""Changes of rows of rivets that are not drilled yet."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec.structs import replace

from hatchwright.job.rivet_rows import LineRow, OffsetRow, PointRow, PolarRow
from hatchwright.remedy import EntryChange
from hatchwright.said import inch, said
from hatchwright.search.candidate import (
    Candidate,
    Concern,
    either_way,
    entry_change,
    moved,
    numbers,
    one_entry,
    pitches,
    steps,
)
from hatchwright.tables.rivet_part import parse_rivet

_SIZES = 2
"""Rivets of the next sizes only: what takes a quite other rivet is another design [-]."""
_PREPARATIONS = ("dimple", "countersink", "dimple over countersink")


def row_distance(concern: Concern) -> Iterator[Candidate]:
    """The distance of a row from its edge, either way."""
    for at in concern.rows:
        row = concern.job.rows[at]
        if isinstance(row, OffsetRow):
            edge = said(f"edge.{row.edge.replace(' ', '_')}_edge")
            field, old = f"rows.{at}.distance", row.distance
            yield from either_way(concern, field, old, "remedy.row_distance", row=row.name, edge=edge)


def row_place(concern: Concern) -> Iterator[Candidate]:
    """Both ends of a straight row along X or Y, moved square to it; one that runs aslant is left where it is."""
    for at in concern.rows:
        row = concern.job.rows[at]
        if not isinstance(row, LineRow):
            continue
        for axis, name in enumerate(("X", "Y")):
            old = row.start[axis]
            if old.exact_in != row.end[axis].exact_in:
                continue
            for by in steps(concern):
                for signed in (by, -by):
                    new = moved(old, signed, concern.unit)
                    ends = (entry_change(f"rows.{at}.{end}.{axis}", old, new) for end in ("start", "end"))
                    was, will_be = inch(old.inch), inch(new.inch)
                    what = said("remedy.row_place", row=row.name, axis=name, old=was, new=will_be)
                    yield Candidate(tuple(ends), what)


def row_pitch(concern: Concern) -> Iterator[Candidate]:
    """The pitch of a row, or the number of its rivets, for a few less and more."""
    for at in concern.rows:
        row = concern.job.rows[at]
        if isinstance(row, PointRow):
            continue
        if row.count is not None:
            for number in numbers(row.count):
                yield one_entry(f"rows.{at}.count", row.count, number, "remedy.row_count", row=row.name)
            continue
        if isinstance(row, PolarRow) or row.pitch is None:
            continue  # spaced by angle or side by side: what else would do is for who chose that
        count = sum(hole.row == row.name for hole in concern.layout.holes)
        for new in pitches(row.pitch, count, concern.unit):
            yield one_entry(f"rows.{at}.pitch", row.pitch, new, "remedy.row_pitch", row=row.name)


def row_stagger(concern: Concern) -> Iterator[Candidate]:
    """Whether a row starts half a pitch on, the other way round."""
    for at in concern.rows:
        row = concern.job.rows[at]
        if isinstance(row, OffsetRow):
            what = said("remedy.row_unstagger" if row.stagger else "remedy.row_stagger", row=row.name)
            old, new = ("true", "false") if row.stagger else ("false", "true")
            yield Candidate((EntryChange(f"rows.{at}.stagger", old, new),), what)


def row_preparation(concern: Concern) -> Iterator[Candidate]:
    """Each other way to make a flush head sit."""
    for at in concern.rows:
        row = concern.job.rows[at]
        for new in _PREPARATIONS if row.preparation else ():
            if new != row.preparation:
                names = {"old": row.preparation, "new": new}
                told = {name: said(f"flush.{how.replace(' ', '_')}") for name, how in names.items() if how}
                what = said("remedy.row_preparation", row=row.name, **told)
                yield Candidate((EntryChange(f"rows.{at}.preparation", str(row.preparation), new),), what)


def row_rivet(concern: Concern) -> Iterator[Candidate]:
    """The rivet of all rows that have it: one size smaller or larger, or of the alloy that structure asks for."""
    for old in dict.fromkeys(concern.job.rows[at].rivet for at in concern.rows):
        rows = [at for at, row in enumerate(concern.job.rows) if row.rivet == old]
        if not set(rows) <= set(concern.rows):
            continue  # one of them is drilled
        part = parse_rivet(old)
        listed = (size for size in part.series.diameters if size != part.diameter)
        sizes = sorted(listed, key=lambda size: abs(size - part.diameter))
        others = [replace(part, letters="AD")] if part.letters == "A" else []
        for new in (*others, *(replace(part, diameter=size) for size in sizes[:_SIZES])):
            entries = tuple(EntryChange(f"rows.{at}.rivet", old, str(new)) for at in rows)
            yield Candidate(entries, said("remedy.row_rivet", old=old, new=str(new)))
