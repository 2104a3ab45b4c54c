"""Sizes of opening: the job's own, those that the wish leaves open, and the largest that has room.

Larger openings are tried by halving, on the shop's step: first along the line from the least to the greatest, then in
width, then in height, where the sizes next above are looked through one by one: rows may divide better round them.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from fractions import Fraction
from functools import partial

from msgspec.structs import replace

from hatchwright.layout.layout import Layout
from hatchwright.search.proposal.entering import shape_of
from hatchwright.search.proposal.passing import lets_through
from hatchwright.search.proposal.ring import Shape
from hatchwright.units import Length

Grown = tuple[Fraction, Fraction]
"""How much wider and higher than the job's own an opening is, exact [in]."""

_DIGITS = 9
"""Sizes are told to a part of ten to this of an inch, so that a sum has no noise in its last bits [-]."""

LOOKED_THROUGH = 40
"""Sizes above the one that halving finds that are asked one by one, along each axis [-]."""

OWN: Grown = (Fraction(0), Fraction(0))


def shape_grown(shape: Shape, grown: Grown) -> Shape | None:
    """The opening so much wider and higher; None where nothing straight is left of a side, or nothing of a circle."""
    width_in, height_in = (
        round(own + float(by), _DIGITS)
        for own, by in zip((shape.width_in, shape.height_in), grown, strict=True)
    )
    if min(width_in, height_in) <= 0.0:
        return None
    if shape.is_round:
        return Shape(width_in, width_in, width_in / 2.0, is_round=True)
    made = replace(shape, width_in=width_in, height_in=height_in)
    return made if all(made.has_straight) else None


def range_of(layout: Layout, shape: Shape) -> tuple[Grown, Grown] | None:
    """The least and the greatest opening that the wish asks for; None where it leaves the size as it is."""
    wish = layout.job.wish
    given = (wish.width_from, wish.width_to, wish.height_from, wish.height_to)
    if not any(given):
        return None
    (low_x, high_x), (low_y, high_y) = (
        _ends(low, high, own_in)
        for low, high, own_in in (
            (wish.width_from, wish.width_to, shape.width_in),
            (wish.height_from, wish.height_to, shape.height_in),
        )
    )
    if shape.is_round:
        low_y, high_y = low_x, high_x
    return (low_x, low_y), (high_x, high_y)


def _ends(low: Length | None, high: Length | None, own_in: float) -> tuple[Fraction, Fraction]:
    """How much larger than its own a size is at least and at most; its own where one end is left blank [in]."""
    own = Fraction(own_in).limit_denominator(10**6)
    least = low.exact_in if low else min(own, high.exact_in) if high else own
    most = high.exact_in if high else max(own, least)
    return least - own, most - own


def goes_through(layout: Layout, grown: Grown) -> bool:
    """Whether everything that must pass goes through what is left open inside the doubler; the ring is asked apart."""
    shape = shape_grown(shape_of(layout.job), grown)
    return shape is not None and lets_through(layout, shape)


def largest(
    least: Grown, most: Grown, step: Fraction, holds: Callable[[Grown], bool], *, is_round: bool = False
) -> Grown | None:
    """The largest opening that holds between two, on the step; None where the least does not.

    Args:
        holds: whether an opening has a ring, and lets through what must pass.
        is_round: whether width and height are one diameter.
    """
    if holds(most):
        return most
    if not holds(least):
        return None
    reach = tuple(high - low for low, high in zip(least, most, strict=True))
    steps = math.ceil(max(reach) / step)

    def between(part: int) -> Grown:
        left = steps - part
        x, y = (
            high - min(_up(span * left / steps, step), span) for high, span in zip(most, reach, strict=True)
        )
        return x, y

    found = between(_last(steps, lambda part: holds(between(part))))
    for way in ((step, step),) if is_round else ((step, Fraction(0)), (Fraction(0), step)):
        room = max(math.floor((most[axis] - found[axis]) / step) for axis in (0, 1) if way[axis])
        holds_at = partial(_holds_along, holds, found, way)
        found = _along(found, way, _farthest(room, _last(room + 1, holds_at), holds_at))
    return found


def _holds_along(holds: Callable[[Grown], bool], start: Grown, way: Grown, part: int) -> bool:
    return holds(_along(start, way, part))


def _along(start: Grown, way: Grown, part: int) -> Grown:
    return start[0] + way[0] * part, start[1] + way[1] * part


def _down(value: Fraction, step: Fraction) -> Fraction:
    return math.floor(value / step) * step


def _up(value: Fraction, step: Fraction) -> Fraction:
    return math.ceil(value / step) * step


def _last(steps: int, holds: Callable[[int], bool]) -> int:
    """The last of so many steps that holds where the first does, by halving."""
    low, high = 0, steps
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (middle, high) if holds(middle) else (low, middle)
    return low


def _farthest(room: int, part: int, holds: Callable[[int], bool]) -> int:
    """The farthest that holds with no gap before it of as many as are looked through."""
    while True:
        above = range(min(room, part + LOOKED_THROUGH), part, -1)
        farther = next((one for one in above if holds(one)), None)
        if farther is None:
            return part
        part = farther


def least_of_shape(shape: Shape, step: Fraction) -> Grown:
    """The smallest opening of the same shape that is worth asking: its corners with a step of straight between them."""
    ratio = Fraction(shape.height_in / shape.width_in).limit_denominator(10**4)
    if shape.is_round:
        down = Fraction(shape.width_in / 2.0).limit_denominator(10**6)
        return -down, -down
    straight = 2.0 * min(shape.half_x_in, shape.half_y_in / float(ratio))
    down = _down(Fraction(straight).limit_denominator(10**6) - 2 * step, step)
    return -max(down, Fraction(0)), -_up(max(down * ratio, Fraction(0)), step)


def smallest(
    least: Grown, most: Grown, step: Fraction, lets_through: Callable[[Grown], bool]
) -> Grown | None:
    """The smallest opening on the line between two, on the step, that lets through what must pass; None where not even
    the greatest does."""
    if lets_through(least):
        return least
    if not lets_through(most):
        return None
    reach = tuple(high - low for low, high in zip(least, most, strict=True))
    steps = math.ceil(max(reach) / step)

    def smaller(part: int) -> Grown:
        x, y = (high - _down(span * part / steps, step) for high, span in zip(most, reach, strict=True))
        return x, y

    return smaller(_last(steps, lambda part: lets_through(smaller(part))))
