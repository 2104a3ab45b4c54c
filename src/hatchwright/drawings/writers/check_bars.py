"""Check bars: lengths on paper that a scale shows to be right or wrong before a sheet is used."""

from __future__ import annotations

from typing import Literal

from hatchwright.drawings.boxes import Box
from hatchwright.drawings.ink import Anchor, Ink, Layer, Line, Point, Solid, Text
from hatchwright.said import said
from hatchwright.units import MM_PER_IN, Unit, figure
from hatchwright.words.tell import tell

INCH_BAR_IN = 6.0
"""Length of the inch bar; it must be right to 1/64 in [in]. From memory, unverified."""

METRIC_BAR_IN = 100.0 / MM_PER_IN
"""Length of the 100 mm bar; it must be right to 0.5 mm [in]. From memory, unverified."""

PaperSide = Literal["short", "long"]

SIDES: tuple[PaperSide, PaperSide] = ("short", "long")
"""What bars and boxes are named by: the sides of the paper, which stay when a page lies."""

BARS_IN = 0.5
"""Across a pair of bars with their lettering [in]."""

_END_IN = 0.08
_TICK_IN = 0.04
_LETTER_IN = 0.08
_FIRST_IN, _BETWEEN_IN = 0.09, 0.23
_BOX_IN = 0.72

MEASURED_IN = 1.2, 0.52
"""Width and height of the boxes for what was measured [in]."""


def check_bar(
    start: Point,
    along: Literal["x", "y"],
    length_in: float,
    spaces: int,
    words: str,
    words_at: tuple[float, ...] = (0.15,),
) -> tuple[Ink, ...]:
    """A thin bar between two end marks, graduated, its true length lettered above it.

    An end mark is a wedge without a line round it, whose one upright edge looks outward: a rule that is laid from
    outer edge to outer edge reads the length, however wide the printer draws a line.

    Args:
        start: left or lower end (x, y) [in].
        along: "x" for a level bar, "y" for an upright one.
        spaces: how many equal graduations it has.
        words_at: where along the bar the words begin, once or more often [in].
    """

    def at(u: float, v: float) -> Point:
        """A point of the bar, `u` along it and `v` to the left of that."""
        x, y = start
        return (x + u, y + v) if along == "x" else (x - v, y + u)

    ink: list[Ink] = [Line((at(0.0, 0.0), at(length_in, 0.0)), Layer.CHECK)]
    for end, inward in ((0.0, _END_IN), (length_in, -_END_IN)):
        ink.append(Solid((at(end, -_END_IN), at(end, _END_IN), at(end + inward, 0.0)), Layer.CHECK))
    for step in range(1, spaces):
        u = length_in * step / spaces
        ink.append(Line((at(u, -_TICK_IN), at(u, _TICK_IN)), Layer.CHECK))
    angle_deg = 0.0 if along == "x" else 90.0
    return (*ink, *(Text(at(u, 0.07), words, _LETTER_IN, angle_deg=angle_deg) for u in words_at))


def bar_length(unit: Unit) -> str:
    """How long the bar is that is measured, in the unit of a drawing: the inch bar, or that of 100 mm."""
    return figure(INCH_BAR_IN, unit) if unit == "in" else f"{METRIC_BAR_IN * MM_PER_IN:.0f}"


def check_bars(corner: Point, along: Literal["x", "y"], *, side: PaperSide, unit: Unit) -> tuple[Ink, ...]:
    """The inch bar and the millimeter bar beside each other, lettered with their tolerance; `BARS_IN` across.

    Args:
        corner: lower left end of the pair (x, y) [in].
        side: of the paper along which they lie.
        unit: in which the length of the first is told.
    """
    x, y = corner
    first, second = _FIRST_IN, _FIRST_IN + _BETWEEN_IN
    if along == "x":
        inch, metric = (x, y + second), (x, y + first)
    else:
        inch, metric = (x + BARS_IN - second, y), (x + BARS_IN - first, y)
    return (
        *check_bar(inch, along, INCH_BAR_IN, 6, tell(said(f"bar.{unit}.{side}"))),
        *check_bar(metric, along, METRIC_BAR_IN, 10, tell(said(f"bar.100_mm.{side}"))),
    )


def measured_boxes(corner: Point) -> tuple[Ink, ...]:
    """A box for each side of the paper, in which the length measured on the day of use is written.

    They take `MEASURED_IN` from their lower left corner (x, y) [in].
    """
    (x, y), (width_in, height_in) = corner, MEASURED_IN
    low_in = 0.5 * height_in
    parts: list[Ink] = []
    for side, bottom in (("short", y + low_in), ("long", y)):
        box = Box(x + width_in - _BOX_IN, bottom, x + width_in, bottom + low_in - 0.03)
        middle = 0.5 * (box.bottom + box.top) - 0.5 * _LETTER_IN
        words = tell(said(f"bar.box.{side}"))
        parts.append(Text((box.left - 0.06, middle), words, _LETTER_IN, anchor=Anchor.END))
        parts.append(Line(box.corners, Layer.CHECK))
    return tuple(parts)
