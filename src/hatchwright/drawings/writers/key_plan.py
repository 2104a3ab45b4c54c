"""The key plan: a small picture of the edges and holes with the tiles drawn over it."""

from __future__ import annotations

import numpy as np

from hatchwright.drawings.block import Block
from hatchwright.drawings.boxes import Box, Floats, meeting
from hatchwright.drawings.ink import Anchor, Circle, Ink, Layer, Line, Outline, Text, moved
from hatchwright.drawings.sheet import Sheet
from hatchwright.drawings.writers.tiling import Tiling, tile_name
from hatchwright.said import said
from hatchwright.words.tell import tell

_TILE_LETTER_IN = 0.09
_HEAD_IN = 0.16


def key_plan(sheet: Sheet, tiling: Tiling, *, within_in: tuple[float, float]) -> Block:
    """The plan, no larger than a width and a height [in]."""
    tiles = {place: tiling.tile(*place) for place in tiling.kept}
    whole = Box(
        min(tile.left for tile in tiles.values()),
        min(tile.bottom for tile in tiles.values()),
        max(tile.right for tile in tiles.values()),
        max(tile.top for tile in tiles.values()),
    )
    words = Text((0.0, -0.1), tell(said("print.key_plan")), 0.08, bold=True)
    scale = min(within_in[0] / whole.width_in, (within_in[1] - _HEAD_IN) / whole.height_in)
    small = moved(
        [part for part in sheet.parts() if isinstance(part, Outline | Circle)],
        right_in=-whole.left * scale,
        up_in=-whole.top * scale - _HEAD_IN,
        scale_ratio=scale,
    )
    edges = [part.loop.points(0.02) for part in small if isinstance(part, Outline)]
    centers = np.array([part.center for part in small if isinstance(part, Circle)]).reshape(-1, 2)
    drawn = np.concatenate([*edges, centers])
    dots = np.hstack([drawn, drawn])
    parts: list[Ink] = [words, *small]
    for place, tile in tiles.items():
        left, right = ((x - whole.left) * scale for x in (tile.left, tile.right))
        bottom, top = ((y - whole.top) * scale - _HEAD_IN for y in (tile.bottom, tile.top))
        box = Box(left, bottom, right, top)
        parts += (Line(box.corners, Layer.CHECK), _tile_label(tile_name(*place), box, dots))
    return Block(
        tuple(parts), max(whole.width_in * scale, words.width_in), whole.height_in * scale + _HEAD_IN
    )


def _tile_label(name: str, tile: Box, dots: Floats) -> Text:
    """The name of a tile in that of its corners where it hides least of the drawing, of which some dots are given as
    boxes, shape (n, 4) [in]."""
    high, low = tile.top - _TILE_LETTER_IN - 0.05, tile.bottom + 0.05
    corners = [
        Text((x, y), name, _TILE_LETTER_IN, bold=True, anchor=anchor)
        for y in (high, low)
        for x, anchor in ((tile.left + 0.05, Anchor.START), (tile.right - 0.05, Anchor.END))
    ]
    return min(corners, key=lambda text: np.count_nonzero(meeting(dots, np.array(text.box()))))
