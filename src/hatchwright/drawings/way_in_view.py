"""Sketches of a doubler going in through the opening, a step each, side by side; not to scale.

Plans are seen from outside. Sections look along the line that the sheet is held on: the skin level with the opening in
it, outside on top.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence

import numpy as np
from msgspec import Struct

from hatchwright.drawings.ink import Anchor, Ink, Layer, Line, Point, Style, Text, box_of, moved, outlines
from hatchwright.drawings.page_frame import PageFrame
from hatchwright.drawings.sheet import Sheet
from hatchwright.drawings.way_in_steps import Pose, way_in_steps
from hatchwright.layout.layout import Layout
from hatchwright.layout.way_in import WayIn, on_chord, shortest_opening, way_in
from hatchwright.said import Amount, said
from hatchwright.words.of_job import in_words_of
from hatchwright.words.tell import tell

_PANEL_IN = 2.0
_GAP_IN = 0.45
_LETTER_IN = 0.13
_SKIN_IN = 1.9
_THICK_IN = 0.05
_SLIT_IN = 0.25


class DrawnWayIn(Struct, frozen=True):
    """The steps of a way in.

    Args:
        sheet: their sketches beside each other, each under its number.
        told: what each says, in the unit of the job.
    """

    sheet: Sheet
    told: tuple[str, ...]


def drawn_way_in(layout: Layout) -> DrawnWayIn | None:
    """Draw the way in; None where there is none to draw, or another was entered."""
    way, job = way_in(layout), layout.job
    steps = way_in_steps(way) if way and not job.bay.way_in else ()
    if way is None or not steps:
        return None
    page = PageFrame(layout.frame)
    ink: list[Ink] = []
    for number, step in enumerate(steps, start=1):
        ink += _panel(tuple(_DRAWS[step.pose](layout, way, page)), number)
    sheet = page.sheet(job, said("way_in.title"), ink)
    return DrawnWayIn(sheet, tuple(tell(in_words_of(job.kind, step.told), job.unit) for step in steps))


def _panel(drawn: Sequence[Ink], number: int) -> Iterator[Ink]:
    """A sketch reduced to its panel, with its number over it."""
    box = box_of(part for part in drawn if not isinstance(part, Text))
    ratio = _PANEL_IN / max(box.width_in, box.height_in)
    left_in = (number - 1) * (_PANEL_IN + _GAP_IN)
    middle_x, middle_y = box.middle
    right_in, up_in = left_in + 0.5 * _PANEL_IN - middle_x * ratio, -middle_y * ratio
    for part in moved(drawn, right_in=right_in, up_in=up_in, scale_ratio=ratio):
        yield Text(part.at, part.words, _LETTER_IN, anchor=part.anchor) if isinstance(part, Text) else part
    top_in = 0.5 * _PANEL_IN + 0.12
    yield Text((left_in, top_in), str(number), 1.6 * _LETTER_IN, bold=True)


def _opening(layout: Layout, page: PageFrame) -> Iterator[Ink]:
    yield from outlines((page.loop(shortest_opening(layout)),), Layer.DIMENSION)


def _axis(layout: Layout, way: WayIn, page: PageFrame) -> Iterator[Ink]:
    """The line that the sheet is held on runs on to both sides; from its middle goes the job's X, with the angle."""
    chord, (x, y) = way.flat.chord, way.flat.chord.middle
    far_in = 0.62 * chord.length_in
    along_x, along_y = chord.along
    ends = [page.point(x + sign * far_in * along_x, y + sign * far_in * along_y) for sign in (-1.0, 1.0)]
    yield Line(tuple(ends), Layer.DIMENSION, Style.CENTER)
    reach_in = 0.5 * chord.length_in
    yield Line((page.point(x, y), page.point(x + reach_in, y)), Layer.DIMENSION, Style.DIMENSION)
    turned = np.radians(np.linspace(0.0, chord.angle_deg, 25))
    arc = [page.point(x + 0.3 * reach_in * math.cos(at), y + 0.3 * reach_in * math.sin(at)) for at in turned]
    if chord.angle_deg > 1.0:
        yield Line(tuple(arc), Layer.DIMENSION, Style.DIMENSION)
    half = math.radians(chord.angle_deg / 2.0)
    words = tell(Amount(float(round(chord.angle_deg)), "deg"))
    label = page.point(x + 0.75 * reach_in * math.cos(half), y + 0.75 * reach_in * math.sin(half))
    yield Text(label, words, _LETTER_IN, anchor=Anchor.MIDDLE)
    end_x, end_y = page.point(x + 1.15 * reach_in, y)
    yield Text((end_x, end_y), "X", _LETTER_IN, anchor=Anchor.MIDDLE)


