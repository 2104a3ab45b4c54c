"""Marks: hole centers, direction arrows, call-outs and the check square, each brought down to plain ink."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from hatchwright.drawings.boxes import Box
from hatchwright.drawings.ink import Anchor, Ink, Layer, Line, Outline, Point, Solid, Style, Text
from hatchwright.drawings.lettering import SMALL_IN
from hatchwright.said import said
from hatchwright.shapes.profile import Loop
from hatchwright.units import MM_PER_IN, Unit
from hatchwright.words.tell import tell

HEAD_IN = 0.13
"""Length of an arrowhead, three times its width [in]. From memory, unverified: ASME Y14.2."""

_HEAD_WIDTH_RATIO = 1 / 3
_LINE_SPACING_RATIO = 1.6


def cross(at: Point, size_in: float, css: str = "", part: str = "") -> tuple[Ink, ...]:
    """A center, as a thin upright cross; never on a layer that is cut."""
    (x, y), half = at, 0.5 * size_in
    ends = ((x - half, y), (x + half, y)), ((x, y - half), (x, y + half))
    return tuple(Line(points, Layer.DIMENSION, css=css, part=part) for points in ends)


def arrow(
    at: Point, angle_deg: float, words: str, length_in: float = 0.75, height_in: float = SMALL_IN
) -> tuple[Ink, ...]:
    """A direction arrow such as FWD or OUTBD: a thick shaft, a head, and its word beyond the head.

    Args:
        at: tail (x, y) [in].
        angle_deg: 0 to the right, 90 up [deg].
        length_in: from tail to point [in].
        height_in: height of a capital [in].
    """
    along = (math.cos(math.radians(angle_deg)), math.sin(math.radians(angle_deg)))
    head_in = 1.5 * HEAD_IN
    neck, tip = stepped(at, along, length_in - head_in), stepped(at, along, length_in)
    x, y = stepped(tip, along, 0.08 + 0.5 * height_in * abs(along[1]))
    anchor = Anchor.MIDDLE if abs(along[0]) < 0.5 else Anchor.START if along[0] > 0.0 else Anchor.END
    return (
        Line((at, neck), Layer.DIMENSION, Style.FINISHED),
        arrowhead(tip, along, head_in),
        Text((x, y - 0.5 * height_in), words, height_in, bold=True, anchor=anchor),
    )


def call_out(
    target: Point,
    knee: Point,
    words: Sequence[str],
    *,
    clear_in: float = 0.0,
    height_in: float = SMALL_IN,
    boxed: bool = False,
    note_id: str = "",
    css: str = "",
) -> tuple[Ink, ...]:
    """A leader that ends in words, such as the number of a short hole and by how much it is short.

    Args:
        target: what is meant (x, y) [in].
        knee: where the leader turns level, towards the side that it lies on (x, y) [in].
        words: lines of text, the first beside the knee.
        clear_in: the arrow stops this far from the target, such as the radius of a hole [in].
        height_in: height of a capital [in].
        boxed: in a frame, so that it stands out in a photocopy.
        note_id: name by which a web page finds this note again, or "".
    Returns:
        tuple[Ink, ...]: the leader with its head, the frame, and the words.
    """
    run, rise = knee[0] - target[0], knee[1] - target[1]
    length, side = math.hypot(run, rise), 1.0 if run >= 0.0 else -1.0
    shoulder, anchor = (knee[0] + 0.12 * side, knee[1]), Anchor.START if side > 0.0 else Anchor.END
    start, line_in = (shoulder[0] + 0.06 * side, knee[1] - 0.5 * height_in), _LINE_SPACING_RATIO * height_in
    texts = tuple(
        Text((start[0], start[1] - row * line_in), line, height_in, anchor=anchor, note_id=note_id, css=css)
        for row, line in enumerate(words)
    )
    ink: tuple[Ink, ...] = texts
    if boxed:
        width = 0.12 + max((text.width_in for text in texts), default=0.0)
        left = shoulder[0] if side > 0.0 else shoulder[0] - width
        bottom, top = texts[-1].at[1] - 0.6 * height_in, texts[0].at[1] + 1.6 * height_in
        frame = Box(left, bottom, left + width, top)
        ink = (Line(frame.corners, Layer.DIMENSION, Style.DIMENSION, css), *texts)
    if length <= clear_in:
        return ink
    back = (-run / length, -rise / length)
    tip = stepped(target, back, -clear_in)
    leader = Line((tip, knee, shoulder), Layer.DIMENSION, Style.DIMENSION, css)
    return (leader, arrowhead(tip, back, HEAD_IN, css), *ink)


def check_square(at: Point, unit: Unit = "in") -> tuple[Ink, ...]:
    """Shows whether a file was read in the right unit: a square of 1.000 in, or 25.0 mm, from its lower left corner.

    It lies on a layer of its own, what it must measure within.
    """
    side, words = (1.0, "1.000 in") if unit == "in" else (25.0 / MM_PER_IN, "25.0 mm")
    x, y = at
    corners = ((x, y, 0.0), (x + side, y, 0.0), (x + side, y + side, 0.0), (x, y + side, 0.0))
    middle = x + 0.5 * side
    return (
        Outline(Loop(np.array(corners)), Layer.CHECK, Style.DIMENSION),
        Text((middle, y + 0.55 * side), tell(said("sheet.check")), 0.1, anchor=Anchor.MIDDLE),
        Text((middle, y + 0.33 * side), words, 0.1, anchor=Anchor.MIDDLE),
    )


def arrowhead(tip: Point, along: Point, length_in: float, css: str = "") -> Solid:
    """A filled arrowhead on the layer of dimensions, along a unit direction, three times as long [in] as it is wide."""
    back = stepped(tip, along, -length_in)
    half = 0.5 * _HEAD_WIDTH_RATIO * length_in
    across = (-along[1] * half, along[0] * half)
    left, right = (back[0] + across[0], back[1] + across[1]), (back[0] - across[0], back[1] - across[1])
    return Solid((tip, left, right), css=css)


def stepped(start: Point, along: Point, length_in: float) -> Point:
    """The point so far from another along a unit direction [in]."""
    return start[0] + along[0] * length_in, start[1] + along[1] * length_in
