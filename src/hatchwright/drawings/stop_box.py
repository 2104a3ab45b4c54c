"""The stop box: the one place where every paper that goes to the aircraft says what must be settled first."""

from __future__ import annotations

from hatchwright.drawings.block import Block, paragraph
from hatchwright.drawings.ink import Line
from hatchwright.drawings.layers import Layer, Style

_PAD_IN = 0.08


def stop_block(words: str, *, width_in: float, height_in: float) -> Block:
    """The words in a thick frame.

    Args:
        words: as from `words.verdict.stop_text`.
        height_in: height of a capital [in].
    Returns:
        Block: bold, broken to the width; of no height when there are no words.
    """
    if not words:
        return Block((), width_in, 0.0)
    text = paragraph([words], width_in=width_in - 2.0 * _PAD_IN, height_in=height_in, bold=True)
    foot = -(text.height_in + 2.0 * _PAD_IN - 0.7 * height_in)
    corners = ((0.0, 0.0), (width_in, 0.0), (width_in, foot), (0.0, foot), (0.0, 0.0))
    frame = Line(corners, Layer.TEXT, Style.FINISHED, "stop-box")
    return Block((frame, *text.at(_PAD_IN, -_PAD_IN)), width_in, -foot)