def _strip(points: Sequence[tuple[float, float]], page: PageFrame) -> Line:
    return Line(tuple(page.point(float(x), float(y)) for x, y in points), Layer.DIMENSION, Style.FINISHED)


def _along_chord(layout: Layout, way: WayIn, page: PageFrame) -> Iterator[Ink]:
    yield from _opening(layout, page)
    yield from _axis(layout, way, page)
    yield _held(way, way.flat.width_in, page)


def _held(way: WayIn, width_in: float, page: PageFrame) -> Line:
    """A flat sheet where the skin cuts it, its middle on that of the chord."""
    (x, y), (along_x, along_y), half = way.flat.chord.middle, way.flat.chord.along, 0.5 * width_in
    ends = [(x + sign * half * along_x, y + sign * half * along_y) for sign in (-1.0, 1.0)]
    off_x, off_y = -_THICK_IN * along_y, _THICK_IN * along_x
    (x_1, y_1), (x_2, y_2) = ends
    corners = [(x_1 + off_x, y_1 + off_y), (x_2 + off_x, y_2 + off_y)]
    corners += [(x_2 - off_x, y_2 - off_y), (x_1 - off_x, y_1 - off_y)]
    return _strip([*corners, corners[0]], page)


def _bowed(layout: Layout, way: WayIn, page: PageFrame) -> Iterator[Ink]:
    bowed = way.bowed
    assert bowed is not None
    yield from _opening(layout, page)
    yield from _axis(layout, way, page)
    faces, _ = bowed.bow.faces(2.0 * _THICK_IN)
    placed = on_chord(faces, way.flat.chord, rises_left=bowed.rises_left)
    half = len(placed) // 2
    yield _strip([*placed[:half].tolist(), *placed[half:][::-1].tolist(), placed[0].tolist()], page)


def _behind(layout: Layout, way: WayIn, page: PageFrame) -> Iterator[Ink]:
    """In its place: what the skin hides of it is dashed."""
    yield from _opening(layout, page)
    doubler = layout.part("doubler")
    assert doubler is not None
    loops = [page.loop(edge.loop) for edge in doubler.edges]
    yield from outlines(loops, Layer.DIMENSION, Style.HIDDEN)


def _skin() -> Iterator[Ink]:
    """The skin cut across the line that the sheet is held on."""
    for sign in (-1.0, 1.0):
        ends = (sign * 0.45 * _SKIN_IN, 0.0), (sign * _SKIN_IN, 0.0)
        yield Line(ends, Layer.DIMENSION, Style.FINISHED)
    for words, at_in in (("way_in.outside", 0.75), ("way_in.inside", -0.95)):
        yield Text((-_SKIN_IN, at_in), tell(said(words)), _LETTER_IN)


def _sheet_on(middle: Point, angle_deg: float, length_in: float) -> Line:
    turned = math.radians(angle_deg)
    step = 0.5 * length_in * math.cos(turned), 0.5 * length_in * math.sin(turned)
    ends = (middle[0] - step[0], middle[1] - step[1]), (middle[0] + step[0], middle[1] + step[1])
    return Line(ends, Layer.DIMENSION, Style.FINISHED)


def _square(layout: Layout, way: WayIn, page: PageFrame) -> Iterator[Ink]:
    yield from _skin()
    yield _sheet_on((0.0, 0.3), 90.0, 3.4)
    yield from _way_down((0.35, 1.6), (0.35, 0.5))


