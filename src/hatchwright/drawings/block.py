"""Blocks: ink laid out downward from its own top left corner, to be set down on a sheet or a page."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from hatchwright.drawings.ink import Ink, Line, Text, moved
from hatchwright.drawings.layers import Layer, Style
from hatchwright.drawings.lettering import SMALL_IN, wrapped

_LINE_RATIO = 1.7
_SAMPLE_IN = 0.92


@dataclass(frozen=True, slots=True)
class Block:
    """Ink whose top left corner is the origin.

    Args:
        parts: the ink; x from 0 to the width, y from 0 down to minus the height [in].
        width_in: width [in].
        height_in: height [in].
    """

    parts: tuple[Ink, ...]
    width_in: float
    height_in: float

    def at(self, left: float, top: float) -> tuple[Ink, ...]:
        """The ink with the block's top left corner at a point [in]."""
        return moved(self.parts, right_in=left, up_in=top)


def paragraph(
    words: Sequence[str], *, width_in: float, height_in: float = SMALL_IN, bold: bool = False
) -> Block:
    """Lines of text, each broken to the width.

    Args:
        words: one entry a line or a note.
        width_in: width of the column [in].
        height_in: height of a capital [in].
        bold: lettered bold.
    Returns:
        Block: the lines below each other.
    """
    room = width_in / 1.27 if bold else width_in
    lines = [line for entry in words for line in wrapped(entry, height_in=height_in, width_in=room)]
    texts = tuple(
        Text((0.0, -height_in * (1.0 + _LINE_RATIO * row)), line, height_in, bold=bold)
        for row, line in enumerate(lines)
    )
    return Block(texts, width_in, height_in * _LINE_RATIO * len(lines))


def notes(words: Sequence[str], *, width_in: float) -> Block:
    """The numbered notes of a sheet.

    Args:
        words: one entry a note.
        width_in: width of the column [in].
    Returns:
        Block: a heading and the notes, each with its number.
    """
    numbered = [f"{number}. {note}" for number, note in enumerate(words, start=1)]
    return stacked(
        (paragraph(["NOTES"], width_in=width_in, bold=True), paragraph(numbered, width_in=width_in))
    )


def legend(meanings: Sequence[tuple[Style, str]], *, width_in: float, height_in: float = 0.1) -> Block:
    """What each line style of the sheet stands for, with a sample of it.

    Args:
        meanings: style and words, in the order to print.
        width_in: width of the block [in].
        height_in: height of a capital [in].
    Returns:
        Block: samples and words, in as many columns as fit.
    """
    widest = max((Text((0, 0), words, height_in).width_in for _, words in meanings), default=0.0)
    cell = _SAMPLE_IN + 0.1 + widest + 0.25
    columns = max(1, int(width_in / cell))
    rows = -(-len(meanings) // columns)
    pitch = 2.0 * height_in
    parts: list[Ink] = []
    for place, (style, words) in enumerate(meanings):
        x, y = place // rows * cell, -height_in - place % rows * pitch
        level = y + 0.5 * height_in
        parts += _sample(style, x, level, height_in)
        parts.append(Text((x + _SAMPLE_IN + 0.1, y), words, height_in))
    return Block(tuple(parts), width_in, pitch * rows)


def _sample(style: Style, x: float, level: float, height_in: float) -> list[Ink]:
    """A length of the line, or for a keep-out a strip of its hatching."""
    if style is not Style.KEEP_OUT:
        return [Line(((x, level), (x + _SAMPLE_IN, level)), Layer.TEXT, style)]
    low, high = level - 0.6 * height_in, level + 0.6 * height_in
    edges = [Line(((x, y), (x + _SAMPLE_IN, y)), Layer.TEXT, style) for y in (low, high)]
    slants = [
        Line(((left, low), (left + high - low, high)), Layer.TEXT, style)
        for left in (x + step * height_in for step in range(int(_SAMPLE_IN / height_in)))
    ]
    return [*edges, *slants]


def stacked(blocks: Sequence[Block], *, gap_in: float = 0.08) -> Block:
    """Several blocks as one, below each other.

    Args:
        blocks: from the top down.
        gap_in: between two of them [in].
    Returns:
        Block: as wide as the widest.
    """
    parts: list[Ink] = []
    top = 0.0
    for block in blocks:
        parts.extend(block.at(0.0, top))
        top -= block.height_in + gap_in
    return Block(
        tuple(parts), max((block.width_in for block in blocks), default=0.0), max(-top - gap_in, 0.0)
    )
