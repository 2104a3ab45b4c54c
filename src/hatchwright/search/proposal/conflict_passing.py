"""An opening too small for what must go through it: by how much, and the least opening that would do."""

from __future__ import annotations

import math

from msgspec.structs import replace

from hatchwright.job.wish import Passing
from hatchwright.said import Said, inch, missing, room, said
from hatchwright.search.proposal.conflict_asked import Asked, Question, Scope
from hatchwright.search.proposal.conflict_drawing import sized
from hatchwright.search.proposal.conflict_limit import is_mandated
from hatchwright.search.proposal.conflict_told import narrowest_told
from hatchwright.search.proposal.passing import clear_of, goes_through, size_of, sizes_for, stopped
from hatchwright.search.proposal.ring import Shape
from hatchwright.search.proposal.values import Conflict, Relaxation

_LARGEST_TIMES = 8.0
"""Larger than this many of the one wanted no opening is looked for [-]. Own choice, no source."""


def passing_conflicts(question: Question, asked: Asked) -> tuple[Conflict, ...]:
    """One conflict for each thing that does not go through the opening.

    Args:
        asked: with the largest opening that is wanted.
    """
    layout = question.layout
    return tuple(_conflict(question, asked, one) for one in stopped(layout, asked.shape))


def _conflict(question: Question, asked: Asked, one: Passing) -> Conflict:
    layout, shape = question.layout, asked.shape
    clear = clear_of(layout, shape)
    what = said(f"conflict.passing.{one.what}")
    width_in, height_in = size_of(one)
    larger = _least_larger(question, asked, one)
    told = said(
        "conflict.told.hand" if one.what == "hand" and one.width is None else "conflict.told.passing",
        what=what,
        width=missing(width_in),
        height=missing(height_in),
        clear_x=room(clear.width_in),
        clear_y=room(clear.height_in),
    )
    return Conflict(
        between=said("conflict.between.passing", what=what),
        limits=(said("conflict.limit.passing", what=what), *_names()),
        ways=(_enlarged(question, asked, larger),) if larger is not None else (),
        told=told,
        requests=(said("conflict.request.holder"),) if is_mandated(layout) else (),
    )


def _names() -> tuple[Said, ...]:
    return said("conflict.limit.width"), said("conflict.limit.height")


def _least_larger(question: Question, asked: Asked, one: Passing) -> Shape | None:
    """The least larger opening that it goes through and round which a ring has room; None where there is none."""
    layout, shape, step_in = question.layout, asked.shape, question.problem(asked).step_in
    clear = clear_of(layout, shape)
    land = shape.width_in - clear.width_in, shape.height_in - clear.height_in
    found = []
    for size in sizes_for(one):
        made = shape
        grown_in = 0.0
        while not goes_through(one, clear_of(layout, made)):
            width, height = (
                math.ceil(max(own, wanted + off + grown_in) / step_in - 1e-9) * step_in
                for own, wanted, off in zip((shape.width_in, shape.height_in), size, land, strict=True)
            )
            if max(width / shape.width_in, height / shape.height_in) > _LARGEST_TIMES:
                break
            if shape.is_round:
                width = height = max(width, height)
            made = replace(
                made,
                width_in=width,
                height_in=height,
                radius_in=width / 2.0 if shape.is_round else made.radius_in,
            )
            grown_in += step_in
        else:
            found.append(made)
    there = [one for one in found if question.holds(replace(asked, shape=one), Scope.ALL)]
    return min(there, key=lambda made: made.area_sq_in(), default=None)


def _enlarged(question: Question, asked: Asked, larger: Shape) -> tuple[Relaxation, ...]:
    layout, mandated = question.layout, is_mandated(question.layout)
    whose = "mandate" if mandated else "drawing"
    given = said(f"conflict.gives.{whose}", ring=narrowest_told(question, replace(asked, shape=larger)))
    sizes = ((asked.shape.width_in, larger.width_in), (asked.shape.height_in, larger.height_in))
    return tuple(
        Relaxation(
            key=name,
            limit=said(f"conflict.limit.{name}"),
            from_=inch(old_in),
            to=missing(new_in),
            whose="mandate" if mandated else "drawing",
            may_be_entered=None if mandated else sized(layout, axis, new_in, "to"),
            gives=given,
        )
        for axis, (name, (old_in, new_in)) in enumerate(zip(("width", "height"), sizes, strict=True))
        if new_in > old_in
    )
