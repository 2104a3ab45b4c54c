"""Limits that whoever drew or mandated the opening set: how far its center may move, and its size."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Literal

from msgspec.structs import replace

from hatchwright.layout.layout import Layout
from hatchwright.remedy import EntryChange
from hatchwright.said import inch, room, said
from hatchwright.search.proposal.conflict_asked import Asked, Question, Scope
from hatchwright.search.proposal.conflict_limit import Limit, is_mandated, typed
from hatchwright.search.proposal.conflict_sets import Movable
from hatchwright.search.proposal.ring import Shape

SIZE = "size"
"""Key of the limit on both sizes of an opening that keeps its shape."""

_LOOKED_THROUGH = 20
"""A ring may need a little less at a larger opening, where its rows divide better: so many steps above the opening that
halving finds are asked one by one [-]."""

_FARTHEST_IN = 1.0
"""A center is not moved farther than this from where it was wanted [in]. Own choice, no source."""


def place(question: Question, asked: Asked) -> Iterator[Limit]:
    """How far the center may move."""
    layout, step_in = question.layout, question.problem(asked).step_in
    stops = math.floor((_FARTHEST_IN - asked.shift_in) / step_in + 1e-9)
    if stops < 1:
        return
    own_in, wish = asked.shift_in, layout.job.wish
    mandated = is_mandated(layout)
    yield Limit(
        "mandate" if mandated else "drawing",
        said("conflict.limit.place"),
        Movable("place", stops, lambda asked, stop: replace(asked, shift_in=own_in + stop * step_in)),
        inch(own_in),
        lambda stop: inch(own_in + stop * step_in),
        lambda stop: (
            None
            if mandated
            else EntryChange(
                "wish.shift", wish.shift.text if wish.shift else "", typed(layout, own_in + stop * step_in)
            )
        ),
    )


def size(question: Question, asked: Asked, scope: Scope) -> Iterator[Limit]:
    """Along the axis that a conflict lies on: the smaller size for a way through, both in the same shape for all."""
    shape = asked.shape
    axes = {Scope.X: (0,), Scope.Y: (1,), Scope.ALL: (0, 1)}.get(
        scope, (0,) if shape.width_in <= shape.height_in else (1,)
    )
    if shape.is_round:
        axes = (0, 1)
    yield from size_limits(question, asked, axes)


def size_limits(question: Question, asked: Asked, axes: tuple[int, ...]) -> Iterator[Limit]:
    """The size along one axis, or along both in the same shape.

    Args:
        axes: 0 for X, 1 for Y.
    """
    layout, shape, step_in = question.layout, asked.shape, question.problem(asked).step_in
    sizes = (shape.width_in, shape.height_in)
    lead = max(axes, key=lambda axis: sizes[axis])
    least_in = max(
        sizes[lead] / 2.0, 0.0 if shape.is_round else 2.0 * shape.radius_in * sizes[lead] / min(sizes)
    )
    stops = math.floor((sizes[lead] - least_in) / step_in - 1e-9)
    if stops < 1:
        return

    def at(asked: Asked, stop: int) -> Asked:
        return replace(asked, shape=smaller(shape, axes, stop, step_in))

    def size(stop: int, axis: int) -> float:
        made = smaller(shape, axes, stop, step_in)
        return (made.width_in, made.height_in)[axis]

    mandated = is_mandated(layout)
    names = ("width", "height")
    for axis in axes:
        key = SIZE if len(axes) > 1 else names[axis]
        yield Limit(
            "mandate" if mandated else "drawing",
            said(f"conflict.limit.{names[axis]}"),
            Movable(key, stops, at, _LOOKED_THROUGH),
            inch(sizes[axis]),
            lambda stop, axis=axis: room(size(stop, axis)),  # type: ignore[misc]
            lambda stop, axis=axis: None if mandated else sized(layout, axis, size(stop, axis), "from"),  # type: ignore[misc]
        )


def smaller(shape: Shape, axes: tuple[int, ...], stop: int, step_in: float) -> Shape:
    """An opening so many steps smaller along the greater of some axes, along the other in the same shape and on the
    step below it."""
    sizes = [shape.width_in, shape.height_in]
    lead = max(axes, key=lambda axis: sizes[axis])
    share = (sizes[lead] - stop * step_in) / sizes[lead]
    for axis in axes:
        sizes[axis] = math.floor(sizes[axis] * share / step_in + 1e-6) * step_in
    radius_in = sizes[0] / 2.0 if shape.is_round else shape.radius_in
    return replace(shape, width_in=sizes[0], height_in=sizes[1], radius_in=radius_in)


def sized(layout: Layout, axis: int, size_in: float, end: Literal["from", "to"]) -> EntryChange:
    """Another size of the opening: of its range where the wish gives that end of one, else as drawn.

    Args:
        axis: 0 for its width, 1 for its height; of a circle either is its diameter.
        end: which end of a range.
    """
    name, new = ("width", "height")[axis], typed(layout, size_in)
    wished = getattr(layout.job.wish, f"{name}_{end}")
    if wished is not None:
        return EntryChange(f"wish.{name}_{end}", wished.text, new)
    opening = layout.job.opening
    field = name if hasattr(opening, name) else "diameter"
    return EntryChange(f"opening.{field}", getattr(opening, field).text, new)
