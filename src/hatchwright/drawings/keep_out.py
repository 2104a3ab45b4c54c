"""Keep-outs: regions where nothing may be cut or drilled, told by hatching and not by colour."""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import lru_cache

from hatchwright.drawings.ink import Ink, Layer, Line, Outline, Style
from hatchwright.errors import GeometryError
from hatchwright.said import said
from hatchwright.shapes.profile import Arc, Loop
from hatchwright.shapes.profile import Line as Straight


@lru_cache(maxsize=64)  # the same keep-outs are drawn at every key while an opening is being entered
def hatched(
    loop: Loop, *, spacing_in: float = 0.15, angle_deg: float = 45.0, css: str = "", part: str = ""
) -> tuple[Ink, ...]:
    """A keep-out: the edge of a region and slanting lines inside it, true arcs respected."""
    if not spacing_in > 0.0:
        raise GeometryError(said("error.hatch"), where=said("error.of_hatch"))
    edge = Outline(loop, Layer.KEEP_OUT, Style.KEEP_OUT, css, part)
    turn = complex(math.cos(math.radians(angle_deg)), math.sin(math.radians(angle_deg)))
    level = loop.transformed(((turn.real, turn.imag), (-turn.imag, turn.real)))
    _, bottom, _, top = level.bounds
    pieces = tuple(level.pieces())
    count = math.ceil((top - bottom) / spacing_in)
    lines = []
    for step in range(count):
        y = bottom + (step + 0.4987) * spacing_in  # off the round numbers on which vertices lie
        across = _crossings(pieces, y)
        for left, right in zip(across[::2], across[1::2], strict=False):
            a, b = complex(left, y) * turn, complex(right, y) * turn
            ends = ((a.real, a.imag), (b.real, b.imag))
            lines.append(Line(ends, Layer.KEEP_OUT, Style.KEEP_OUT, css, part))
    return (edge, *lines)


def _crossings(pieces: Sequence[Straight | Arc], y: float) -> list[float]:
    """Where a level line crosses a closed run of pieces, from left to right."""
    found = []
    for piece in pieces:
        (x0, y0), (x1, y1) = piece.start, piece.end
        if not isinstance(piece, Arc):
            if (y0 <= y) != (y1 <= y):
                found.append(x0 + (y - y0) / (y1 - y0) * (x1 - x0))
            continue
        rise = y - piece.center[1]
        if abs(rise) >= piece.radius_in:
            continue
        half_chord = math.sqrt(piece.radius_in**2 - rise**2)
        for x in (piece.center[0] - half_chord, piece.center[0] + half_chord):
            side_of_chord = (x1 - x0) * (y - y0) - (y1 - y0) * (x - x0)
            if side_of_chord * piece.sweep_rad <= 0.0:  # a left turn bulges to the right of its chord
                found.append(x)
    return sorted(found)
