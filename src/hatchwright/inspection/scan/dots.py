"""The places of the frame's dots in a picture, by the middle of their ink.

Method: docs/theory/scan.md, eq. 2.
"""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt
from msgspec import Struct

from hatchwright.errors import ScanError
from hatchwright.inspection.scan.card import Card, refuse_contrast
from hatchwright.inspection.scan.frame import DOT_IN
from hatchwright.said import Amount
from hatchwright.shapes.pieces import Floats

_HALF_IN = 0.085
"""Half the field that a dot's ink is weighed in; the window's edge lies beyond it [in]."""

_PASSES = 3
_LEAST_SHARE = 0.8
"""Of the dots that must be found [-]."""

_LEAST_GRAYS = 32
_FLOOR, _CEILING = 0.12, 0.88
"""Share of ink below which a pixel is paper, and above which it is ink [-]. Own choice, no source."""

_INK_LEAST, _INK_MOST = 0.6, 1.5
"""A dot's ink over that of a whole dot, within which it is one [-]. Own choice, no source."""


class Dots(Struct, frozen=True):
    """The dots that were found.

    Args:
        places: on the card as drawn, shape (n, 2) [in].
        pixels: column and line of their middles, shape (n, 2).
        paper: light of the card's paper, and of its ink, full scale 1 [-].
    """

    places: Floats
    pixels: Floats
    paper: float
    ink: float


def find_dots(card: Card) -> Dots:
    """Find the dots of a card.

    Raises:
        ScanError: too few of them, too little contrast, or too few grays to interpolate between.
    """
    half = round(_HALF_IN * min(card.dpi))
    at = card.pixels(card.frame.dots)
    lines, columns = card.picture.grays.shape
    margin = half + 4
    inside = (at > margin).all(axis=1) & (at < (columns - margin, lines - margin)).all(axis=1)
    _refuse_few(int(inside.sum()), len(at))
    places, at = card.frame.dots[inside], at[inside]
    window = np.arange(-half, half + 1)
    whole = math.pi / 4.0 * DOT_IN**2 * card.dpi[0] * card.dpi[1]
    light = card.picture.light
    for _ in range(_PASSES):
        corner = np.rint(at).astype(int)
        rows, cols = corner[:, 1, None] + window, corner[:, 0, None] + window
        rows, cols = np.clip(rows, 0, lines - 1), np.clip(cols, 0, columns - 1)
        grays = card.picture.grays[rows[:, :, None], cols[:, None, :]]
        field = light[grays].astype(np.float64)
        paper = np.percentile(field, 80.0, axis=(1, 2))
        ink = np.percentile(field, 4.0, axis=(1, 2))
        refuse_contrast(float(np.median(paper)), float(np.median(ink)))
        weight = _weights(field, paper, ink)
        mass = weight.sum(axis=(1, 2))
        safe = np.maximum(mass, 1e-9)
        shift = np.column_stack([(weight.sum(axis=1) @ window) / safe, (weight.sum(axis=2) @ window) / safe])
        at = corner + shift
    levels = len(np.unique(grays))
    if levels < _LEAST_GRAYS:
        raise ScanError.saying("scan.few_grays", levels=levels, least=_LEAST_GRAYS)
    strong = (paper - ink) > 0.5 * float(np.median(paper - ink))
    found = strong & (mass > _INK_LEAST * whole) & (mass < _INK_MOST * whole)
    _refuse_few(int(found.sum()), len(card.frame.dots))
    return Dots(places[found], at[found], float(np.median(paper[found])), float(np.median(ink[found])))


def _weights(field: Floats, paper: Floats, ink: Floats) -> npt.NDArray[np.float64]:
    """Share of ink of each pixel; the grain of the paper counts as none."""
    share = (paper[:, None, None] - field) / np.maximum(paper - ink, 1e-6)[:, None, None]
    return np.clip((share - _FLOOR) / (_CEILING - _FLOOR), 0.0, 1.0)


def _refuse_few(found: int, of: int) -> None:
    if found < _LEAST_SHARE * of:
        raise ScanError.saying("scan.dots", found=found, of=of, least=Amount(100.0 * _LEAST_SHARE, "%"))
