"""The holes of a piece on its sheet: those alike together, what is drilled where and when, and their places from its edges.

Where the recipe drills a piece through another sheet at installation, its places are for checking and no machine drills
them; only what is drilled at the bench from these places is.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec import Struct

from hatchwright.drawings.block import Block
from hatchwright.drawings.ink import Anchor, Ink, Layer, Line, Style, Text
from hatchwright.drawings.lettering import text_width_in
from hatchwright.drawings.part_sheet_pieces import Piece, Place
from hatchwright.layout.layout import Hole
from hatchwright.recipe.hole_drills import drill_said, step_said
from hatchwright.recipe.made_alike import Lead, MadeAlike
from hatchwright.recipe.recipe import Recipe
from hatchwright.recipe.task import TaskName
from hatchwright.said import Listed, Said, Value, said
from hatchwright.units import Unit, figure
from hatchwright.words.tell import tell

LETTER_IN = 0.0925
"""Height of a capital in the tables of a part sheet, a little over 9 point [in]."""

_ROW_IN = 0.155
_PAD_IN = 0.07
_GAP_IN = 0.12


class HoleGroup(Struct, frozen=True):
    """Holes of a piece that are made alike.

    Args:
        holes: each with its place on the piece [in].
        work: what is drilled, dimpled and countersunk in it, in order.
        how: where and when.
        at_bench: whether the piece is drilled by these places, before it is on the aircraft.
    """

    holes: tuple[tuple[Hole, Place], ...]
    work: Said
    how: Said
    at_bench: bool


def hole_groups(piece: Piece, recipe: Recipe) -> tuple[HoleGroup, ...]:
    """The holes of a piece in groups that are made alike, in the order of their first numbers."""
    by_number = {hole.number: (hole, place) for hole, place in piece.holes}
    return tuple(
        _group(kind, by_number, piece, recipe)
        for kind in recipe.kinds
        if any(layer.part == piece.part.name for layer in kind.layers) and by_number.keys() & set(kind.numbers)
    )


def _group(
    kind: MadeAlike, by_number: dict[int, tuple[Hole, Place]], piece: Piece, recipe: Recipe
) -> HoleGroup:
    layer, lead = next(
        (layer, lead)
        for layer, lead in zip(kind.layers, kind.leads, strict=True)
        if layer.part == piece.part.name
    )
    steps: tuple[Value, ...] = tuple(
        step_said(step, drill_said(step.drill) if step.drill else "") for step in layer.steps
    )
    first = kind.holes[0]
    work = said(f"part_sheet.{first.kind}", name=first.fastener, steps=Listed(steps, ","))
    task = _drilled_in(kind, piece, recipe)
    how = _how(task, lead)
    holes = tuple(by_number[number] for number in kind.numbers if number in by_number)
    return HoleGroup(holes, work, how, at_bench=task == "drill_doubler")


def _drilled_in(kind: MadeAlike, piece: Piece, recipe: Recipe) -> TaskName | None:
    """The task in which the piece gets the last of these holes; None where no task drills them."""
    drilling = (
        task.name
        for task in recipe.tasks
        for one in task.made
        if one.part == piece.part.name and one.lead is not None and one.kind == kind and one.numbers
    )
    return max(drilling, key=lambda name: name == "drill_doubler", default=None)


def _how(task: TaskName | None, lead: Lead) -> Said:
    if task == "drill_doubler":
        return said("part_sheet.at_bench")
    if lead == "template":
        return said("part_sheet.through_template")
    if lead == "marks":
        return said("part_sheet.in_place")
    return said("part_sheet.match_drill", lead=said(f"part.{lead}"))


def hole_block(group: HoleGroup, piece: Piece, unit: Unit, *, width_in: float) -> Block:
    """The places of a group from the edges of its piece, in as many columns as the width holds."""
    rows = [_row(hole, piece.from_datum(place), unit) for hole, place in group.holes]
    return columns_block(
        (tell(said("part_sheet.number")), tell(said("part_sheet.x")), tell(said("part_sheet.y"))),
        rows,
        width_in=width_in,
    )


def _row(hole: Hole, place: Place, unit: Unit) -> tuple[str, str, str]:
    """Its number, with a star where its place was measured on the aircraft, and its place."""
    x, y = (figure(one, unit) for one in place)
    number = said("part_sheet.as_drilled", number=hole.number) if hole.is_made else str(hole.number)
    return tell(number), x, y


def columns_block(heads: Sequence[str], rows: Sequence[Sequence[str]], *, width_in: float) -> Block:
    """A table of short cells, broken into columns side by side that each bear the heads."""
    widths = [
        max(text_width_in(row[k], height_in=LETTER_IN, bold=row is heads) for row in (heads, *rows)) + 2.0 * _PAD_IN
        for k in range(len(heads))
    ]
    across = sum(widths)
    columns = max(1, min(len(rows), int((width_in + _GAP_IN) / (across + _GAP_IN))))
    most = -(-len(rows) // columns)
    parts: list[Ink] = []
    used = 0
    for column, start in enumerate(range(0, len(rows), most)):
        parts += _column(heads, rows[start : start + most], widths, column * (across + _GAP_IN))
        used = column + 1
    return Block(tuple(parts), used * (across + _GAP_IN) - _GAP_IN, (most + 1) * _ROW_IN)


def _column(
    heads: Sequence[str], rows: Sequence[Sequence[str]], widths: Sequence[float], left: float
) -> Iterator[Ink]:
    right = left + sum(widths)
    for row, cells in enumerate((heads, *rows)):
        foot = -row * _ROW_IN - 0.5 * (_ROW_IN + LETTER_IN)
        end = left
        for cell, width in zip(cells, widths, strict=True):
            end += width
            yield Text((end - _PAD_IN, foot), cell, LETTER_IN, bold=row == 0, anchor=Anchor.END)
    for row in range(len(rows) + 2):
        style = Style.FINISHED if row == 1 else Style.DIMENSION
        yield Line(((left, -row * _ROW_IN), (right, -row * _ROW_IN)), Layer.TEXT, style)
    foot = -(len(rows) + 1) * _ROW_IN
    end = left
    for width in (0.0, *widths):
        end += width
        yield Line(((end, 0.0), (end, foot)), Layer.TEXT)
