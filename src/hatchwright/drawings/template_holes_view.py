"""The holes that are drilled through the template, by number, and the parts that each goes through."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.drawings.figures import bare
from hatchwright.drawings.ink import Circle, Ink, Layer, Style, Text, outlines
from hatchwright.drawings.page_frame import PageFrame
from hatchwright.drawings.sheet import Sheet
from hatchwright.drawings.table import Table
from hatchwright.layout.flat_pattern import template_stretch
from hatchwright.layout.layout import Layout, PartName
from hatchwright.making.making import Making
from hatchwright.making.template.holes import TemplateHole
from hatchwright.making.template.part import drilled_through, template_part
from hatchwright.said import Listed, inch, said
from hatchwright.words.of_job import said_of
from hatchwright.words.spans import spans_said
from hatchwright.words.tell import tell

_PARTS: tuple[PartName, ...] = ("skin", "doubler", "cover", "plug")
_LETTER_IN = 0.12


def template_holes_sheet(making: Making, *, date: str) -> Sheet | None:
    """Draw the template with the numbers of its pilot holes; None when no hole of the job lies on it."""
    part = template_part(making)
    found = drilled_through(making)
    if not found:
        return None
    page = PageFrame(making.layout.frame, template_stretch(making.layout))
    job, title = making.layout.job, said("template_holes.title")
    edges = outlines(part.material.loops, Layer.DIMENSION, Style.DIMENSION, "template-edge")
    arrows = page.arrows(page.point(*making.layout.center_in), length_in=0.6, height_in=_LETTER_IN)
    ink = (*edges, *_numbered(found, page), *arrows)
    notes, tables = (said("template_holes.listed_only"),), (_table(making.layout, found),)
    legend = {Style.DIMENSION: said("template_holes.edge"), Style.FINISHED: said("template_holes.pilot")}
    return page.sheet(job, title, ink, date=date, notes=notes, tables=tables, legend=legend)


def _numbered(found: tuple[TemplateHole, ...], page: PageFrame) -> Iterator[Ink]:
    for one in found:
        x, y = page.point(one.hole.x_in, one.hole.y_in)
        yield Circle((x, y), one.pilot_in, Layer.DIMENSION, Style.FINISHED, one.hole.number, "pilot-hole")
        yield Text((x + 0.5 * one.pilot_in + 0.03, y + 0.02), str(one.hole.number), _LETTER_IN)


def _table(layout: Layout, found: tuple[TemplateHole, ...]) -> Table:
    """Part by part: which of its holes the template leads, size by size, and which it does not."""
    unit = layout.job.unit
    rows: list[tuple[str, ...]] = []
    none = tell(said("template_holes.none"))
    for name in _PARTS:
        numbers = {hole.number for hole in layout.holes if name in hole.stack}
        if not numbers:
            continue
        led: dict[float, set[int]] = {}
        for one in found:
            if name in one.parts:
                led.setdefault(one.pilot_in, set()).add(one.hole.number)
        through = []
        for size_in, here in sorted(led.items()):
            size = inch(size_in, fine=True)
            through.append(said("template_holes.of_size", size=size, numbers=spans_said(here)))
        others = numbers.difference(*led.values())
        led_words = bare(Listed(tuple(through), ";"), unit) if through else none
        others_words = tell(spans_said(others)) if others else none
        rows.append((tell(said_of(layout.job.kind, said(f"part.{name}"))), led_words, others_words))
    heads = (f"template_holes.{head}" for head in ("part", "through", "otherwise"))
    return Table.told(said("template_holes.table", unit=unit), heads, rows, unit)
