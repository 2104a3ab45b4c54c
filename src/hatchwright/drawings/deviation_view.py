"""The predicted cut against the rough line, its deviation exaggerated and labelled where it is."""

from __future__ import annotations

import math
from collections.abc import Iterator

from hatchwright.drawings.figures import bare
from hatchwright.drawings.ink import Ink, Layer, Line, Point, Style, outlines
from hatchwright.drawings.marks import call_out
from hatchwright.drawings.page_frame import PageFrame
from hatchwright.drawings.sheet import Sheet
from hatchwright.drawings.table import Table
from hatchwright.layout.layout import Layout
from hatchwright.making.cutter.remnants import Exaggerated, exaggerated
from hatchwright.making.making import Making
from hatchwright.making.template.rigid_template import rigid_over_in
from hatchwright.said import Said, inch, said
from hatchwright.units import figure
from hatchwright.words.tell import tell

_MOST_LABELS = 8
_KNEE_IN = 0.55


def deviation_sheet(making: Making, *, date: str) -> Sheet:
    """Draw the rough line, and the predicted cut with its deviation exaggerated; nothing on it is cut."""
    layout, page, picture = making.layout, PageFrame(making.layout.frame), exaggerated(making.chain)
    title = "deviation.title" if picture.factor == 1 else "deviation.title_exaggerated"
    cut = "deviation.cut" if picture.factor == 1 else "deviation.cut_exaggerated"
    head = said(title, factor=picture.factor) if picture.labels else said("deviation.title_none")
    rough = outlines(page.profile(making.chain.wanted), Layer.DIMENSION, css="rough-line")
    arrows = page.arrows(page.point(*layout.center_in), length_in=0.6, height_in=0.11)
    ink = (*rough, *_runs(picture, page), *_labels(layout, picture, page), *arrows)
    notes, tables = _notes(layout, picture), _table(layout, picture)
    legend = {Style.FINISHED: said("deviation.wanted"), Style.PHANTOM: said(cut, factor=picture.factor)}
    return page.sheet(layout.job, head, ink, date=date, notes=notes, tables=tables, legend=legend)


def _notes(layout: Layout, picture: Exaggerated) -> Iterator[Said]:
    """What the picture shows, and what it does not: that a rigid flat template cuts farther out on a curved skin."""
    if picture.labels:
        true = "deviation.true_figures" if picture.factor == 1 else "deviation.true_figures_exaggerated"
        yield said(true, factor=picture.factor)
    yield said("deviation.left_or_gone" if picture.labels else "deviation.on_the_line")
    over_in, curvature = rigid_over_in(layout), layout.job.skin.curvature
    if curvature is not None and over_in:
        over = inch(over_in, fine=True)
        yield said("deviation.on_curved_skin", over=over, along=curvature.along.upper())


def _runs(picture: Exaggerated, page: PageFrame) -> Iterator[Ink]:
    for run in picture.runs:
        points: tuple[Point, ...] = tuple(page.point(float(x), float(y)) for x, y in run)
        yield Line((*points, points[0]), Layer.DIMENSION, Style.PHANTOM, "predicted-cut")


def _labels(layout: Layout, picture: Exaggerated, page: PageFrame) -> Iterator[Ink]:
    unit = layout.job.unit
    middle_x, middle_y = page.point(*layout.center_in)
    for number, one in enumerate(picture.labels[:_MOST_LABELS], start=1):
        x, y = page.point(*one.place)
        knee = x + math.copysign(_KNEE_IN, x - middle_x), y + math.copysign(_KNEE_IN, y - middle_y)
        id = "deviation.label_over" if one.is_over else "deviation.label_left"
        label = said(id, number=number, depth=inch(one.depth_in, fine=True))
        yield from call_out((x, y), knee, (bare(label, unit),), boxed=one.is_over, css="deviation")


def _table(layout: Layout, picture: Exaggerated) -> tuple[Table, ...]:
    unit = layout.job.unit
    rows = []
    for number, one in enumerate(picture.labels, start=1):
        metal = tell(said("deviation.over" if one.is_over else "deviation.left"))
        x, y = (figure(place_in, unit) for place_in in one.place)
        rows.append((str(number), one.name, metal, figure(one.depth_in, unit, fine=True), x, y))
    heads = ("number", "place", "metal", "depth", "x", "y")
    title = said("deviation.table", unit=unit)
    return (Table.told(title, (f"deviation.{head}" for head in heads), rows, unit),) if rows else ()
