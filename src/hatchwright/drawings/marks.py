"""Marks: hole centers, direction arrows, call-outs and the check square, each brought down to plain ink."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from hatchwright.drawings.boxes import Box
from hatchwright.drawings.ink import Anchor, Ink, Line, Outline, Point, Solid, Text
from hatchwright.drawings.layers import Layer, Style
from hatchwright.drawings.lettering import SMALL_IN
from hatchwright.said import said
from hatchwright.shapes.profile import Loop
from hatchwright.units import MM_PER_IN, Unit
from hatchwright.words.tell import tell

HEAD_IN = 0.13
"""Length of an arrowhead, three times its width [in]. From memory, unverified: ASME Y14.2."""

_HEAD_WIDTH_RATIO = 1 / 3
_LINE_SPACING_RATIO = 1.6


@dataclass(frozen=True, slots=True)
class Cross:
    """A center, as a thin upright cross; never on a layer that is cut."""

    at: Point
    size_in: float
    css: str = ""

    def parts(self) -> tuple[Ink, ...]:
        """Two lines."""
        (x, y), half = self.at, 0.5 * self.size_in
        ends = ((x - half, y), (x + half, y)), ((x, y - half), (x, y + half))
        return tuple(Line(points, Layer.DIMENSION, css=self.css) for points in ends)


@dataclass(frozen=True, slots=True)
class Arrow:
    """A direction arrow such as FWD or OUTBD, its word beyond the head.

    Args:
        at: tail (x, y) [in].
        angle_deg: 0 to the right, 90 up [deg].
        length_in: from tail to point [in].
        height_in: height of a capital [in].
    """

    at: Point
    angle_deg: float
    words: str
    length_in: float = 0.75
    height_in: float = SMALL_IN

    def parts(self) -> tuple[Ink, ...]:
        """A thick shaft, a head and a word."""
        along = (math.cos(math.radians(self.angle_deg)), math.sin(math.radians(self.angle_deg)))
        head_in = 1.5 * HEAD_IN
        neck = stepped(self.at, along, self.length_in - head_in)
        tip = stepped(self.at, along, self.length_in)
        clear = 0.08 + 0.5 * self.height_in * abs(along[1])
        x, y = stepped(tip, along, clear)
        anchor = Anchor.MIDDLE if abs(along[0]) < 0.5 else Anchor.START if along[0] > 0.0 else Anchor.END
        return (
            Line((self.at, neck), Layer.DIMENSION, Style.FINISHED),
            arrowhead(tip, along, head_in),
            Text((x, y - 0.5 * self.height_in), self.words, self.height_in, bold=True, anchor=anchor),
        )


@dataclass(frozen=True, slots=True)
class CallOut:
    """A leader that ends in words, such as the number of a short hole and by how much it is short.

    Args:
        target: what is meant (x, y) [in].
        knee: where the leader turns level, towards the side that it lies on (x, y) [in].
        words: lines of text, the first beside the knee.
        clear_in: the arrow stops this far from the target, such as the radius of a hole [in].
        height_in: height of a capital [in].
        boxed: in a frame, so that it stands out in a photocopy.
        note_id: name by which a web page finds this note again, or "".
    """

    target: Point
    knee: Point
    words: tuple[str, ...]
    clear_in: float = 0.0
    height_in: float = SMALL_IN
    boxed: bool = False
    note_id: str = ""
    css: str = ""

    def parts(self) -> tuple[Ink, ...]:
        """A leader with its head, a shoulder, the words, and the frame."""
        run, rise = self.knee[0] - self.target[0], self.knee[1] - self.target[1]
        length = math.hypot(run, rise)
        side = 1.0 if run >= 0.0 else -1.0
        shoulder = (self.knee[0] + 0.12 * side, self.knee[1])
        texts = tuple(self._texts((shoulder[0] + 0.06 * side, self.knee[1]), side))
        frame = (self._frame(texts, shoulder[0]),) if self.boxed else ()
        if length <= self.clear_in:
            return (*frame, *texts)
        back = (-run / length, -rise / length)
        tip = stepped(self.target, back, -self.clear_in)
        leader = Line((tip, self.knee, shoulder), Layer.DIMENSION, Style.DIMENSION, self.css)
        return (leader, arrowhead(tip, back, HEAD_IN, self.css), *frame, *texts)

    def _texts(self, start: Point, side: float) -> Sequence[Text]:
        anchor = Anchor.START if side > 0.0 else Anchor.END
        return [
            Text(
                (start[0], start[1] - 0.5 * self.height_in - row * _LINE_SPACING_RATIO * self.height_in),
                words,
                self.height_in,
                anchor=anchor,
                note_id=self.note_id,
                css=self.css,
            )
            for row, words in enumerate(self.words)
        ]

    def _frame(self, texts: Sequence[Text], shoulder_x: float) -> Line:
        width = 0.12 + max((text.width_in for text in texts), default=0.0)
        left = shoulder_x if texts[0].anchor is Anchor.START else shoulder_x - width
        top = texts[0].at[1] + 1.6 * self.height_in
        bottom = texts[-1].at[1] - 0.6 * self.height_in
        frame = Box(left, bottom, left + width, top)
        return Line(frame.corners, Layer.DIMENSION, Style.DIMENSION, self.css)


@dataclass(frozen=True, slots=True)
class CheckSquare:
    """Shows whether a file was read in the right unit: a square of 1.000 in, or 25.0 mm, from its lower left corner."""

    at: Point
    unit: Unit = "in"

    def parts(self) -> tuple[Ink, ...]:
        """The square on its own layer, and what it must measure."""
        side, words = (1.0, "1.000 in") if self.unit == "in" else (25.0 / MM_PER_IN, "25.0 mm")
        x, y = self.at
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
