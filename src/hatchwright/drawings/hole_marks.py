"""Holes on a drawing: drilled ones told from drawn ones, a number beside each, and a call-out where one is short."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from hatchwright.drawings.boxes import Box
from hatchwright.drawings.ink import Anchor, Circle, Ink, Layer, Point, Style, Text
from hatchwright.drawings.label_places import Spot, label_places, spread
from hatchwright.drawings.lettering import text_width_in
from hatchwright.drawings.marks import call_out, cross
from hatchwright.drawings.page_frame import PageFrame
from hatchwright.drawings.short_holes import ShortHoles
from hatchwright.layout.layout import Hole, Layout
from hatchwright.recipe.hole_drills import final_drills, first_drill, is_drilled_once
from hatchwright.recipe.sheet_work import hole_work
from hatchwright.shapes.profile import Loop

MOST_CALL_OUTS = 16
"""Call-outs beyond this number would hide the drawing; the hole table names every hole [-]."""

NUMBER_IN = 0.09
"""Height of the numbers beside the holes [in]."""

_CROSS_IN = 0.16
_RING_IN = 0.3
_OFF_IN = 0.3
_LINE_IN = 0.26
_LEADER_SAMPLES = 24


def hole_circles(
    layout: Layout,
    page: PageFrame,
    short: Iterable[int],
    *,
    cross_in: float = _CROSS_IN,
    ring_in: float = _RING_IN,
) -> Iterator[Ink]:
    """Draw every hole: thick at its finished size when it is drilled, else thin at its pilot size with a cross.

    Of a hole whose size is not known only the cross.

    Args:
        short: numbers of the holes that get a ring.
        cross_in: across a cross, on paper [in].
        ring_in: across a ring, on paper [in].
    """
    ringed = frozenset(short)
    of_row = {row.name: f"rows.{index}" for index, row in enumerate(layout.job.rows)}
    for hole in layout.holes:
        at = page.point(hole.x_in, hole.y_in)
        part = of_row[hole.row] if hole.kind == "rivet" else "cover.screws"
        is_short = hole.number in ringed
        css = f"hole {hole.kind} {'made' if hole.is_made else 'drawn'}{' short' if is_short else ''}"
        layer, size_in = first_drilled(hole, layout)
        style = Style.DIMENSION
        if hole.is_made:
            layer, size_in, style = Layer.DRILL_FINAL, hole.hole_in or _final_in(hole, layout), Style.FINISHED
        if size_in is not None:
            yield Circle(at, page.length(size_in), layer, style, hole.number, css, part)
        if not hole.is_made or size_in is None:
            yield from cross(at, cross_in, part=part)
        if is_short:
            yield Circle(at, ring_in, Layer.DIMENSION, Style.FINISHED, hole.number, f"ring {css}", part)


def first_drilled(hole: Hole, layout: Layout) -> tuple[Layer, float | None]:
    """The layer and the diameter [in] at which a hole is drilled first, the final layer where that finishes it; None
    where nobody knows it."""
    first = first_drill(hole, layout)
    layer = Layer.DRILL_FINAL if is_drilled_once(hole, layout) else Layer.DRILL_PILOT
    return layer, first.diameter_in if first else None


def _final_in(hole: Hole, layout: Layout) -> float | None:
    drills = final_drills(hole_work(hole, layout))
    return drills[0].diameter_in if drills else None


def hole_numbers(
    layout: Layout, page: PageFrame, *, short: Iterable[int], keep_off: Iterable[Box], edges: Iterable[Loop]
) -> tuple[Text, ...]:
    """Put the number beside each hole, clear of other holes, numbers and call-outs.

    Args:
        short: numbers of the holes that have a ring.
        keep_off: boxes that a number must not hide.
        edges: edges on the page that a number should not lie on.
    Returns:
        tuple[Text, ...]: in the order of the holes, each with its note named ``hole-`` and the number.
    """
    ringed = frozenset(short)
    spots, numbers = [], []
    for hole in layout.holes:
        at, clear_in = page.point(hole.x_in, hole.y_in), _RING_IN if hole.number in ringed else _CROSS_IN
        width_in = text_width_in(str(hole.number), height_in=NUMBER_IN)
        spots.append(Spot(at=at, clear_in=0.5 * clear_in, width_in=width_in, height_in=NUMBER_IN))
    for hole, (x, y) in zip(layout.holes, label_places(spots, keep_off=keep_off, edges=edges), strict=True):
        at, id, css = (x, y - 0.5 * NUMBER_IN), f"hole-{hole.number}", "hole-number"
        numbers.append(Text(at, str(hole.number), NUMBER_IN, anchor=Anchor.MIDDLE, note_id=id, css=css))
    return tuple(numbers)


def call_outs(
    short: Sequence[ShortHoles], at: Mapping[int, Point], around: Box
) -> tuple[list[Ink], list[Box]]:
    """Call out the short holes, in boxes outside the new parts, as many as can be read.

    Args:
        short: the worst first, of which at most `MOST_CALL_OUTS` are called out.
        at: place of each hole on the page [in].
        around: box round the new parts on the page [in].
    Returns:
        tuple: the ink, and boxes that cover its words, and its leaders piece by piece.
    """
    called = short[:MOST_CALL_OUTS]
    targets: list[Point] = [
        (sum(x) / len(x), sum(y) / len(y))
        for x, y in (zip(*(at[number] for number in one.holes), strict=True) for one in called)
    ]
    middle_x, _ = around.middle
    ink: list[Ink] = []
    boxes: list[Box] = []
    for is_right in (True, False):
        chosen = [place for place, target in enumerate(targets) if (target[0] >= middle_x) == is_right]
        lines = max((len(called[place].words) for place in chosen), default=1)
        heights = spread([targets[place][1] for place in chosen], _LINE_IN + 0.18 * (lines - 1) + 0.06)
        right = around.right + _OFF_IN if is_right else around.left - _OFF_IN
        for place, up in zip(chosen, heights, strict=True):
            one, (x, y) = called[place], targets[place]
            clear_in, id = 0.5 * _RING_IN if len(one.holes) == 1 else 0.0, f"hole-{one.holes[0]}"
            drawn = call_out(
                (x, y),
                (right, up),
                one.words,
                clear_in=clear_in,
                height_in=0.11,
                boxed=True,
                note_id=id,
                css="short",
            )
            ink += drawn
            boxes += (part.box() for part in drawn if isinstance(part, Text))
            for share in ((step + 0.5) / _LEADER_SAMPLES for step in range(_LEADER_SAMPLES)):
                leader = (x + share * (right - x), y + share * (up - y))
                boxes.append(Box(*leader, *leader))
    return ink, boxes
