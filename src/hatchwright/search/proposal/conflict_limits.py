"""The limits of a proposal that may be moved: whose each is, how far it makes sense, and how it is told and entered.

None is moved out of sense: a clearance ends at nothing, an edge distance at 1.5D, a pitch at 3D, rivets at half of
those asked for, an opening at half its size. A published limit that is moved is no limit that is met: it is what an
engineer or the design approval holder would have to show.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from msgspec.structs import replace

from hatchwright.layout.layout import Layout
from hatchwright.said import Amount, inch, room, said
from hatchwright.search.proposal.conflict_asked import Asked, Question, Scope
from hatchwright.search.proposal.conflict_drawing import place, size
from hatchwright.search.proposal.conflict_limit import Limit
from hatchwright.search.proposal.conflict_sets import Movable
from hatchwright.search.proposal.conflict_shop import kept, rows, shelf, through

LEAST_EDGE_D = 1.5
"""An edge distance under it is no proposal to an engineer either [D]. Common practice, no source."""

LEAST_PITCH_D = 3.0
"""No reading asks for less [D]. Source: [NAVEDTRA-14018], ch. 13; [TM-10-5410-229-13P], par. 5-6(3)(b)."""

_CLEAR_STEP_IN = 0.001
_RATIO_STEP_D = 0.01


def limits_for(question: Question, asked: Asked, scope: Scope) -> tuple[Limit, ...]:
    """Every limit that has to do with a scope, what is hardest to move first."""
    return tuple(_limits(question, asked, scope))


def _limits(question: Question, asked: Asked, scope: Scope) -> Iterator[Limit]:
    layout = question.layout
    is_placed = scope in (Scope.X, Scope.Y, Scope.ALL)
    if is_placed:
        yield from _clearance(layout)
    yield from _edge(question, asked)
    yield from _pitch(question, asked)
    yield from _count(question, asked)
    yield from shelf(layout, asked)
    yield from rows(asked)
    yield from kept(layout, asked)
    if asked.is_through and scope in (Scope.THROUGH, Scope.ALL):
        yield from through(question, asked)
    if is_placed:
        yield from place(question, asked)
    if scope is not Scope.ROWS:
        yield from size(question, asked, scope)


def _clearance(layout: Layout) -> Iterator[Limit]:
    clear_in = layout.limit("clearance_to_adjacent_structure").value
    stops = math.floor(clear_in / _CLEAR_STEP_IN + 1e-9)
    if stops and layout.job.bay.flanges:
        yield Limit(
            "published",
            said("conflict.limit.clearance"),
            Movable(
                "clearance", stops, lambda asked, stop: replace(asked, clear_cut_in=stop * _CLEAR_STEP_IN)
            ),
            inch(clear_in),
            lambda stop: room(max(0.0, clear_in - stop * _CLEAR_STEP_IN)),
            _nothing,
        )


def _edge(question: Question, asked: Asked) -> Iterator[Limit]:
    limits = question.problem(asked).asked[0].kind.limits
    least_d = limits.edge_in / limits.diameter_in
    stops = math.floor((least_d - LEAST_EDGE_D) / _RATIO_STEP_D + 1e-9)
    if stops > 0:
        yield Limit(
            "published",
            said("conflict.limit.edge"),
            Movable("edge", stops, lambda asked, stop: replace(asked, edge_cut_d=stop * _RATIO_STEP_D)),
            Amount(least_d, "D"),
            lambda stop: Amount(least_d - stop * _RATIO_STEP_D, "D"),
            _nothing,
        )


def _pitch(question: Question, asked: Asked) -> Iterator[Limit]:
    limits = question.problem(asked).asked[0].kind.limits
    least_d = limits.pitch_in[1] / limits.diameter_in
    stops = math.floor((least_d - LEAST_PITCH_D) / _RATIO_STEP_D + 1e-9)
    if stops > 0 and asked.most_rows > 1:
        yield Limit(
            "published",
            said("conflict.limit.pitch"),
            Movable("pitch", stops, lambda asked, stop: replace(asked, pitch_cut_d=stop * _RATIO_STEP_D)),
            Amount(least_d, "D"),
            lambda stop: Amount(least_d - stop * _RATIO_STEP_D, "D"),
            _nothing,
            gives="" if limits.is_flush else "reading",
        )


def _count(question: Question, asked: Asked) -> Iterator[Limit]:
    needed = max(max(one.kind.limits.needed) for one in question.problem(asked).asked)
    if stops := needed // 2:
        yield Limit(
            "published",
            said("conflict.limit.count"),
            Movable("count", stops, lambda asked, stop: replace(asked, fewer=stop)),
            Amount(needed, ""),
            lambda stop: Amount(needed - stop, ""),
            _nothing,
        )


def _nothing(stop: int) -> None:
    """Nothing that can be typed moves it."""
