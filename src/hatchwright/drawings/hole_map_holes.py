"""The holes of a hole map: drilled ones told from drawn ones, the short ones called out, numbers beside some."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence

from msgspec import Struct

from hatchwright.drawings.boxes import Box
from hatchwright.drawings.hole_map_window import LETTER_IN
from hatchwright.drawings.hole_marks import first_drilled
from hatchwright.drawings.ink import Anchor, Circle, Ink, Layer, Line, Point, Style, Text
from hatchwright.drawings.label_places import Label, Spot, label_places
from hatchwright.drawings.lettering import text_width_in
from hatchwright.drawings.marks import cross
from hatchwright.drawings.page_frame import PageFrame
from hatchwright.layout.base_screws import base_screw_holes
from hatchwright.layout.layout import Layout
from hatchwright.said import said
from hatchwright.shapes.profile import Loop
from hatchwright.words.tell import tell

_LEAST_IN = 0.06
_CROSS_IN = 0.12
_RING_IN = 0.22
_LINE_RATIO = 1.2


def hole_places(layout: Layout, page: PageFrame) -> dict[int, Point]:
    """Where each hole lies on the page [in]."""
    return {hole.number: page.point(*hole.place) for hole in layout.holes}


def map_holes(layout: Layout, page: PageFrame, ringed: Collection[int]) -> Iterator[Ink]:
    """Every hole as a circle that can be seen at any scale: thick where it is drilled, else thin with a cross.

    Args:
        ringed: numbers of the short holes.
    """
    for hole in layout.holes:
        at, (layer, size_in) = page.point(*hole.place), first_drilled(hole, layout)
        across = max(page.length(size_in or 0.0), _LEAST_IN)
        style = Style.FINISHED if hole.is_made else Style.DIMENSION
        css = f"hole {hole.kind} {'made' if hole.is_made else 'drawn'}"
        yield Circle(at, across, layer, style, hole.number, css)
        if not hole.is_made:
            yield from cross(at, max(_CROSS_IN, across + 0.06), "hole")
        if hole.number in ringed:
            yield Circle(at, _RING_IN, Layer.DIMENSION, Style.FINISHED, hole.number, f"ring {css}")


def base_screws(layout: Layout, page: PageFrame) -> Iterator[Ink]:
    """The holes that are marked through a mounted base: a letter in the place of a number."""
    letter = tell(said("hole_map.base_letter"))
    for hole in base_screw_holes(layout):
        at = page.point(*hole.place)
        across = max(page.length(hole.nominal_in or 0.0), _LEAST_IN)
        yield Circle(at, across, Layer.DRILL_FINAL, Style.DIMENSION, css="base-screw")
        arms_in = max(_CROSS_IN, across + 0.06)
        yield from cross(at, arms_in, "base-screw")
        foot = at[0] + 0.5 * arms_in + 0.04, at[1] - 0.5 * LETTER_IN
        yield Text(foot, letter, LETTER_IN, css="base-screw")


class MapNumbers(Struct, frozen=True):
    """The words beside the holes.

    Args:
        ink: each with its leader where it has one.
        left_out: numbers of the holes whose words have no room.
    """

    ink: tuple[Ink, ...]
    left_out: tuple[int, ...]


def map_numbers(
    at: Mapping[int, Point],
    words: Mapping[int, str],
    *,
    ringed: Collection[int],
    keep_off: Sequence[Box],
    edges: Iterable[Loop],
    lines: Iterable[tuple[Point, Point]],
) -> MapNumbers:
    """The words beside some holes, or at the end of a leader, clear of all holes, edges and each other.

    Args:
        at: place of every hole on the page [in].
        words: number and mark of those that get any.
        keep_off: what no number may lie on.
        lines: straight lines, the same.
    """

    def room_in(number: int) -> float:
        return 0.5 * (_RING_IN if number in ringed else _CROSS_IN)

    others = [(at[number], room_in(number)) for number in at if number not in words]
    spots = [
        Spot(
            at=at[number],
            clear_in=room_in(number),
            width_in=text_width_in(one, height_in=LETTER_IN),
            height_in=_LINE_RATIO * LETTER_IN,
        )
        for number, one in words.items()
    ]
    places = label_places(spots, keep_off=keep_off, edges=edges, lines=lines, holes=others)
    found = {n: place for n, place in zip(words, places, strict=True) if place is not None}
    ink = tuple(part for n, place in found.items() for part in _number(n, words[n], place))
    return MapNumbers(ink, tuple(n for n in words if n not in found))


def _number(number: int, words: str, label: Label) -> Iterator[Ink]:
    (x, y), id = label.middle, f"hole-{number}"
    at = x, y - 0.5 * LETTER_IN
    yield Text(at, words, LETTER_IN, anchor=Anchor.MIDDLE, note_id=id, css="hole-number")
    if label.leader is not None:
        yield Line(label.leader, Layer.DIMENSION, css="hole-leader")
