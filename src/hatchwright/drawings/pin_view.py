"""Sketches of the pins: for each stage what is pinned, what is cut, and which fasteners are out."""

from __future__ import annotations

import math
from collections.abc import Iterator

from hatchwright.drawings.ink import (
    Anchor,
    Circle,
    Ink,
    Layer,
    Line,
    Outline,
    Point,
    Solid,
    Style,
    Text,
    box_of,
    moved,
    outlines,
)
from hatchwright.drawings.marks import HEAD_IN, arrowhead, cross
from hatchwright.drawings.page_frame import PageFrame
from hatchwright.drawings.sheet import Sheet
from hatchwright.layout.layout import Layout
from hatchwright.making.cutter.starter import clear_starter
from hatchwright.making.making import Making
from hatchwright.making.pins.findings import what_would_hold
from hatchwright.making.pins.notes import stage_lines
from hatchwright.making.pins.pin_layout import PinLayout
from hatchwright.making.pins.plan import Stage
from hatchwright.making.pins.runs import Run, runs_of
from hatchwright.making.template.part import part_on_skin
from hatchwright.said import said
from hatchwright.words.tell import tell, tell_all

_CROSS_IN = 0.16
_LETTER_IN = 0.12
_BESIDE_IN = 0.3
_ROOMY_IN = 2.0
_LEGEND = {
    Style.FINISHED: said("pins.path_in_stage"),
    Style.JOIN: said("pins.run_in"),
    Style.PHANTOM: said("pins.template"),
    Style.HIDDEN: said("pins.holds"),
    Style.DIMENSION: said("pins.marks"),
}


def pin_sheets(making: Making, pins: PinLayout, *, date: str) -> tuple[Sheet, ...]:
    """Draw one sketch for each stage, of which nothing is cut; without a plan, one that says what would hold."""
    if pins.plan is None:
        return (_no_plan(making, pins, date=date),)
    page, count = PageFrame(making.layout.frame), len(pins.plan.stages)
    stages = zip(pins.plan.stages, runs_of(making, pins), stage_lines(making, pins), strict=True)
    job, sheets = making.layout.job, []
    for number, (stage, runs, lines) in enumerate(stages, start=1):
        title = said("pins.sheet", number=number, of=count)
        cut = (mark for run in runs for mark in _run(making, run, page))
        holding = _fasteners(making.layout, pins, stage, page)
        ink = (*_template(making), *_starter(making, page), *cut, *holding, *_directions(making, page))
        held = said("pins.clamps_alone")
        if not all(pins.pins[index].is_clamp for index in stage.pins):
            held = said("pins.hold_ratio", ratio=f"{stage.hold_ratio:.2f}")
        notes = tell_all(lines, making.unit), held
        sheets.append(page.sheet(job, title, ink, date=date, notes=notes, legend=_LEGEND))
    return tuple(sheets)


def _no_plan(making: Making, pins: PinLayout, *, date: str) -> Sheet:
    """The template and the path of the cutter, and what would hold."""
    page = PageFrame(making.layout.frame)
    path = page.profile(making.chain.reached)
    return page.sheet(
        making.layout.job,
        said("pins.no_plan"),
        (*_template(making), *outlines(path, Layer.DIMENSION, css="cut"), *_directions(making, page)),
        date=date,
        notes=(said("pins.do_not_cut"), tell_all(what_would_hold(making, pins), making.unit)),
        legend={Style.FINISHED: said("pins.path"), Style.PHANTOM: said("pins.template")},
    )


def _template(making: Making) -> Iterator[Outline]:
    return outlines(part_on_skin(making).material.loops, Layer.DIMENSION, Style.PHANTOM, "template")


def _directions(making: Making, page: PageFrame) -> Iterator[Ink]:
    """Both direction arrows, to the left of all that is drawn."""
    ink = tuple(page.arrows((0.0, 0.0), length_in=0.6, height_in=_LETTER_IN))
    box = box_of(ink)
    left_in, _, _, top_in = part_on_skin(making).material.bounds
    yield from moved(
        ink, right_in=left_in - making.chain.guide.guide_in - _BESIDE_IN - box.right, up_in=top_in - box.top
    )


