"""Holes on a drawing: drilled ones told from drawn ones, a number beside each, and a call-out where one is short."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence

from msgspec import Struct
from msgspec.structs import replace

from hatchwright.drawings.boxes import Box
from hatchwright.drawings.ink import Anchor, Circle, Ink, Layer, Line, Point, Style, Text
from hatchwright.drawings.label_places import Label, Spot, label_places, spread
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

_MOST_LEFT_OUT = 0.02
"""Where more of the numbers than this find no room, every fifth is left [-]. Own choice, no source."""


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


class HoleNumbers(Struct, frozen=True):
    """The numbers of the holes on a drawing.

    Args:
        ink: each number, its note named ``hole-`` and the number, with its leader where it has one.
        left_out: numbers of the holes that bear none [-].
        is_thinned: whether every fifth was to be numbered, since all would hide each other.
    """

    ink: tuple[Ink, ...]
    left_out: tuple[int, ...] = ()
    is_thinned: bool = False


def every_fifth(layout: Layout, *, always: Iterable[int] = ()) -> frozenset[int]:
    """Numbers enough to find every hole by counting: each fifth, the ends of each row, and those that are wanted."""
    ends = (hole.number for row in layout.rows().values() if row for hole in (row[0], row[-1]))
    fifth = (hole.number for hole in layout.holes if hole.number % 5 == 0)
    return frozenset((*fifth, *ends, *always))


def hole_numbers(
    layout: Layout,
    page: PageFrame,
    *,
    short: Iterable[int],
    keep_off: Iterable[Box],
    edges: Iterable[Loop],
    lines: Iterable[tuple[Point, Point]] = (),
    only: Collection[int] | None = None,
    height_in: float = NUMBER_IN,
) -> HoleNumbers:
    """Put the number beside each hole, or at the end of a leader, clear of holes, edges, numbers and call-outs.

    Args:
        short: numbers of the holes that have a ring.
        keep_off: boxes that a number must not hide.
        edges: edges on the page that a number must not lie on.
        lines: straight lines on the page that it must not lie on.
        only: the holes that are numbered, such as `every_fifth`; all of them when not given, and every fifth where
            all would hide each other.
        height_in: of the numbers; that on paper over the scale of the drawing [in].
    """
    ringed, boxes, loops, drawn = frozenset(short), tuple(keep_off), tuple(edges), tuple(lines)
    wanted = frozenset(hole.number for hole in layout.holes) if only is None else frozenset(only)

    def room_in(hole: Hole) -> float:
        across = (
            _RING_IN if hole.number in ringed else max(_CROSS_IN, hole.nominal_in or 0.0, hole.hole_in or 0.0)
        )
        return 0.5 * across

    numbered = [hole for hole in layout.holes if hole.number in wanted]
    others = [(page.point(*hole.place), room_in(hole)) for hole in layout.holes if hole.number not in wanted]
    spots = [
        Spot(
            at=page.point(*hole.place),
            clear_in=room_in(hole),
            width_in=text_width_in(str(hole.number), height_in=height_in),
            height_in=height_in,
        )
        for hole in numbered
    ]
    labels = label_places(spots, keep_off=boxes, edges=loops, lines=drawn, holes=others)
    placed = [(hole, label) for hole, label in zip(numbered, labels, strict=True) if label is not None]
    if only is None and len(numbered) - len(placed) > _MOST_LEFT_OUT * len(numbered):
        few = every_fifth(layout, always=ringed)
        return replace(
            hole_numbers(
                layout,
                page,
                short=ringed,
                keep_off=boxes,
                edges=loops,
                lines=drawn,
                only=few,
                height_in=height_in,
            ),
            is_thinned=True,
        )
    shown = {hole.number for hole, _ in placed}
    ink = tuple(part for hole, label in placed for part in number_ink(hole.number, label, height_in))
    return HoleNumbers(ink, tuple(hole.number for hole in layout.holes if hole.number not in shown))


def number_ink(number: int, label: Label, height_in: float) -> Iterator[Ink]:
    """The number of a hole in its place, with its leader where it has one."""
    x, y = label.middle
    at, id, css = (x, y - 0.5 * height_in), f"hole-{number}", "hole-number"
    yield Text(at, str(number), height_in, anchor=Anchor.MIDDLE, note_id=id, css=css)
    if label.leader is not None:
        yield Line(label.leader, Layer.DIMENSION, css="hole-leader")


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
