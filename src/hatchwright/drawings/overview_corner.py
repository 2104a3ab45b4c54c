"""The detail of the opening's sharpest corner: finished edge, rough cut, what lies behind, and its radius."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise

from msgspec import Struct

from hatchwright.drawings.block import Block
from hatchwright.drawings.boxes import Box
from hatchwright.drawings.ink import Ink, Layer, Line, Point, Style, Text, box_of, moved
from hatchwright.drawings.marks import call_out, cross
from hatchwright.drawings.page_frame import PageFrame
from hatchwright.drawings.scale import Scale, detail_scales
from hatchwright.drawings.tidy import outside
from hatchwright.job.drawing import Standard
from hatchwright.layout.layout import Layout
from hatchwright.layout.sizes import is_round
from hatchwright.said import Said, inch, said
from hatchwright.shapes.corners import Corner, corners
from hatchwright.shapes.profile import Loop
from hatchwright.words.tell import tell

NAME = "B"
"""The letter of the detail; the section is A-A."""

_ROOM_IN = 1.45
_AROUND_IN = 0.25
_CHORD_IN = 0.001
_SAME_IN = 1e-6


class CornerDetail(Struct, frozen=True):
    """Which corner is shown, how far round it, and at which scale.

    Args:
        half_in: from the middle of the picture to its sides, on the part [in].
        scale: at which it is drawn.
    """

    corner: Corner
    half_in: float
    scale: Scale


def corner_detail(layout: Layout, standard: Standard) -> CornerDetail | None:
    """What a detail of the corner shows; None of a round opening, and of a radius too large to be drawn full size."""
    corner = layout.wanted_corner
    if corner is None or is_round(layout.wanted.bounds, corner):
        return None
    half_in = 0.6 * corner.radius_in + _AROUND_IN
    fitting = (one for one in detail_scales(standard) if 2.0 * half_in * one.ratio <= _ROOM_IN)
    scale = next(fitting, None)
    return CornerDetail(corner, half_in, scale) if scale else None


def radius_words(layout: Layout) -> str:
    """The radius of the sharpest corner and how many corners have it, such as ``4X R.750``; SHARP of none."""
    corner = layout.wanted_corner
    assert corner is not None  # asked of an opening that has one
    alike = sum(abs(one.radius_in - corner.radius_in) < _SAME_IN for one in corners(layout.wanted))
    if corner.radius_in < _SAME_IN:
        return tell(said("corner.sharp", n=alike))
    if layout.job.opening.shape == "obround":  # its height tells the radius already
        return tell(said("corner.full_round", n=alike))
    told: Said = said("corner.radius", n=alike, radius=inch(corner.radius_in))
    return tell(told, layout.job.unit)


def corner_block(layout: Layout, detail: CornerDetail, *, letter_in: float) -> Block:
    """Draw the detail over its name and scale."""
    page, corner = PageFrame(layout.frame, scale=detail.scale), detail.corner
    middle = page.point(*corner.place)
    window = Box(*middle, *middle).grown(page.length(detail.half_in))
    ink: list[Ink] = []
    for loop, style in _edges(layout, page):
        ink += (Line(run, Layer.TEXT, style) for run in clipped(loop, window, page.length(_CHORD_IN)))
    for hole in layout.holes:
        at = page.point(*hole.place)
        if window.grown(-0.08).touches(Box(*at, *at)):
            ink += cross(at, 0.14)
    told: list[Ink] = []
    if corner.radius_in > _SAME_IN:
        told += _radius(
            page.point(*corner.center), page.point(*corner.place), radius_words(layout), letter_in
        )
    words = [part.box().grown(0.05) for part in told if isinstance(part, Text)]
    for start, end in pairwise(window.corners):
        ink += (Line(run, Layer.TEXT, Style.DIMENSION) for run in outside((start, end), words))
    ink += told
    title = tell(said("corner.title", name=NAME, scale=detail.scale.words))
    box = box_of(ink)
    ink.append(Text((box.left, box.top + 0.1), title, letter_in, bold=True))
    if corner.radius_in <= _SAME_IN:
        ink.append(Text((box.left, box.bottom - 1.6 * letter_in), radius_words(layout), letter_in))
    box = box_of(ink)
    return Block(moved(ink, right_in=-box.left, up_in=-box.top), box.width_in, box.height_in)


def _edges(layout: Layout, page: PageFrame) -> Iterator[tuple[Loop, Style]]:
    yield page.loop(layout.wanted), Style.FINISHED
    if layout.rough_cut is not None:
        yield from ((loop, Style.PHANTOM) for loop in page.profile(layout.rough_cut))
    for part in layout.parts:
        if part.name == "doubler":
            for edge in part.edges:
                if edge.loop != layout.opening:
                    yield page.loop(edge.loop), Style.HIDDEN


def _radius(center: Point, place: Point, words: str, letter_in: float) -> Iterator[Ink]:
    """A radial leader from inside the corner to its arc, its words towards the middle of the opening."""
    across, up = center[0] - place[0], center[1] - place[1]
    length = math.hypot(across, up)
    reach = min(0.55, length)
    knee = place[0] + reach * across / length, place[1] + reach * up / length
    yield from call_out(place, knee, (words,), height_in=letter_in)


def clipped(loop: Loop, window: Box, chord_in: float) -> Iterator[tuple[Point, ...]]:
    """The runs of an edge that lie in a window, as points close enough to each other [in]."""
    points = [(float(x), float(y)) for x, y in loop.points(chord_in)]
    run: list[Point] = []
    for start, end in pairwise([*points, points[0]]):
        enter, leave = window.clipped(start, end)
        if enter >= leave:
            continue
        first, last = _between(start, end, enter), _between(start, end, leave)
        if not run or math.dist(run[-1], first) > _SAME_IN:
            if len(run) > 1:
                yield tuple(run)
            run = [first]
        run.append(last)
    if len(run) > 1:
        yield tuple(run)


def _between(start: Point, end: Point, share: float) -> Point:
    return start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])
