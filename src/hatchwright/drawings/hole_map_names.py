"""The names on a hole map: of rows and hazards along their own lines, of the parts' edges at the end of a leader.

A name that has no room is a letter in a box, and stands below the map.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import product
from string import ascii_uppercase

import numpy as np
from msgspec import Struct

from hatchwright.drawings.boxes import Box, Floats, sides_of, touching
from hatchwright.drawings.hole_map_window import LETTER_IN
from hatchwright.drawings.ink import Anchor, Ink, Layer, Line, Point, Style, Text
from hatchwright.drawings.lettering import text_width_in
from hatchwright.drawings.marks import arrowhead
from hatchwright.drawings.near import lines_meet_boxes
from hatchwright.shapes.profile import Loop

_SHARES = (0.5, 0.3, 0.7, 0.18, 0.82, 0.08, 0.92)
_TAG_SHARES = tuple((2 * step + 1) / 40 for step in range(20))
_LONGEST_IN = 3.2
_TAG_IN = 0.12
_CLEAR_IN = 0.03
_STEP_IN = 0.12
_SAMPLE_IN = 0.06
_HEAD_IN = 0.1
_FARTHEST_IN = 2.5
_MOST_SPOTS = 400


class NamedLine(Struct, frozen=True):
    """A row, a flange or a keep-out on the page, with its name; of no width where it is a line.

    Args:
        words: its name with its place.
        name: alone, for the key: side 1 of the card tells place and depth of what lies behind.
    """

    box: Box
    words: str
    part: str
    name: str = ""

    @property
    def is_upright(self) -> bool:
        """Whether it runs up the page."""
        return self.box.height_in > self.box.width_in


class NamedEdge(Struct, frozen=True, eq=False):
    """An edge on the page, with its name.

    Args:
        targets: places of it at which a leader may end, shape (n, 2) [in].
    """

    targets: Floats
    words: str


class Key(Struct, frozen=True):
    """A letter in a box on the map, and what it stands for."""

    letter: str
    words: str


def line_names(
    lines: Sequence[NamedLine], window: Box, ring: Box, taken: list[Box]
) -> tuple[list[Ink], list[Key]]:
    """Name lines along themselves, outside the ring of new parts; by a letter where there is no room.

    Args:
        taken: what no name may lie on; the names are added to it.
    """
    ink: list[Ink] = []
    keys: list[Key] = []
    for line in lines:
        text = _along(line, window, ring, taken)
        if text is None:
            key = Key(letter_of(len(keys)), line.name or line.words)
            keys.append(key)
            drawn = _tag(line, key.letter, window, ring, taken)
        else:
            drawn = (text,)
        ink += drawn
        taken += (part.box().grown(_CLEAR_IN) for part in drawn)
    return ink, keys


def _along(line: NamedLine, window: Box, ring: Box, taken: Sequence[Box]) -> Text | None:
    if text_width_in(line.words, height_in=LETTER_IN) > _LONGEST_IN:
        return None
    texts = (_text_at(line, share, line.words) for share in _SHARES)
    return next((text for text in texts if _has_room(text.box(), window, ring, taken)), None)


def _text_at(line: NamedLine, share: float, words: str) -> Text:
    """Its name over its middle line, at a share of its length."""
    (x, y), box = line.box.middle, line.box
    at, turn = (box.left + share * box.width_in, y - 0.5 * LETTER_IN), 0.0
    if line.is_upright:
        at, turn = (x + 0.5 * LETTER_IN, box.bottom + share * box.height_in), 90.0
    return Text(at, words, LETTER_IN, anchor=Anchor.MIDDLE, angle_deg=turn, css="name", part=line.part)


def _has_room(box: Box, window: Box, ring: Box, taken: Sequence[Box]) -> bool:
    inside = box.left >= window.left and box.right <= window.right
    inside = inside and box.bottom >= window.bottom and box.top <= window.top
    return inside and not box.touches(ring) and not any(map(box.touches, taken))


def letter_of(place: int) -> str:
    """A to Z, then AA, AB and so on, counted from 0."""
    more, last = divmod(place, len(ascii_uppercase))
    return (letter_of(more - 1) if more else "") + ascii_uppercase[last]


def _tag(line: NamedLine, letter: str, window: Box, ring: Box, taken: Sequence[Box]) -> tuple[Ink, ...]:
    """A letter in a box on the line where there is room, else at its end beyond the window."""
    half = 0.5 * text_width_in(letter, height_in=_TAG_IN, bold=True) + 0.05
    boxes = [_tag_box(line, share, half) for share in _TAG_SHARES]
    free = (box for box in boxes if _has_room(box, window, ring, taken))
    (x, y), (right, top) = line.box.middle, window[2:]
    beyond = 0.5 * _TAG_IN + 0.1
    box = next(free, None) or (
        _box_about((x, top + beyond), half) if line.is_upright else _box_about((right + half + 0.05, y), half)
    )
    while any(map(box.touches, taken)) and not _within(box, window):
        shift = 2.0 * half + 0.05
        box = Box(box.left + shift, box.bottom, box.right + shift, box.top)
        if box.left > right + 3.0:
            break
    middle = box.middle
    text = Text((middle[0], middle[1] - 0.5 * _TAG_IN), letter, _TAG_IN, bold=True, anchor=Anchor.MIDDLE)
    return Line(box.corners, Layer.DIMENSION, Style.DIMENSION, "tag", line.part), text


def _within(box: Box, window: Box) -> bool:
    return box.right <= window.right and box.top <= window.top


def _tag_box(line: NamedLine, share: float, half: float) -> Box:
    (x, y), box = line.box.middle, line.box
    if line.is_upright:
        return _box_about((x, box.bottom + share * box.height_in), half)
    return _box_about((box.left + share * box.width_in, y), half)


def _box_about(middle: Point, half: float) -> Box:
    (x, y), up = middle, 0.5 * _TAG_IN + 0.05
    return Box(x - half, y - up, x + half, y + up)


def edge_names(
    edges: Sequence[NamedEdge], window: Box, taken: list[Box], drawn: Sequence[Loop]
) -> Iterator[Ink]:
    """Name edges, each by words where nothing is drawn and a leader to the nearest place of the edge that crosses
    neither a hole nor a number.

    Args:
        taken: what neither words nor leaders may lie on; the names are added to it.
        drawn: every edge that is drawn, which no word may lie on.
    """
    along = np.vstack([along_edge(loop) for loop in drawn])
    for edge in edges:
        ink = _edge_name(edge, window, taken, along)
        taken += (part.box().grown(_CLEAR_IN) for part in ink if isinstance(part, Text))
        yield from ink


def along_edge(loop: Loop) -> Floats:
    """Places along an edge, close together, shape (n, 2) [in]."""
    parts = loop.working_form()
    points = parts.at(*parts.steps(_SAMPLE_IN))
    return np.column_stack([points.real, points.imag])


def _edge_name(edge: NamedEdge, window: Box, taken: Sequence[Box], along: Floats) -> tuple[Ink, ...]:
    width = text_width_in(edge.words, height_in=LETTER_IN)
    firm, target = sides_of(taken), edge.targets
    best: tuple[float, Point, Point, Point] | None = None
    for x, y in _spots(window, width, firm, along, target):
        for start in ((x - 0.03, y), (x + width + 0.03, y)):
            away = np.hypot(*(target - start).T)
            for place in np.argsort(away, kind="stable")[:12:3]:
                end = float(target[place, 0]), float(target[place, 1])
                length = float(away[place])
                if best is not None and length >= best[0]:
                    continue
                cost = length + 4.0 * _crossed(start, end, firm)
                if length > 2.0 * _HEAD_IN and (best is None or cost < best[0]):
                    best = cost, (x, y), start, end
        if best is not None and best[0] < 0.4:
            break
    if best is None:
        return ()
    _, (x, y), start, end = best
    run, rise = end[0] - start[0], end[1] - start[1]
    length = math.hypot(run, rise)
    text = Text((x, y - 0.5 * LETTER_IN), edge.words, LETTER_IN, css="name")
    line = Line((start, end), Layer.DIMENSION, Style.DIMENSION, "name")
    return text, line, arrowhead(end, (run / length, rise / length), _HEAD_IN, "name")


def _spots(window: Box, width: float, firm: Floats, along: Floats, target: Floats) -> list[Point]:
    """Left ends of words on nothing else, those nearest to the edge first."""
    columns = np.arange(window.left + 0.05, window.right - width - 0.05, _STEP_IN)
    rows = np.arange(window.bottom + 0.12, window.top - 0.12, _STEP_IN)
    places = np.array(list(product(columns, rows))).reshape(-1, 2)
    if not len(places):
        return []
    boxes = np.column_stack(
        [places[:, 0] - 0.04, places[:, 1] - 0.09, places[:, 0] + width + 0.04, places[:, 1] + 0.09]
    )
    hit = np.zeros(len(boxes), dtype=np.bool_)
    if len(firm):
        hit |= touching(boxes, firm).any(axis=1)
    for part in _parted(len(boxes)):
        hit[part] |= touching(boxes[part], np.hstack([along, along])).any(axis=1)
    free = places[~hit]
    middles = free + np.array([0.5 * width, 0.0])
    off = np.empty(len(middles))
    for part in _parted(len(middles)):
        off[part] = np.hypot(*np.moveaxis(target - middles[part, None], 2, 0)).min(axis=1)
    order = np.argsort(off, kind="stable")
    kept = [place for place in order[:_MOST_SPOTS] if off[place] <= _FARTHEST_IN + width]
    return [(float(x), float(y)) for x, y in free[kept]]


def _parted(count: int, at_once: int = 500) -> Iterator[slice]:
    """Of many places and a long edge not all pairs at once."""
    return (slice(start, start + at_once) for start in range(0, count, at_once))


def _crossed(start: Point, end: Point, firm: Floats) -> int:
    """How many boxes a straight leader runs through."""
    low, high = np.minimum(start, end), np.maximum(start, end)
    near = firm[
        (firm[:, 0] <= high[0]) & (firm[:, 2] >= low[0]) & (firm[:, 1] <= high[1]) & (firm[:, 3] >= low[1])
    ]
    leader = np.broadcast_to(np.array([*start, *end]), near.shape)
    return int(np.count_nonzero(lines_meet_boxes(leader, near)))
