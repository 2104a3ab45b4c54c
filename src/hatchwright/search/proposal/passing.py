"""What must go through the finished opening, held to what is left open inside doubler and land."""

from __future__ import annotations

import math

from msgspec.structs import replace

from hatchwright.job.wish import Passing
from hatchwright.judged import FLOAT_NOISE, Status
from hatchwright.layout.layout import Layout
from hatchwright.rules.passage import HAND_OVAL_IN, HAND_SQUARE_IN, hand_held
from hatchwright.search.proposal.ring import Shape

Size = tuple[float, float]


def clear_of(layout: Layout, shape: Shape) -> Shape:
    """What is left open of an opening: the doubler's window, as much smaller than the opening as the job has it."""
    doubler = layout.part("doubler")
    if doubler is None or len(doubler.edges) < 2:
        return shape
    window, own = doubler.edges[1].loop.bounds, layout.wanted.bounds
    land_x, land_y = ((own[k + 2] - own[k]) - (window[k + 2] - window[k]) for k in (0, 1))
    width_in, height_in = shape.width_in - land_x, shape.height_in - land_y
    return replace(
        shape, width_in=width_in, height_in=height_in, radius_in=_radius_in(layout, shape, width_in)
    )


def _radius_in(layout: Layout, shape: Shape, width_in: float) -> float:
    if shape.is_round:
        return width_in / 2.0
    inner = layout.job.doubler.inner if layout.job.doubler else None
    own = getattr(inner, "radius", None)
    return own.inch if own is not None else shape.radius_in


def stopped(layout: Layout, shape: Shape) -> tuple[Passing, ...]:
    """What the wish names that does not go through an opening of some size; of the ring the search itself speaks."""
    clear = clear_of(layout, shape)
    return tuple(one for one in layout.job.wish.passes if one.what != "ring" and not goes_through(one, clear))


def lets_through(layout: Layout, shape: Shape) -> bool:
    """Whether an opening of some size leaves anything open, and lets through all that the wish names but the ring."""
    clear = clear_of(layout, shape)
    return min(clear.width_in, clear.height_in) > 0.0 and not stopped(layout, shape)


def goes_through(one: Passing, clear: Shape) -> bool:
    """Whether one thing goes through what is left open, either way round."""
    if one.what == "hand" and one.width is None:
        return hand_held(clear.width_in, clear.height_in).status is Status.PASS
    return any(_fits(size, clear, is_soft=one.what == "hand") for size in _turned(size_of(one)))


def size_of(one: Passing) -> Size:
    """The size of what goes through; of a hand without one the hole that passed one [in]."""
    if one.width is None or one.height is None:
        return HAND_OVAL_IN
    return one.width.inch, one.height.inch


def sizes_for(one: Passing) -> tuple[Size, ...]:
    """Sizes of which each is enough in square corners [in]."""
    if one.what == "hand" and one.width is None:
        return (*_turned(HAND_OVAL_IN), (HAND_SQUARE_IN, HAND_SQUARE_IN))
    return _turned(size_of(one))


def _turned(size_in: Size) -> tuple[Size, ...]:
    return size_in, size_in[::-1]


def _fits(size_in: Size, clear: Shape, *, is_soft: bool) -> bool:
    """Whether a rectangle lies within an outline about its middle; a hand needs no square corners."""
    half_x, half_y = size_in[0] / 2.0, size_in[1] / 2.0
    if 2.0 * half_x > clear.width_in + FLOAT_NOISE or 2.0 * half_y > clear.height_in + FLOAT_NOISE:
        return False
    past = max(0.0, half_x - clear.half_x_in), max(0.0, half_y - clear.half_y_in)
    return is_soft or math.hypot(*past) <= clear.radius_in + FLOAT_NOISE
