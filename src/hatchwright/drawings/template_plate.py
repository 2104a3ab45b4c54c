"""The template's part on the page: its edges, its pilot holes and its key, as the machine makes them too."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.drawings.boxes import Box
from hatchwright.drawings.ink import Circle, Entity, Outline
from hatchwright.drawings.layers import Layer, Style
from hatchwright.drawings.page_frame import PageFrame
from hatchwright.making.making import Making
from hatchwright.making.template.part import KEY_HOLE, TemplatePart


def part_marks(part: TemplatePart) -> Iterator[Entity]:
    """All that is cut and drilled of a template, face up as on the page."""
    for edge in part.guide_edges:
        yield Outline(edge, Layer.TEMPLATE, css="guide-edge")
    if part.plate_edge:
        yield Outline(part.plate_edge, Layer.TEMPLATE, css="plate-edge")
    for hole in part.holes:
        layer, css = (
            (Layer.DRILL_FINAL, "key-hole") if hole.name == KEY_HOLE else (Layer.DRILL_PILOT, "pilot-hole")
        )
        yield Circle(hole.center, hole.diameter_in, layer, Style.FINISHED, css=css)


def plate_box(making: Making, page: PageFrame) -> Box:
    """The plate of a window, or the blank of a plug, on the page: the guide edges and the border round them [in]."""
    return page.box(making.chain.machinable.bounds).grown(making.template.border.inch)
