"""The order in which rivets are driven: from the middle of each side outward, opposite sides in turn, corners last."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import zip_longest

from msgspec import Struct

from hatchwright.layout.layout import Hole, Layout


class RivetOrder(Struct, frozen=True):
    """Numbers of the rivets in the order in which they are driven.

    Args:
        first: the holes between the pins.
        last: the holes that hold a pin until the rivets beside it are driven; the pin then goes ahead.
    """

    first: tuple[int, ...]
    last: tuple[int, ...]


def rivet_orders(layout: Layout) -> tuple[RivetOrder, ...]:
    """The order of the rivets of a job: those in the skin, then those of a plug where there are any.

    Every other hole of a side, counted from its middle, keeps its pin until the others are driven. Common practice, no
    source.
    """
    rivets = layout.holes_of("rivet")
    of_skin, of_plug = (
        [hole for hole in rivets if ("plug" in hole.stack) is is_plug] for is_plug in (False, True)
    )
    return tuple(_order(holes, layout) for holes in (of_skin, of_plug) if holes)


def _order(holes: Iterable[Hole], layout: Layout) -> RivetOrder:
    sides = _sides(holes, layout)
    return RivetOrder(_in_turn(side[0::2] for side in sides), _in_turn(side[1::2] for side in sides))


def _in_turn(sides: Iterable[list[int]]) -> tuple[int, ...]:
    """One from each side in turn, as long as it has any."""
    return tuple(number for turn in zip_longest(*sides) for number in turn if number is not None)


def _sides(holes: Iterable[Hole], layout: Layout) -> tuple[list[int], ...]:
    """The holes of the four sides of the opening, opposite sides together, each from its middle outward."""
    x_min, y_min, x_max, y_max = layout.wanted.bounds
    half = 0.5 * (x_max - x_min), 0.5 * (y_max - y_min)
    along: tuple[list[tuple[float, float, int]], ...] = ([], [], [], [])
    for hole in holes:
        off = [at - middle for at, middle in zip(hole.place, layout.center_in, strict=True)]
        axis = 0 if abs(off[0]) * half[1] >= abs(off[1]) * half[0] else 1
        side = 2 * axis + (off[axis] < 0.0)
        along[side].append((abs(off[1 - axis]), off[1 - axis], hole.number))
    return tuple([number for *_, number in sorted(side)] for side in along)
