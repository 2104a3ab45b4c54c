"""The holes of a piece on its sheet: those alike together, what is drilled where and when, and where from its edges.

Where the recipe drills a piece through another sheet at installation, its places are for checking and no machine drills
them; only what is drilled at the bench from these places is.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import count

from msgspec import Struct

from hatchwright.drawings.hole_map_names import letter_of
from hatchwright.drawings.part_sheet_pieces import Piece, Place
from hatchwright.drawings.part_sheet_rows import Placed, even_rows
from hatchwright.drawings.table import Table, TableStyle
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

STYLE = TableStyle(letter_in=LETTER_IN, row_in=0.155, pad_in=0.05, title_in=0.0, bold_heads=False)
"""Tables as close as 9 point letters can be read."""

_COLUMNS = ("part_sheet.x", "part_sheet.y")


class HoleGroup(Struct, frozen=True):
    """Holes of a piece that are made alike.

    Args:
        letter: by which its sheet names it.
        holes: each with its place on the piece [in].
        work: what is drilled, dimpled and countersunk in it, in order.
        how: where and when.
        at_bench: whether the piece is drilled by these places, before it is on the aircraft.
        pilot_in: the drill that begins them, None where nobody knows it [in].
    """

    letter: str
    holes: tuple[tuple[Hole, Place], ...]
    work: Said
    how: Said
    at_bench: bool
    pilot_in: float | None


def hole_groups(pieces: Iterable[Piece], recipe: Recipe) -> dict[str, tuple[HoleGroup, ...]]:
    """The holes of each piece of one sheet, by the name of its file, those together that its sheet tells alike."""
    letters = map(letter_of, count())
    return {
        piece.file: tuple(
            HoleGroup(next(letters), tuple(holes), *told) for told, holes in _alike(piece, recipe).items()
        )
        for piece in pieces
    }


_Told = tuple[Said, Said, bool, float | None]


def _alike(piece: Piece, recipe: Recipe) -> dict[_Told, list[tuple[Hole, Place]]]:
    """The holes of a piece by what is told of them, in the order of their first numbers."""
    found: dict[_Told, list[tuple[Hole, Place]]] = {}
    by_number = {hole.number: (hole, place) for hole, place in piece.holes}
    for kind in recipe.kinds:
        mine = [by_number[number] for number in kind.numbers if number in by_number]
        if mine and any(layer.part == piece.part.name for layer in kind.layers):
            found.setdefault(_told(kind, piece, recipe), []).extend(mine)
    return {told: sorted(holes, key=lambda one: one[0].number) for told, holes in found.items()}


def _told(kind: MadeAlike, piece: Piece, recipe: Recipe) -> _Told:
    """What is done, how, whether at the bench, and the drill that begins it."""
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
    pilot = layer.steps[0].drill if layer.steps else None
    return work, _how(task, lead), task == "drill_doubler", pilot.diameter_in if pilot else None


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
    return said("part_sheet.match_drill", lead=said(f"part_sheet.lead.{lead}"))


def hole_tables(group: HoleGroup, piece: Piece, unit: Unit) -> tuple[Table, ...]:
    """The places of a group from the datum of its piece, under its letter: equally spaced rows, then other holes.

    Where a table of rows takes more paper than the lines that it saves, every hole has its own line.
    """
    holes = [(hole, piece.from_datum(place)) for hole, place in group.holes]
    rows, others = even_rows(holes, unit)
    one_by_one = _holes(group, holes, unit)
    if not rows:
        return one_by_one
    columns = ("part_sheet.range", *_COLUMNS, "part_sheet.count")
    cells = (row.cells(unit) for row in rows)
    title = said("part_sheet.rows", letter=group.letter)
    of_rows = Table.told(title, columns, cells, unit, STYLE)
    return min((of_rows, *_holes(group, others, unit)), one_by_one, key=_paper_sq_in)


def _holes(group: HoleGroup, holes: Sequence[Placed], unit: Unit) -> tuple[Table, ...]:
    """A line for each hole, no table where there is none."""
    title, heads = said("part_sheet.holes", letter=group.letter), ("part_sheet.number", *_COLUMNS)
    rows = tuple(_row(hole, place, unit) for hole, place in holes)
    return (Table.told(title, heads, rows, unit, STYLE),) if rows else ()


def _paper_sq_in(tables: Iterable[Table]) -> float:
    blocks = [table.block() for table in tables]
    return sum(block.width_in * block.height_in for block in blocks)


def has_rows(table: Table) -> bool:
    """Whether a table tells equally spaced rows."""
    return table.headings[-1] == tell(said("part_sheet.count"))


def _row(hole: Hole, place: Place, unit: Unit) -> tuple[str, str, str]:
    """Its number, with a star where its place was measured on the aircraft, and its place."""
    x, y = (figure(one, unit) for one in place)
    number = said("part_sheet.as_drilled", number=hole.number) if hole.is_made else str(hole.number)
    return tell(number), x, y
