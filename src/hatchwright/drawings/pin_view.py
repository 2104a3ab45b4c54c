"""Sketches of the pins: for each stage what is pinned, what is cut, and which fasteners are out."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from hatchwright.drawings.figures import figure, unit_of
from hatchwright.drawings.page_frame import PageFrame
from hatchwright.drawings.sheet import Circle, Cross, Entity, Layer, Line, Outline, Sheet, Style, Text
from hatchwright.layout.layout import Layout
from hatchwright.shapes.stations import places_at
from hatchwright.tooling.guide_template import GuideChain
from hatchwright.tooling.pin_layout import PinLayout
from hatchwright.tooling.pin_notes import stage_notes
from hatchwright.tooling.pin_plan import Stage, Stretch
from hatchwright.tooling.template_part import part_on_skin

_CROSS_IN = 0.16
_ARROW_IN = 0.6
_LETTER_IN = 0.12
_STEPS = 60


def pin_sheets(layout: Layout, chain: GuideChain, pins: PinLayout, *, date: str) -> tuple[Sheet, ...]:
    """Draw one sketch for each stage.

    Args:
        layout: as derived.
        chain: its template.
        pins: planned.
        date: date and time as they are to be read.
    Returns:
        tuple[Sheet, ...]: nothing on them is cut; without a plan one that shows where clamps are out of the way.
    """
    if pins.plan is None:
        return (_clamps(layout, chain, pins, date=date),)
    page, notes, count = PageFrame(layout.frame), stage_notes(layout, pins), len(pins.plan.stages)
    return tuple(
        Sheet(
            title=f"PINS, STAGE {number} OF {count}",
            title_block=page.title_block(layout.job, date=date),
            entities=(
                *(
                    Outline(loop, Layer.DIMENSION, Style.DIMENSION, "template")
                    for loop in part_on_skin(layout, chain).material.loops
                ),
                *_cut(chain, stage, page, whole=count == 1),
                *_fasteners(layout, pins, stage, page),
                *page.arrows(page.point(*layout.centre_in), length_in=_ARROW_IN, height_in=_LETTER_IN),
            ),
            unit=unit_of(layout.job),
            notes=(
                note,
                f"HOLD {stage.hold_ratio:.2f}: THE EDGE MOVES THAT FAR FOR EACH UNIT THAT THE PINS ARE LOOSE.",
            ),
            legend=(
                (Style.FINISHED, "path of the cutter in this stage"),
                (Style.HIDDEN, "fastener that holds"),
                (Style.DIMENSION, "template; fastener out of the way, as a cross"),
            ),
        )
        for number, (stage, note) in enumerate(zip(pins.plan.stages, notes, strict=True), start=1)
    )


def _clamps(layout: Layout, chain: GuideChain, pins: PinLayout, *, date: str) -> Sheet:
    """Where no plan holds the template: places for clamps that the tool's body does not reach."""
    page, unit = PageFrame(layout.frame), unit_of(layout.job)
    places = [page.point(*place) for place in pins.clamps]
    return Sheet(
        title="NO PLAN OF PINS: CLAMPS",
        title_block=page.title_block(layout.job, date=date),
        entities=(
            *(
                Outline(loop, Layer.DIMENSION, Style.DIMENSION, "template")
                for loop in part_on_skin(layout, chain).material.loops
            ),
            *(
                Outline(page.loop(loop), Layer.DIMENSION, Style.FINISHED, "cut")
                for loop in chain.reached.loops
            ),
            *(Cross(place, 2.0 * _CROSS_IN, Layer.DIMENSION) for place in places),
            *(Text((x + 1.2 * _CROSS_IN, y), "CLAMP", _LETTER_IN) for x, y in places),
            *page.arrows(page.point(*layout.centre_in), length_in=_ARROW_IN, height_in=_LETTER_IN),
        ),
        unit=unit,
        notes=(
            "PINS DO NOT HOLD THIS TEMPLATE IN THREE STAGES. DO NOT CUT WITH FEWER.",
            f"CLAMP IT {figure(pins.clear_in, unit)} OR MORE OUTSIDE THE ROUGH LINE, OUT OF REACH OF THE TOOL'S BODY; "
            "WHERE A PLACE LIES OFF THE TEMPLATE, GIVE IT A WIDER BORDER.",
        ),
        legend=(
            (Style.FINISHED, "path of the cutter"),
            (Style.DIMENSION, "template; place of a clamp, as a cross"),
        ),
    )


def _cut(chain: GuideChain, stage: Stage, page: PageFrame, *, whole: bool) -> Iterator[Entity]:
    path = chain.reached.loops[0]
    if whole:
        yield Outline(page.loop(path), Layer.DIMENSION, Style.FINISHED, "cut")
        return
    for stretch in stage.stretches:
        points = places_at(
            path, stretch.start_in + np.linspace(0.0, _run_in(stretch, path.length_in), _STEPS)
        ).points
        yield Line(
            tuple(page.point(float(x), float(y)) for x, y in points), Layer.DIMENSION, Style.FINISHED, "cut"
        )


def _run_in(stretch: Stretch, length_in: float) -> float:
    return (stretch.end_in - stretch.start_in) % length_in


def _fasteners(layout: Layout, pins: PinLayout, stage: Stage, page: PageFrame) -> Iterator[Entity]:
    template = layout.job.template
    body_in = template.pin_body.inch if template and template.pin_body else _CROSS_IN
    for index, pin in enumerate(pins.pins):
        x, y = page.point(*pin.place)
        if index in stage.pins:
            yield Circle((x, y), body_in, Layer.DIMENSION, Style.HIDDEN, css="pin")
            yield Text((x + 0.5 * body_in + 0.03, y), str(pin.hole or "waste"), _LETTER_IN)
        else:
            yield Cross((x, y), _CROSS_IN, Layer.DIMENSION)