def _tilted(layout: Layout, way: WayIn, page: PageFrame) -> Iterator[Ink]:
    yield from _skin()
    shown_deg = max(way.flat.tilt_deg, 15.0)
    turned, length_in = math.radians(shown_deg), 3.4
    middle = 0.35 * length_in * math.cos(turned), -0.35 * length_in * math.sin(turned)
    yield _sheet_on(middle, 180.0 - shown_deg, length_in)
    yield from _way_down((0.3, 1.1), (0.9, 0.25))


def _way_down(tail: Point, tip: Point) -> Iterator[Ink]:
    yield Line((tail, tip), Layer.DIMENSION)
    along = math.atan2(tip[1] - tail[1], tip[0] - tail[0])
    for turned in (along + 2.7, along - 2.7):
        end = tip[0] + 0.25 * math.cos(turned), tip[1] + 0.25 * math.sin(turned)
        yield Line((tip, end), Layer.DIMENSION)


def _halves(layout: Layout, way: WayIn, page: PageFrame) -> Iterator[Ink]:
    """The opening with a half held in it, and dashed the doubler with its cut."""
    yield from _along_half(layout, way, page)
    doubler = layout.part("doubler")
    assert doubler is not None
    yield from outlines([page.loop(edge.loop) for edge in doubler.edges], Layer.DIMENSION, Style.HIDDEN)
    x_min, y_min, x_max, y_max = doubler.edges[0].loop.bounds
    middle_x, middle_y = (x_min + x_max) / 2.0, (y_min + y_max) / 2.0
    ends = ((x_min, middle_y), (x_max, middle_y))
    if way.halves[0][0] == "y":
        ends = ((middle_x, y_min), (middle_x, y_max))
    yield Line(tuple(page.point(*end) for end in ends), Layer.DIMENSION, Style.PHANTOM)


def _along_half(layout: Layout, way: WayIn, page: PageFrame) -> Iterator[Ink]:
    yield from _opening(layout, page)
    yield from _axis(layout, way, page)
    yield _held(way, way.halves[0][1], page)


def _slit(layout: Layout, way: WayIn, page: PageFrame) -> Iterator[Ink]:
    """The ring with its slit through the middle of one leg."""
    doubler, cut = layout.part("doubler"), way.cut
    assert doubler is not None
    assert cut is not None
    yield from outlines([page.loop(edge.loop) for edge in doubler.edges], Layer.DIMENSION)
    (x_min, y_min, x_max, y_max), inner = doubler.edges[0].loop.bounds, doubler.edges[1].loop.bounds
    half = 0.5 * _SLIT_IN
    for sign in (-half, half):
        if cut.leg_to_cut == "y":
            at = (y_min + y_max) / 2.0 + sign
            ends = (inner[2], at), (x_max, at)
        else:
            at = (x_min + x_max) / 2.0 + sign
            ends = (at, y_min), (at, inner[1])
        yield Line(tuple(page.point(*end) for end in ends), Layer.DIMENSION, Style.FINISHED)


def _sprung(layout: Layout, way: WayIn, page: PageFrame) -> Iterator[Ink]:
    """One end under the skin, the other over it; the ring is turned in."""
    yield from _skin()
    low, high = (-1.5, -0.45), (1.5, 0.45)
    yield Line((low, high), Layer.DIMENSION, Style.FINISHED)
    yield Line((high, (-1.2, 0.6)), Layer.DIMENSION, Style.FINISHED)
    yield from _way_down((1.4, -0.7), (0.2, -0.95))


_DRAWS: dict[Pose, Callable[[Layout, WayIn, PageFrame], Iterator[Ink]]] = {
    Pose.ALONG_CHORD: _along_chord,
    Pose.SQUARE: _square,
    Pose.TILTED: _tilted,
    Pose.BEHIND: _behind,
    Pose.BOWED: _bowed,
    Pose.HALVES: _halves,
    Pose.SLIT: _slit,
    Pose.SPRUNG: _sprung,
}
