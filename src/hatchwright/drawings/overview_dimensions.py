"""Dimensions of a drawing to scale, by ASME or by ISO: from one datum each way, the longest outermost, never a chain.

ASME letters a figure level in a break of its line, ISO above the line, to be read from below and from the right.
Gaps: first line 10 mm from the outline, the next at least 6 mm (ASME Y14.5, 1.7.1; guides), 7 mm here.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from itertools import chain
from typing import Literal

from msgspec import Struct

from hatchwright.drawings.boxes import Box
from hatchwright.drawings.ink import Anchor, Ink, Layer, Line, Point, Text
from hatchwright.drawings.label_places import spread
from hatchwright.drawings.lettering import text_width_in
from hatchwright.drawings.marks import HEAD_IN, arrowhead
from hatchwright.drawings.tidy import outside
from hatchwright.job.drawing import Standard

FIRST_IN, NEXT_IN = 0.39, 0.28
"""From the outline to the first dimension line, and from line to line [in]."""

_GAP_IN, _OVERRUN_IN, _AROUND_IN = 0.06, 0.10, 0.05
_SHARES = (0.5, 0.36, 0.64, 0.25, 0.75)


class Measured(Struct, frozen=True):
    """One edge that is measured from a datum.

    Args:
        at: place along the axis on the page [in].
        foot: where its extension line begins, across the axis [in].
        words: the figure.
        datum: place of the datum along the axis [in].
        datum_foot: where the extension line of the datum begins [in].
    """

    at: float
    foot: float
    words: str
    datum: float
    datum_foot: float

    @property
    def length_in(self) -> float:
        """On paper [in]."""
        return abs(self.at - self.datum)


class Dimensioning(Struct, frozen=True):
    """How dimensions are drawn.

    Args:
        along: "x" measures across the page, its lines below the drawing; "y" up, its lines to the left.
        edge: of the drawing, beyond which the lines lie [in].
        letter_in: height of the figures [in].
        clear: boxes of holes, at which an extension line is broken.
    """

    along: Literal["x", "y"]
    edge: float
    standard: Standard
    letter_in: float
    clear: tuple[Box, ...] = ()

    def baseline(self, measured: Iterable[Measured]) -> Iterator[Ink]:
        """Dimension edges from their datum, the shortest nearest to the drawing."""
        ordered = sorted(measured, key=lambda one: (one.length_in, one.at))
        levels = [self.edge - FIRST_IN - step * self._step(ordered) for step in range(len(ordered))]
        extensions = self._extensions(ordered, levels)
        yield from chain.from_iterable(self._broken(line) for line in extensions)
        taken = [line.box().grown(_AROUND_IN) for line in extensions]
        for one, level in zip(ordered, levels, strict=True):
            others = [
                self._line(two.datum, two.at, beside).box().grown(0.5 * _AROUND_IN)
                for two, beside in zip(ordered, levels, strict=True)
                if two is not one
            ]
            drawn = self._dimension(one, level, [*taken, *others])
            taken += [part.box().grown(_AROUND_IN) for part in drawn if isinstance(part, Text)]
            yield from drawn

    def ordinates(self, measured: Iterable[Measured]) -> Iterator[Ink]:
        """Letter each place at the end of its extension line, where the datum lies beyond the sheet."""
        height, ordered = self.letter_in, sorted(measured, key=lambda one: one.at)
        level = self.edge - FIRST_IN
        ends = spread([one.at for one in ordered], 1.5 * height)
        for one, end in zip(ordered, ends, strict=True):
            yield from self._broken(self._drawn(one.at, one.foot - _GAP_IN, one.at, level))
            knee = self._drawn(one.at, level, end, level - height)
            place = self._place(
                end + (0.5 * height if self.along == "x" else -0.5 * height), level - 1.5 * height
            )
            angle = 90.0 if self.along == "x" else 0.0
            yield from (
                knee,
                Text(place, one.words, height, anchor=Anchor.END, angle_deg=angle, css="dimension"),
            )

    def _step(self, measured: Sequence[Measured]) -> float:
        """From line to line: level figures stand across upright lines, so that these lie half a figure apart."""
        if self.along == "x" or self.standard == "iso":
            return max(NEXT_IN, 1.9 * self.letter_in)
        widest = max((self._width(one.words) for one in measured), default=0.0)
        return max(NEXT_IN, 0.5 * widest + 0.12)

    def _extensions(self, measured: Sequence[Measured], levels: Sequence[float]) -> list[Line]:
        """One extension line for each place, as far as the outermost of its lines."""
        ends: dict[tuple[float, float], float] = {}
        for one, level in zip(measured, levels, strict=True):
            for place in ((one.at, one.foot), (one.datum, one.datum_foot)):
                ends[place] = min(level, ends.get(place, level))
        return [
            self._drawn(at, foot - _GAP_IN, at, level - _OVERRUN_IN) for (at, foot), level in ends.items()
        ]

    def _dimension(self, one: Measured, level: float, taken: Sequence[Box]) -> list[Ink]:
        """The line with its heads and its figure, at the first of its places that is free."""
        low, high = sorted((one.at, one.datum))
        room_in = self._run(one.words) + 2.4 * HEAD_IN
        if high - low >= room_in:
            places = [low + share * (high - low) for share in _SHARES]
            half = 0.5 * room_in
            places = [min(max(place, low + half), high - half) for place in places]
            figure = self._free(one.words, places, level, taken)
            heads = (self._head(low, level, -1.0), self._head(high, level, 1.0))
            return [*self._parted(low, high, level, figure), *heads, figure]
        tail, half = 2.0 * HEAD_IN, 0.5 * self._run(one.words)
        beyond = [high + tail + half, low - tail - half]
        beyond += [high + tail + half + step * HEAD_IN for step in range(1, 12)]
        figure = self._free(one.words, beyond, level, taken)
        reach = self._middle(figure)
        left, right = min(low - tail, reach + half), max(high + tail, reach - half)
        lines = [self._line(left, low, level), self._line(high, right, level)]
        if self.standard == "iso":
            left, right = min(low - tail, reach - half), max(high + tail, reach + half)
            lines = [self._line(left, right, level)]
        return [*lines, self._head(low, level, 1.0), self._head(high, level, -1.0), figure]

    def _parted(self, low: float, high: float, level: float, figure: Text) -> list[Ink]:
        """The dimension line, broken round its figure where that stands in it."""
        if self.standard == "iso":
            return [self._line(low, high, level)]
        middle, half = self._middle(figure), 0.5 * self._run(figure.words)
        return [self._line(low, middle - half, level), self._line(middle + half, high, level)]

    def _free(self, words: str, places: Sequence[float], level: float, taken: Sequence[Box]) -> Text:
        figures = [self._figure(words, place, level) for place in places]
        free = (one for one in figures if not any(one.box().touches(box) for box in taken))
        return next(free, figures[0])

    def _figure(self, words: str, at: float, level: float) -> Text:
        height = self.letter_in
        if self.standard == "asme":
            x, y = self._place(at, level)
            return Text((x, y - 0.5 * height), words, height, anchor=Anchor.MIDDLE, css="dimension")
        angle = 0.0 if self.along == "x" else 90.0
        place = self._place(at, level + 0.05 if self.along == "x" else level - 0.05)
        return Text(place, words, height, anchor=Anchor.MIDDLE, angle_deg=angle, css="dimension")

    def _middle(self, figure: Text) -> float:
        """Where along its line a figure stands [in]."""
        across, up = figure.box().middle
        if self.along == "x":
            return across
        return figure.at[1] + 0.5 * self.letter_in if self.standard == "asme" else up

    def _run(self, words: str) -> float:
        """How much of its line a figure takes, with its break [in]."""
        is_level = self.along == "x" or self.standard == "iso"
        return (self._width(words) if is_level else self.letter_in) + 0.12

    def _width(self, words: str) -> float:
        return text_width_in(words, height_in=self.letter_in)

    def _place(self, at: float, level: float) -> Point:
        return (at, level) if self.along == "x" else (level, at)

    def _line(self, start: float, end: float, level: float) -> Line:
        return self._drawn(start, level, end, level)

    def _drawn(self, start: float, level: float, end: float, other: float) -> Line:
        ends = self._place(start, level), self._place(end, other)
        return Line(ends, Layer.DIMENSION, css="dimension")

    def _head(self, at: float, level: float, direction: float) -> Ink:
        along = (direction, 0.0) if self.along == "x" else (0.0, direction)
        return arrowhead(self._place(at, level), along, HEAD_IN, "dimension")

    def _broken(self, line: Line) -> Iterator[Line]:
        """An extension line, broken at the holes that it meets."""
        start, end = line.points[0], line.points[1]
        met = [box for box in self.clear if box.touches(line.box())]
        for run in outside((start, end), met):
            if math.dist(*run) > _GAP_IN:
                yield Line(run, line.layer, line.style, line.css)
