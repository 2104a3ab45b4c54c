"""The projection symbol: a truncated cone and its end view on one axis.

Circles beside the small end mean third angle, circles beside the large end first angle. Source of the rule: ISO
5456-2, restated; the proportions are from memory, unverified.
"""

from __future__ import annotations

from hatchwright.drawings.block import Block
from hatchwright.drawings.ink import Circle, Ink, Layer, Line, Style
from hatchwright.job.drawing import Projection

_SMALL, _LARGE, _LONG, _APART, _PAST = 1.0, 2.0, 2.0, 1.0, 0.3
"""Diameters of the ends, length of the cone, gap between the views, how far axes run past, in letter heights [-]."""


def projection_symbol(projection: Projection, *, letter_in: float) -> Block:
    """Draw the symbol for a height of lettering [in], the end view at the left of the cone."""
    h = letter_in
    hub = (_PAST + 0.5 * _LARGE) * h, -(_PAST + 0.5 * _LARGE) * h
    left, right = hub[0] + (0.5 * _LARGE + _APART) * h, hub[0] + (0.5 * _LARGE + _APART + _LONG) * h
    near, far = (_SMALL, _LARGE) if projection == "third angle" else (_LARGE, _SMALL)
    corners = (
        (left, hub[1] - 0.5 * near * h),
        (right, hub[1] - 0.5 * far * h),
        (right, hub[1] + 0.5 * far * h),
        (left, hub[1] + 0.5 * near * h),
    )
    ink: tuple[Ink, ...] = (
        *(Circle(hub, across * h, Layer.TEXT, Style.FINISHED) for across in (_SMALL, _LARGE)),
        Line((*corners, corners[0]), Layer.TEXT, Style.FINISHED),
        Line(((0.0, hub[1]), (right + _PAST * h, hub[1])), Layer.TEXT, Style.DIMENSION),
        Line(((hub[0], 0.0), (hub[0], 2.0 * hub[1])), Layer.TEXT, Style.DIMENSION),
    )
    return Block(ink, right + _PAST * h, -2.0 * hub[1])
