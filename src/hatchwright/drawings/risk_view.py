"""The holes of a job marked by how likely they end short: by the shape of their mark, and by a figure beside them.

A chance of 1 % and more, and what does not pass as it stands, has a double ring, one of .1 % and more a single ring;
both have their figure. No mark is told by its color alone.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from hatchwright.drawings.bay_view import layout_edges
from hatchwright.drawings.hole_marks import hole_circles
from hatchwright.drawings.ink import Anchor, Circle, Ink, Layer, Line, Outline, Style, Text
from hatchwright.drawings.label_places import Spot, label_places
from hatchwright.drawings.lettering import text_width_in
from hatchwright.drawings.page_frame import PageFrame
from hatchwright.drawings.sheet import Sheet
from hatchwright.layout.layout import Hole, Layout
from hatchwright.said import Amount, Said, said
from hatchwright.units import Unit
from hatchwright.words.tell import tell

LIKELY, POSSIBLE = 0.01, 0.001
"""Chances from which a hole has two rings, and one [-]. Own choice, no source."""

_LETTER_IN = 0.14
_RING_IN, _OUTER_RING_IN = 0.3, 0.4
_ARROW_IN = 0.6
_CSS = "risk-ring"


def risk_picture(layout: Layout, chances: Mapping[int, float], held: frozenset[int] = frozenset()) -> Sheet:
    """Draw the new parts and their holes, each hole marked by its chance.

    Args:
        chances: number of a hole to the chance that it ends short [-].
        held: numbers of holes that don't pass as they stand.
    """
    page = PageFrame(layout.frame)
    edges = tuple(layout_edges(layout, page))
    arrows = tuple(page.arrows(page.point(*layout.center_in), length_in=_ARROW_IN, height_in=_LETTER_IN))
    ink = (
        *edges,
        *hole_circles(layout, page, ()),
        *_marks(layout, page, edges, arrows, chances, held),
        *arrows,
    )
    return page.sheet(layout.job, said("risk.drawing"), ink)


def figure_said(chance: float) -> Said:
    """The figure beside a hole, never rounded down."""
    return said("risk.of", chance=Amount(min(100.0, 100.0 * chance), "%", toward="up"))


def _marks(
    layout: Layout,
    page: PageFrame,
    edges: tuple[Outline, ...],
    arrows: tuple[Ink, ...],
    chances: Mapping[int, float],
    held: frozenset[int],
) -> Iterator[Ink]:
    marked = {
        hole: _words(hole, chances.get(hole.number, 0.0), hole.number in held, layout.job.unit)
        for hole in layout.holes
        if hole.number in held or chances.get(hole.number, 0.0) >= POSSIBLE
    }
    for hole in marked:
        at = page.point(*hole.place)
        is_likely = hole.number in held or chances[hole.number] >= LIKELY
        for across_in in (_RING_IN, _OUTER_RING_IN) if is_likely else (_RING_IN,):
            yield Circle(at, across_in, Layer.DIMENSION, Style.FINISHED, hole.number, _CSS)
    yield from _labels(layout, page, edges, arrows, marked)


def _labels(
    layout: Layout,
    page: PageFrame,
    edges: tuple[Outline, ...],
    arrows: tuple[Ink, ...],
    marked: Mapping[Hole, str],
) -> Iterator[Ink]:
    """Number and figure of each marked hole beside it, or at the end of a leader, on nothing that must be read."""
    numbers = {hole.number for hole in marked}
    spots = [
        Spot(
            at=page.point(*hole.place),
            clear_in=0.5 * _OUTER_RING_IN,
            width_in=text_width_in(told, height_in=_LETTER_IN),
            height_in=_LETTER_IN,
        )
        for hole, told in marked.items()
    ]
    others = [(page.point(*hole.place), 0.08) for hole in layout.holes if hole.number not in numbers]
    keep_off = [part.box() for part in arrows]
    places = label_places(spots, keep_off=keep_off, edges=[edge.loop for edge in edges], holes=others)
    for (hole, told), label in zip(marked.items(), places, strict=True):
        if label is None:
            continue
        x, y = label.middle
        at, id = (x, y - 0.5 * _LETTER_IN), f"hole-{hole.number}"
        yield Text(at, told, _LETTER_IN, anchor=Anchor.MIDDLE, note_id=id, css="hole-number")
        if label.leader is not None:
            yield Line(label.leader, Layer.DIMENSION, css="hole-leader")


def _words(hole: Hole, chance: float, is_held: bool, unit: Unit) -> str:
    number = str(hole.number)
    told = (
        said("risk.mark_held", number=number)
        if is_held
        else said("risk.mark", number=number, chance=figure_said(chance))
    )
    return tell(told, unit)
