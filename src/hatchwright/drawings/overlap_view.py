"""Where the doubler of a job lies on the flanges around it, and by how much: drawn over the bay."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.drawings.ink import Anchor, Ink, Layer, Outline, Style, Text
from hatchwright.drawings.page_frame import PageFrame, rectangle
from hatchwright.layout.layout import Layout
from hatchwright.said import inch
from hatchwright.units import Unit
from hatchwright.words.tell import tell

_LEAST_IN = 1e-6


def overlaps(layout: Layout, page: PageFrame, *, letter_in: float) -> Iterator[Ink]:
    """A frame round each place where the ring's box and a flange are one on the other, with how far.

    Args:
        letter_in: height of the figures [in].
    """
    doubler = layout.part("doubler")
    if doubler is None:
        return
    x_min, y_min, x_max, y_max = doubler.edges[0].loop.bounds
    unit: Unit = layout.job.unit
    for flange in layout.job.bay.flanges:
        x_from, y_from, x_to, y_to = flange.bounds_in
        left, right = max(x_min, x_from), min(x_max, x_to)
        low, high = max(y_min, y_from), min(y_max, y_to)
        if min(right - left, high - low) <= _LEAST_IN:
            continue
        box = page.box((left, low, right, high))
        yield Outline(rectangle(box), Layer.DIMENSION, Style.FINISHED, css="short")
        x, y = box.middle
        words = tell(inch(min(right - left, high - low)), unit)
        yield Text((x, y - 0.5 * letter_in), words, letter_in, bold=True, anchor=Anchor.MIDDLE, css="short")
