"""Which entries of a job an answer speaks of, so that who reads it is one tap from their boxes."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from msgspec import Struct

from hatchwright.finding import Finding
from hatchwright.job.job import Job
from hatchwright.layout.layout import Layout
from hatchwright.register import find
from hatchwright.remedy import EntryChange, Tried
from hatchwright.workflow.examine import Examination

_SCREWS = "cover.screws"

_ENTERED_IN: Mapping[str, tuple[str, ...]] = {
    **dict.fromkeys(("parts", "edges", "distinct_edges", "sides", "wanted"), ("opening", "doubler", "cover")),
    **dict.fromkeys(("holes", "near", "pitches", "row_spacings", "pattern"), ("rows", _SCREWS)),
}
"""Where what the survey measures is entered; all else that a code looks at is a section of the job."""


class SpokenOf(Struct, frozen=True):
    """What the answers on one job speak of.

    Args:
        owners: by number of a hole the part of the job that it is entered in, such as ``rows.2``.
        present: sections that the job has.
        tried: remedies that were tried.
    """

    owners: Mapping[int, str]
    present: frozenset[str]
    tried: Tried

    def entries(self, finding: Finding) -> tuple[str, ...]:
        """Dotted entries and sections: what is missing, what a tried remedy changes, what its holes are entered in;
        where that is nothing, the sections that its code looks at."""
        near = [
            *finding.enter,
            *(change.field for change in self.changes(finding)),
            *(self.owners[number] for number in finding.holes if number in self.owners),
        ]
        entry = find(finding.code)
        read = entry.reads if entry and not near else ()
        sections = (part for name in read for part in _ENTERED_IN.get(name, (name,)))
        return tuple(dict.fromkeys((*near, *(part for part in sections if part in self.present))))

    def changes(self, finding: Finding) -> tuple[EntryChange, ...]:
        """What is to be typed so that it passes, as it was tried; nothing where nothing was tried or found, or where it
        takes more than typing: that is entered as a way out."""
        found = next((remedy for one, remedy in self.tried if one is finding), None)
        return () if found is None or found.parts else found.entries


def spoken_of(examination: Examination, tried: Tried) -> SpokenOf:
    """What the answers on an examined job speak of."""
    job = examination.job
    present = {name for name in Job.model_fields if getattr(job, name) is not None}
    present |= {_SCREWS} if job.cover and job.cover.screws else set()
    return SpokenOf(owners(examination.layout), frozenset(present), tried)


def owners(layout: Layout) -> dict[int, str]:
    """By number of a hole, the part of the job that it is entered in."""
    rows = {row.name: f"rows.{place}" for place, row in enumerate(layout.job.rows)}
    named = ((hole.number, _SCREWS if hole.kind == "screw" else rows.get(hole.row)) for hole in layout.holes)
    return {number: part for number, part in named if part}


def parts_of(entries: Iterable[str], parts: Iterable[str]) -> tuple[str, ...]:
    """The nearest of some parts of a job around each entry.

    >>> parts_of(("rows.2.start.0", "cutter.reach"), ("rows", "rows.2", "cutter", "skin"))
    ('rows.2', 'cutter')
    """
    known = frozenset(parts)
    found: dict[str, None] = {}
    for entry in entries:
        while entry and entry not in known:
            entry = entry.rpartition(".")[0]
        if entry:
            found[entry] = None
    return tuple(found)
