"""Holes that belong to no row, on a drawing: each at its size with its mark, whether or not anything stops there."""

from __future__ import annotations

from collections.abc import Iterator
from math import sqrt

from hatchwright.drawings.ink import Anchor, Circle, Ink, Layer, Line, Style, Text
from hatchwright.drawings.label_places import Spot, label_places
from hatchwright.drawings.lettering import text_width_in
from hatchwright.drawings.page_frame import PageFrame
from hatchwright.layout.layout import Layout
from hatchwright.said import said
from hatchwright.words.tell import tell

LEAST_IN = 0.06
"""So wide a circle can be seen at any scale [in]."""


_CLEAR_IN = 0.05
"""Room that every other hole keeps free of these marks [in]."""


def stray_marks(layout: Layout, page: PageFrame, *, letter_in: float) -> Iterator[Ink]:
    """A circle on a layer that no machine drills, crossed aslant while the hole is open, and its mark beside it."""
    names = [tell(said("layout.stray_mark", number=stray.number)) for stray in layout.strays]
    spots = []
    for stray, name in zip(layout.strays, names, strict=True):
        x, y = page.point(*stray.place)
        across_in = max(page.length(stray.hole_in), LEAST_IN)
        yield Circle((x, y), across_in, Layer.DIMENSION, Style.FINISHED, css="stray")
        reach_in = across_in / 2.0 / sqrt(2.0)
        for up in (-reach_in, reach_in) if stray.is_open else ():
            yield Line(((x - reach_in, y - up), (x + reach_in, y + up)), Layer.DIMENSION, css="stray")
        width_in = text_width_in(name, height_in=letter_in)
        spots.append(
            Spot(at=(x, y), clear_in=across_in / 2.0 + 0.03, width_in=width_in, height_in=1.2 * letter_in)
        )
    others = [(page.point(*hole.place), _CLEAR_IN) for hole in layout.holes]
    edges = [page.loop(edge.loop) for part in layout.parts for edge in part.edges]
    places = label_places(spots, edges=edges, holes=others)
    for spot, name, label in zip(spots, names, places, strict=True):
        (x, y), leader = (label.middle, label.leader) if label else (spot.at, None)
        at = x, y - 0.5 * letter_in
        yield Text(at, name, letter_in, anchor=Anchor.MIDDLE, css="stray")
        if leader is not None:
            yield Line(leader, Layer.DIMENSION, css="stray")
