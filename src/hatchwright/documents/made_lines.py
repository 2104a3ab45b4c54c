"""Lines at length about what a task drills: which sheets, which operation, which drill, which numbers."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from hatchwright.documents.step import Line, line
from hatchwright.documents.stop_lines import Reaching, stop_lines
from hatchwright.errors import TableError
from hatchwright.layout.layout import Layout
from hatchwright.making.making import Making
from hatchwright.making.template.findings import larger_than_drill
from hatchwright.recipe.hole_drills import drill_said
from hatchwright.recipe.sheet_work import WorkedPart
from hatchwright.recipe.task import Does, Made, Task
from hatchwright.recipe.tools import TEMPORARY
from hatchwright.said import Listed, Value, inch, said
from hatchwright.tables.drills import Drill
from hatchwright.tables.rivets import hole_range
from hatchwright.tables.table import ShopTables
from hatchwright.words.of_job import said_of
from hatchwright.words.spans import spans_said

_DRILLED = ("pilot", "open", "final", "ream", "not known")


def drilling_lines(task: Task, layout: Layout, what: Reaching = "drill") -> Iterator[Line]:
    """What a task drills on the aircraft, the temporary fasteners that hold it meanwhile, and its stop."""
    yield from drilled_lines(task, layout)
    yield from held_lines(task)
    yield from stop_lines(task.stop, what)


def too_large_lines(task: Task, making: Making) -> Iterator[Line]:
    """Where the template's own holes are larger than the drill that they should lead, as T106 has it."""
    numbers = {number for one in task.made for number in one.numbers}
    for (size_in, drill), holes in larger_than_drill(making).items():
        if found := numbers & {one.hole.number for one in holes}:
            of: dict[str, Value] = {"size": inch(size_in, fine=True), "drill": str(drill)}
            yield line(said("card.template_hole.too_large", numbers=spans_said(found), **of))


def held_lines(task: Task) -> Iterator[Line]:
    """The temporary fasteners of a task, by size and count; those that may be loose in their holes are tried."""
    held = [one for one in task.tools if one.name.id == TEMPORARY]
    if held:
        several = (said("card.held.of_size", count=one.count, **dict(one.name.values)) for one in held)
        yield line(said("card.held", fasteners=Listed(tuple(several), ";")))
    for one in held:
        if one.loose_over_in is not None:
            greatest = inch(one.loose_over_in)
            yield line(said("card.held.loose", greatest=greatest, **dict(one.name.values)))


def drilled_lines(task: Task, layout: Layout) -> Iterator[Line]:
    """What a task drills: a line for each fastener and operation, with its sheets and the numbers of its holes."""
    for made, parts, numbers in drilled_alike(task.made):
        does, drill = made.does, made.drill
        of: dict[str, Value] = {
            "fastener": made.kind.holes[0].fastener,
            "parts": Listed(tuple(said_of(layout.job.kind, said(f"part.{part}")) for part in parts), "+"),
            "numbers": spans_said(numbers),
        }
        if drill is None:
            yield line(
                said("card.made.not_known" if does == "not known" else f"card.made.{does}_not_known", **of)
            )
            continue
        told = said(f"card.made.{does}", drill=drill_said(drill), **of)
        hole = made.kind.holes[0]
        is_finished = does in ("final", "ream") and hole.kind == "rivet" and hole.nominal_in is not None
        limits = limits_line(hole.diameter_in, layout.shop) if is_finished else line()
        yield Line((told, *limits.words), limits.rests_on)


def limits_line(diameter_in: float, shop: ShopTables | None) -> Line:
    """Between what the finished hole of a rivet of that diameter [in] must lie."""
    try:
        found = hole_range(diameter_in, shop)
    except TableError:
        return line(said("card.to_size.no_range"))
    low, high = inch(found.least_in), inch(found.greatest_in)
    return line(said("card.to_size.range", low=low, high=high), rests_on=(found,))


_What = tuple[str, Does, Drill | None]
"""A fastener, what is done, and with which drill."""


def drilled_alike(
    made: Iterable[Made],
) -> Iterator[tuple[Made, tuple[WorkedPart, ...], tuple[int, ...]]]:
    """What is drilled alike, once for all sheets in which the same holes are: an example, the sheets, the numbers."""
    numbers: dict[tuple[_What, WorkedPart], set[int]] = {}
    example: dict[_What, Made] = {}
    for one in made:
        if one.does not in _DRILLED:
            continue
        what = one.kind.holes[0].fastener, one.does, one.drill
        example.setdefault(what, one)
        numbers.setdefault((what, one.part), set()).update(one.numbers)
    sheets: dict[tuple[_What, tuple[int, ...]], list[WorkedPart]] = {}
    for (what, part), of_part in numbers.items():
        sheets.setdefault((what, tuple(sorted(of_part))), []).append(part)
    for (what, of_sheets), parts in sheets.items():
        yield example[what], tuple(parts), of_sheets
