"""The holes that are drilled through the template, by number, and the parts that each goes through."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from hatchwright.drawings.figures import figure, unit_of
from hatchwright.drawings.page_frame import PageFrame
from hatchwright.drawings.sheet import Circle, Entity, Layer, Outline, Sheet, Style, Table, Text
from hatchwright.layout.flat_pattern import template_stretch
from hatchwright.layout.layout import Layout, PartName
from hatchwright.making.making import Making
from hatchwright.making.template.holes import TemplateHole, template_holes
from hatchwright.making.template.part import KEY_HOLE, TemplatePart, template_part

_PARTS: tuple[PartName, ...] = ("skin", "doubler", "cover")
_LETTER_IN = 0.12


def template_holes_sheet(making: Making, *, date: str) -> Sheet | None:
    """Draw the template with the numbers of its pilot holes.

    Returns:
        Sheet: nothing on it is cut; None when no hole of the job lies on the template.
    """
    part = template_part(making)
    found = drilled_through(making, part)
    if not found:
        return None
    page = PageFrame(making.layout.frame, template_stretch(making.layout))
    return Sheet(
        title="HOLES DRILLED THROUGH THE TEMPLATE",
        title_block=page.title_block(making.layout.job, date=date),
        entities=(
            *(
                Outline(loop, Layer.DIMENSION, Style.DIMENSION, "template-edge")
                for loop in part.material.loops
            ),
            *_numbered(found, page),
            *page.arrows(page.point(*making.layout.center_in), length_in=0.6, height_in=_LETTER_IN),
        ),
        unit=unit_of(making.layout.job),
        notes=(
            "DRILL EACH PART ONLY THROUGH THE HOLES THAT ARE LISTED FOR IT, AT PILOT SIZE. A PART THAT IS NOT CLAMPED "
            "UNDER THE TEMPLATE IS DRILLED LATER, THROUGH THE SKIN.",
        ),
        tables=(_table(making.layout, found),),
        legend=((Style.DIMENSION, "edge of the template"), (Style.FINISHED, "pilot hole with its number")),
    )


def drilled_through(making: Making, part: TemplatePart) -> tuple[TemplateHole, ...]:
    """The holes of the job that the template really has, its key hole apart.

    Returns:
        tuple[TemplateHole, ...]: in the order of their numbers.
    """
    names = {hole.name for hole in part.holes if hole.name != KEY_HOLE}
    return tuple(one for one in template_holes(making) if f"{one.hole.kind} {one.hole.number}" in names)


def spans(numbers: Iterable[int]) -> str:
    """Numbers in order, runs of them as first to last.

    Args:
        numbers: of holes.
    Returns:
        str: such as ``1 to 3, 7``.

    >>> spans((1, 2, 3, 7, 9, 8))
    '1 to 3, 7 to 9'
    """
    runs: list[list[int]] = []
    for number in sorted(numbers):
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return ", ".join(str(run[0]) if len(run) == 1 else f"{run[0]} to {run[-1]}" for run in runs)


def _numbered(found: tuple[TemplateHole, ...], page: PageFrame) -> Iterator[Entity]:
    for one in found:
        x, y = page.point(one.hole.x_in, one.hole.y_in)
        yield Circle((x, y), one.pilot_in, Layer.DIMENSION, Style.FINISHED, one.hole.number, "pilot-hole")
        yield Text((x + 0.5 * one.pilot_in + 0.03, y + 0.02), str(one.hole.number), _LETTER_IN)


def _table(layout: Layout, found: tuple[TemplateHole, ...]) -> Table:
    """Part by part: which of its holes the template leads, size by size, and which it does not."""
    unit = unit_of(layout.job)
    led: dict[float, set[int]] = {}
    for one in found:
        led.setdefault(one.pilot_in, set()).add(one.hole.number)
    rows = []
    for name in _PARTS:
        numbers = {hole.number for hole in layout.holes if name in hole.stack}
        if not numbers:
            continue
        through = [
            f"{figure(size_in, unit, fine=True)}: {spans(numbers & of_size)}"
            for size_in, of_size in sorted(led.items())
            if numbers & of_size
        ]
        others = numbers.difference(*led.values())
        rows.append((name, "; ".join(through) or "none", spans(others) or "none"))
    return Table(
        f"PILOT HOLES BY PART, {unit}",
        ("PART", "THROUGH THE TEMPLATE, SIZE AND NO.", "OTHERWISE, NO."),
        tuple(rows),
    )
