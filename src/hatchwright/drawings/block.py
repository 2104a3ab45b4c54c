"""Blocks: ink laid out downward from its own top left corner, to be set down on a sheet or a page.

Heights of lettering are those of a capital, widths those of the column [in].
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import accumulate, chain

from msgspec import Struct
from msgspec.structs import replace

from hatchwright.drawings.ink import Ink, Layer, Line, Style, Text, moved
from hatchwright.drawings.lettering import SMALL_IN, wrapped
from hatchwright.said import said
from hatchwright.words.tell import tell

_LINE_RATIO = 1.7
_SAMPLE_IN = 0.8
_PAD_IN = 0.08


class Block(Struct, frozen=True):
    """Ink whose top left corner is the origin.

    Args:
        parts: the ink; x from 0 to the width, y from 0 down to minus the height [in].
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
    """Texts below each other, each broken to the width."""
    room = width_in / 1.27 if bold else width_in
    lines = [line for entry in words for line in wrapped(entry, height_in=height_in, width_in=room)]
    texts = tuple(
        Text((0.0, -height_in * (1.0 + _LINE_RATIO * row)), line, height_in, bold=bold)
        for row, line in enumerate(lines)
    )
    return Block(texts, width_in, height_in * _LINE_RATIO * len(lines))


def trimmed(block: Block) -> Block:
    """The same ink in a block no wider than it is."""
    return replace(block, width_in=max((part.box().right for part in block.parts), default=0.0))


def notes_block(words: Sequence[str], *, width_in: float, height_in: float = SMALL_IN) -> Block:
    """The notes of a sheet under their heading, each with its number."""
    numbered = [f"{number}. {note}" for number, note in enumerate(words, start=1)]
    heading = paragraph([tell(said("sheet.notes"))], width_in=width_in, height_in=height_in, bold=True)
    return stacked((heading, paragraph(numbered, width_in=width_in, height_in=height_in)))


def stop_block(words: str, *, width_in: float, height_in: float) -> Block:
    """The stop box: what must be settled before the aircraft is cut, in a thick frame.

    Args:
        words: as from `words.verdict.stop_text`; "" makes a block of no height.
    """
    if not words:
        return Block((), width_in, 0.0)
    text = paragraph([words], width_in=width_in - 2.0 * _PAD_IN, height_in=height_in, bold=True)
    foot = -(text.height_in + 2.0 * _PAD_IN - 0.7 * height_in)
    corners = ((0.0, 0.0), (width_in, 0.0), (width_in, foot), (0.0, foot), (0.0, 0.0))
    frame = Line(corners, Layer.TEXT, Style.FINISHED, "stop-box")
    return Block((frame, *text.at(_PAD_IN, -_PAD_IN)), width_in, -foot)


def legend_block(meanings: Sequence[tuple[Style, str]], *, width_in: float, height_in: float = 0.1) -> Block:
    """What each line style of the sheet stands for, with a sample of it, as many in a row as fit."""
    entries = []
    for style, words in meanings:
        text = Text((_SAMPLE_IN + height_in, -height_in), words, height_in)
        sample = _sample(style, -0.5 * height_in, height_in)
        entries.append(Block((*sample, text), text.box().right + 2.0 * height_in, 2.0 * height_in))
    return stacked(rows_of(entries, width_in=width_in, gap_in=0.0), gap_in=0.0)


def _sample(style: Style, level: float, height_in: float) -> list[Ink]:
    """A length of the line, or for a keep-out a strip of its hatching."""
    if style is not Style.KEEP_OUT:
        return [Line(((0.0, level), (_SAMPLE_IN, level)), Layer.TEXT, style)]
    low, high = level - 0.6 * height_in, level + 0.6 * height_in
    edges = [Line(((0.0, y), (_SAMPLE_IN, y)), Layer.TEXT, style) for y in (low, high)]
    starts = (step * height_in for step in range(int(_SAMPLE_IN / height_in)))
    return [*edges, *(Line(((x, low), (x + high - low, high)), Layer.TEXT, style) for x in starts)]


def rows_of(blocks: Sequence[Block], *, width_in: float, gap_in: float) -> list[Block]:
    """Blocks side by side, as many in a row as fit but at least one; each row as one block."""
    rows: list[list[Block]] = []
    room = 0.0
    for block in blocks:
        if not rows or room < block.width_in:
            rows.append([])
            room = width_in
        rows[-1].append(block)
        room -= block.width_in + gap_in
    made = []
    for row in rows:
        lefts = [*accumulate((block.width_in + gap_in for block in row), initial=0.0)]
        parts = chain.from_iterable(block.at(left, 0.0) for block, left in zip(row, lefts, strict=False))
        made.append(Block(tuple(parts), lefts[-1] - gap_in, max(block.height_in for block in row)))
    return made


def stacked(blocks: Sequence[Block], *, gap_in: float = 0.08) -> Block:
    """Several blocks as one, below each other."""
    parts: list[Ink] = []
    top = 0.0
    for block in blocks:
        parts.extend(block.at(0.0, top))
        top -= block.height_in + gap_in
    width_in = max((block.width_in for block in blocks), default=0.0)
    return Block(tuple(parts), width_in, max(-top - gap_in, 0.0))
