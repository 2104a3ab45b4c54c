"""Fasteners of the overview: how many of which part number, by NAS523 crosses where the table has the codes."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.drawings.block import Block, paragraph, stacked, trimmed
from hatchwright.drawings.hole_table import holes_by_title, work_lines
from hatchwright.drawings.ink import Anchor, Ink, Layer, Line, Text
from hatchwright.errors import EntryError
from hatchwright.layout.layout import Hole, Layout
from hatchwright.recipe.sheet_work import hole_work
from hatchwright.said import said
from hatchwright.tables.nas523 import FastenerCross, fastener_cross
from hatchwright.tables.rivet_part import parse_rivet
from hatchwright.words.spans import spans_in_short
from hatchwright.words.tell import tell

_ARM_IN = 0.26
_BESIDE_IN = 2.0 * _ARM_IN + 0.12
_LINE_RATIO = 1.7


def fasteners_block(layout: Layout, *, letter_in: float, width_in: float) -> Block | None:
    """A line for the holes of each fastener: cross, count, part number and hole numbers; None of a job without any.

    Returns:
        Block: with the grade of the crosses and what N means, where one is drawn.
    """
    groups = holes_by_title(layout).values()
    crosses = [_cross_of(holes[0], layout) for holes in groups]
    blocks = [
        _line(holes, layout, cross, letter_in, width_in) for holes, cross in zip(groups, crosses, strict=True)
    ]
    if not blocks:
        return None
    heading = paragraph([tell(said("fasteners.title"))], width_in=width_in, height_in=letter_in, bold=True)
    known = [cross for cross in crosses if cross]
    told = [tell(said("fasteners.cross", grade=str(known[0].grade).upper()))] if known else []
    foot = paragraph(told, width_in=width_in, height_in=letter_in)
    return trimmed(stacked((heading, *blocks, foot), gap_in=0.06))


def _cross_of(hole: Hole, layout: Layout) -> FastenerCross | None:
    """The cross of a rivet, its manufactured head outside as the card has it; None of what has no codes."""
    try:
        part = parse_rivet(hole.fastener)
    except EntryError:
        return None
    layers = hole_work(hole, layout)
    if hole.kind != "rivet" or part.unit != "in" or any(not layer.preparation for layer in layers):
        return None
    ways = [layer.preparation for layer in layers]
    return fastener_cross(
        f"{part.family}{part.letters}",
        part.diameter,
        head="near",
        dimpled=ways.count("dimple"),
        is_countersunk="countersink" in ways,
    )


def _line(
    holes: list[Hole], layout: Layout, cross: FastenerCross | None, letter_in: float, width_in: float
) -> Block:
    left = _BESIDE_IN if cross else 0.0
    count = tell(said(f"fasteners.{holes[0].kind}", n=len(holes), part=holes[0].fastener))
    numbers = tell(said("fasteners.holes", numbers=spans_in_short(hole.number for hole in holes)))
    work = [tell(one, layout.job.unit) for one in work_lines(holes[0], layout)]
    words = paragraph([count, *work, numbers], width_in=width_in - left, height_in=letter_in)
    ink: list[Ink] = [*words.at(left, 0.0)]
    if cross:
        ink += _symbol(cross, letter_in)
    return Block(tuple(ink), width_in, max(words.height_in, 2.0 * _ARM_IN if cross else 0.0))


def _symbol(cross: FastenerCross, letter_in: float) -> Iterator[Ink]:
    """The cross with its codes, its upper left corner at the origin."""
    x, y, off = _ARM_IN, -_ARM_IN, 0.04
    yield Line(((0.0, y), (2.0 * _ARM_IN, y)), Layer.TEXT)
    yield Line(((x, 0.0), (x, 2.0 * y)), Layer.TEXT)
    yield Text((x - off, y + off), cross.upper_left, letter_in, anchor=Anchor.END)
    yield Text((x + off, y + off), cross.upper_right, letter_in)
    if cross.lower_left:
        yield Text((x - off, y - off - letter_in), cross.lower_left, letter_in, anchor=Anchor.END)
