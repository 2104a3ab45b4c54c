"""Rows of flush heads: how each sheet takes them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from hatchwright.job.fasteners import Preparation
from hatchwright.layout.layout import Hole, PartName
from hatchwright.layout.survey import Survey
from hatchwright.rules.wording import is_flush
from hatchwright.said import Said, inch, said


@dataclass(frozen=True, slots=True)
class FlushRow:
    """The flush holes of one row, how they are prepared, and the sheets they go through from outside.

    Args:
        name: of the row, or of the cover screws.
        preparation: as entered, None when it was not.
        pilot_in: hole before dimpling, None when it was not entered [in].
        sheets: name and thickness of each sheet from outside [in].
        entry: where the job keeps it, such as ``rows.0``.
    """

    name: str
    holes: tuple[Hole, ...]
    preparation: Preparation | None
    pilot_in: float | None
    sheets: tuple[tuple[PartName, float], ...]
    entry: str

    @property
    def hole(self) -> Hole:
        """One of its holes."""
        return self.holes[0]

    @property
    def numbers(self) -> tuple[int, ...]:
        """Numbers of all its holes."""
        return tuple(hole.number for hole in self.holes)

    def takes(self, how: str) -> tuple[tuple[PartName, float], ...]:
        """The sheets that are dimpled, or countersunk, with this preparation."""
        if self.preparation == "dimple over countersink":
            return self.sheets[:1] if how == "dimple" else self.sheets[1:]
        return self.sheets if self.preparation == how else ()


def sheet_said(part: PartName, thickness_in: float) -> Said:
    """A sheet with its thickness, such as skin .032."""
    return said("flush.sheet", part=said(f"part.{part}"), thickness=inch(thickness_in))


def flush_rows(survey: Survey) -> Iterator[FlushRow]:
    """Every row of flush rivets, then the cover screws when their heads are flush.

    Raises:
        UnlistedError: at the screws, when the shape of their heads is not known.
    """
    layout = survey.layout
    thickness = {part.name: part.thickness_in for part in layout.parts}
    screws = layout.job.cover.screws if layout.job.cover else None
    entered = {
        row.name: (row.preparation, row.pilot, f"rows.{index}") for index, row in enumerate(layout.job.rows)
    }
    for name, holes in survey.rows.items():
        first = holes[0]
        if first.kind == "rivet" and is_flush(first):
            preparation, pilot, entry = entered[name]
        elif first.kind == "screw" and screws and screws.known_head == "100 degree flush":
            preparation, pilot, entry = screws.preparation, screws.pilot, "cover.screws"
        else:
            continue
        sheets = tuple((part, thickness[part]) for part in first.stack)
        yield FlushRow(name, holes, preparation, pilot.inch if pilot else None, sheets, entry)
