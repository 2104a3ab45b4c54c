"""Every kind of change that a rule may name, and what makes its candidates."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from hatchwright.remedy import Change
from hatchwright.search import row_changes, screw_changes, sheet_changes
from hatchwright.search.candidate import Candidate, Concern

_CHANGES: dict[Change, Callable[[Concern], Iterator[Candidate]]] = {
    Change.ROW_DISTANCE: row_changes.row_distance,
    Change.ROW_PLACE: row_changes.row_place,
    Change.ROW_PITCH: row_changes.row_pitch,
    Change.ROW_STAGGER: row_changes.row_stagger,
    Change.ROW_PREPARATION: row_changes.row_preparation,
    Change.ROW_RIVET: row_changes.row_rivet,
    Change.DOUBLER_SIZE: sheet_changes.doubler_size,
    Change.LAND_SIZE: sheet_changes.land_size,
    Change.OPENING_SIZE: sheet_changes.opening_size,
    Change.CORNER_RADIUS: sheet_changes.corner_radius,
    Change.COVER_SIZE: sheet_changes.cover_size,
    Change.DOUBLER_GAUGE: sheet_changes.doubler_gauge,
    Change.DOUBLER_SHEET: sheet_changes.doubler_sheet,
    Change.BEND_RADIUS: sheet_changes.bend_radius,
    Change.SCREW_INSET: screw_changes.screw_inset,
    Change.SCREW_NUMBER: screw_changes.screw_number,
    Change.SCREW_LENGTH: screw_changes.screw_length,
}


def candidates(change: Change, concern: Concern) -> Iterator[Candidate]:
    """Every change of one kind that may be tried, the smallest first."""
    return _CHANGES[change](concern)
