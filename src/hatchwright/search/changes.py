"""Every kind of change that a rule may name, and what makes its candidates."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from hatchwright.remedy import Change
from hatchwright.said import Said
from hatchwright.search.candidate import (
    Candidate,
    Concern,
)
from hatchwright.search.drawn_parts import (
    bend_radius,
    corner_radius,
    cover_size,
    doubler_gauge,
    doubler_sheet,
    doubler_size,
    land_size,
    opening_size,
)
from hatchwright.search.drawn_rows import (
    row_distance,
    row_pitch,
    row_place,
    row_preparation,
    row_rivet,
    row_stagger,
)
from hatchwright.search.drawn_screws import (
    nutplate_ears,
    nutplate_kind,
    nutplate_strap,
    screw_inset,
    screw_length,
    screw_number,
)
from hatchwright.search.ways.edge_past_row import edge_past_row
from hatchwright.search.ways.moved_rivet import added_rivet, moved_rivet
from hatchwright.search.ways.new_cover import new_cover
from hatchwright.search.ways.new_ring import new_ring
from hatchwright.search.ways.next_rivet import next_rivet
from hatchwright.search.ways.reduced_head import (
    next_reduced_head,
    next_reduced_head_asked,
    reduced_head,
    reduced_head_asked,
)
from hatchwright.search.ways.stray_holes import cleaned_hole, filled_stray, filled_stray_asked

_CHANGES: dict[Change, Callable[[Concern], Iterator[Candidate]]] = {
    Change.ROW_DISTANCE: row_distance,
    Change.ROW_PLACE: row_place,
    Change.ROW_PITCH: row_pitch,
    Change.ROW_STAGGER: row_stagger,
    Change.ROW_PREPARATION: row_preparation,
    Change.ROW_RIVET: row_rivet,
    Change.DOUBLER_SIZE: doubler_size,
    Change.LAND_SIZE: land_size,
    Change.OPENING_SIZE: opening_size,
    Change.CORNER_RADIUS: corner_radius,
    Change.COVER_SIZE: cover_size,
    Change.DOUBLER_GAUGE: doubler_gauge,
    Change.DOUBLER_SHEET: doubler_sheet,
    Change.BEND_RADIUS: bend_radius,
    Change.SCREW_INSET: screw_inset,
    Change.SCREW_NUMBER: screw_number,
    Change.SCREW_LENGTH: screw_length,
    Change.NUTPLATE_KIND: nutplate_kind,
    Change.NUTPLATE_EARS: nutplate_ears,
    Change.NUTPLATE_STRAP: nutplate_strap,
    Change.NEXT_RIVET: next_rivet,
    Change.CLEANED_HOLE: cleaned_hole,
    Change.FILLED_STRAY: filled_stray,
    Change.MOVED_RIVET: moved_rivet,
    Change.ADDED_RIVET: added_rivet,
    Change.REDUCED_HEAD: reduced_head,
    Change.NEXT_REDUCED_HEAD: next_reduced_head,
    Change.NEW_RING: new_ring,
    Change.EDGE_PAST_ROW: edge_past_row,
    Change.NEW_COVER: new_cover,
}


def candidates(change: Change, concern: Concern) -> Iterator[Candidate]:
    """Every change of one kind that may be tried, the smallest first."""
    return _CHANGES[change](concern)


_ASKS: dict[Change, Callable[[Concern], Iterator[Said]]] = {
    Change.FILLED_STRAY: filled_stray_asked,
    Change.REDUCED_HEAD: reduced_head_asked,
    Change.NEXT_REDUCED_HEAD: next_reduced_head_asked,
}


def data_asked(changes: Iterable[Change], concern: Concern) -> Iterator[Said]:
    """What is to be looked up before some kinds of change can be tried."""
    for change in changes:
        if change in _ASKS:
            yield from _ASKS[change](concern)