def _starter(making: Making, page: PageFrame) -> Iterator[Ink]:
    hole = clear_starter(making)
    if hole is not None:
        x, y = page.point(*hole.center)
        yield Circle((x, y), hole.diameter_in, Layer.DIMENSION, Style.DIMENSION, css="starter")
        yield Text((x - 0.5 * hole.diameter_in - 0.15, y - 0.5 * _LETTER_IN), "S", _LETTER_IN, bold=True)


def _run(making: Making, run: Run, page: PageFrame) -> Iterator[Ink]:
    """A run with its run-in, where it starts, which way it goes, and where it stops for the last tab."""
    points = [page.point(float(x), float(y)) for x, y in run.along]
    yield Line(tuple(points), Layer.DIMENSION, Style.FINISHED, "cut")
    half = len(points) // 2
    yield _head(points[half - 1], points[half])
    hole, start = clear_starter(making), points[0]
    if run.begin == "run-in" and hole is not None:
        origin = page.point(*hole.center)
        yield Line((origin, start), Layer.DIMENSION, Style.JOIN, "run-in")
        yield _head(origin, (0.4 * origin[0] + 0.6 * start[0], 0.4 * origin[1] + 0.6 * start[1]))
    yield Circle(start, 0.5 * _CROSS_IN, Layer.DIMENSION, Style.FINISHED, css="start")
    yield _beside(tell(said("pins.start", run=run.name)), start, making, page, row=0)
    if run.tab is not None:
        tab = page.point(*run.tab)
        yield from cross(tab, _CROSS_IN, css="tab")
        yield _beside(tell(said("pins.tab")), tab, making, page, row=1)


def _head(tail: Point, tip: Point) -> Solid:
    length_in = math.dist(tail, tip)
    along = (tip[0] - tail[0]) / length_in, (tip[1] - tail[1]) / length_in
    return arrowhead(tip, along, 1.5 * HEAD_IN, "way")


def _beside(words: str, place: Point, making: Making, page: PageFrame, *, row: int) -> Text:
    """Words beside a place of the edge: in the waste of a window, but outside of a plug and of a small window."""
    box = page.box(making.chain.reached.bounds)
    middle_x, middle_y = box.middle
    is_inside = making.chain.guide.kind == "female" and min(box.width_in, box.height_in) >= _ROOMY_IN
    run, rise = middle_x - place[0], middle_y - place[1]
    off_in = (1.0 + 1.6 * row) * _LETTER_IN + (_CROSS_IN if is_inside else 0.5 * making.chain.guide.guide_in)
    if not is_inside:
        run, rise = -run, -rise
    if abs(rise) * box.width_in >= abs(run) * box.height_in:
        low = off_in if rise > 0.0 else -off_in - _LETTER_IN
        return Text((place[0], place[1] + low), words, _LETTER_IN, anchor=Anchor.MIDDLE)
    anchor, right = (Anchor.START, off_in) if run > 0.0 else (Anchor.END, -off_in)
    return Text((place[0] + right, place[1] - 0.5 * _LETTER_IN), words, _LETTER_IN, anchor=anchor)


def _fasteners(layout: Layout, pins: PinLayout, stage: Stage, page: PageFrame) -> Iterator[Ink]:
    template = layout.job.template
    body_in = template.pin_body.inch if template and template.pin_body else _CROSS_IN
    middle_x, _ = page.point(*layout.center_in)
    for index, pin in enumerate(pins.pins):
        x, y = page.point(*pin.place)
        if index in stage.pins:
            css = "clamp" if pin.is_clamp else "pin"
            yield Circle((x, y), body_in, Layer.DIMENSION, Style.HIDDEN, css=css)
            is_right = pin.hole is not None or x < middle_x  # words of what is no hole run inwards
            off_in = 0.5 * body_in + 0.03
            anchor, at = (Anchor.START, (x + off_in, y)) if is_right else (Anchor.END, (x - off_in, y))
            number = None if pin.is_clamp else pin.hole
            named = tell(said("pins.clamp") if pin.is_clamp else said("pins.in_waste"))
            yield Text(at, named if number is None else str(number), _LETTER_IN, anchor=anchor)
        elif not pin.is_clamp:
            yield from cross((x, y), _CROSS_IN)
