"""What lies in the frame's window: part and background told apart, and the pixels along each edge.

Method: docs/theory/scan.md, section 4.
"""

from __future__ import annotations

from typing import Any

import numpy as np
import numpy.typing as npt
from msgspec import Struct

from hatchwright.errors import ScanError
from hatchwright.inspection.scan.card import Card
from hatchwright.inspection.scan.dots import Dots
from hatchwright.inspection.scan.picture import Lights
from hatchwright.said import Amount
from hatchwright.shapes.pieces import Floats

Mask = npt.NDArray[np.bool_]

_EDGE_IN = 0.05
"""Strip along the window's edge that is not looked at: where it was cut by hand, and its shadow [in]."""

_STRIP_IN = 0.04
"""Strip within that in which only background may lie [in]."""

_DARKEST_SHARE, _LEAST_CONTRAST = 0.35, 0.15
"""Background over paper, and part over background, as shares of the card's contrast [-]. Own choice, no source."""

_UNDER_CARD = 0.02
_BRIGHT_STRIP = 0.6
"""Share of the strip that is bright where a part reaches under the card, and where all the background is [-]."""

_MOST_CLIPPED = 0.3
"""Share of the part's pixels that may stand at the highest gray [-]. Own choice, no source."""

_LEAST_HOLE_IN = 0.05
"""Smallest hole across that is looked at [in]."""

_LEAST_PART_IN = 0.5
_SECOND_PART = 0.02
"""Area of another bright piece over that of the part, above which there are two parts [-]."""

OPENING_IN = 1.0
"""An edge within the part is its opening from so far across [in]."""


class Seen(Struct, frozen=True):
    """The part in the window.

    Args:
        light: of the window's pixels, full scale 1, shape (lines, columns) [-].
        corner: column and line of its first pixel in the picture.
        outline: pixels of the part's edge in order, shape (n, 2), column and line of the window.
        inner: the same of each edge within the part, the largest first.
        contrast: light between part and background [-].
    """

    light: Lights
    corner: Floats
    outline: Floats
    inner: tuple[Floats, ...]
    contrast: float


def look_in(card: Card, dots: Dots) -> Seen:
    """Tell part from background.

    Raises:
        ScanError: bright background, no part, several, a part under the card, or one too pale or overexposed.
    """
    import cv2

    half = np.array(card.frame.half_in) - _EDGE_IN
    bounds = card.pixels(np.array([(-1, 1), (1, 1), (1, -1), (-1, -1)]) * half)
    first = np.maximum(np.floor(bounds.min(axis=0)).astype(int), 0)
    last = np.ceil(bounds.max(axis=0)).astype(int) + 1
    grays = card.picture.grays[first[1] : last[1], first[0] : last[0]]
    light = card.picture.light[grays]
    inside = _filled(bounds - first, light.shape)
    strip = inside & ~_filled(card.pixels(_corners(half - _STRIP_IN)) - first, light.shape)
    shown: Any = cv2.medianBlur((255.0 * np.sqrt(light)).astype(np.uint8), 5)
    _refuse_bright(float(np.median(shown[strip]) / 255.0) ** 2, dots)
    level = _level(shown[inside])
    bright = inside & (shown > level)
    _refuse_strip(float(np.mean(bright[strip])))
    metal = shown[bright]
    if not len(metal):
        raise ScanError.saying("scan.no_part")
    background = float(np.median(shown[inside & ~bright]) / 255.0) ** 2
    contrast = float(np.median(metal) / 255.0) ** 2 - background
    _refuse_pale(contrast, dots)
    top = np.iinfo(card.picture.grays.dtype).max
    clipped = float(np.mean(grays[bright] == top))
    if clipped > _MOST_CLIPPED:
        raise ScanError.saying("scan.clipped", share=Amount(100.0 * clipped, "%"))
    outline, inner = _edges(bright, card.dpi)
    return Seen(light, first.astype(float), outline, inner, contrast)


def _corners(half: Floats) -> Floats:
    corners: Floats = np.array([(-1, 1), (1, 1), (1, -1), (-1, -1)]) * half
    return corners


def _filled(corners: Floats, shape: tuple[int, ...]) -> Mask:
    import cv2

    mask: Any = np.zeros(shape, np.uint8)
    cv2.fillConvexPoly(mask, np.rint(corners).astype(np.int32), 1)
    return np.asarray(mask, dtype=bool)


def _level(shown: Any) -> float:
    """Gray that parts bright from dark best. Source: Otsu, IEEE Trans. SMC 9 (1979) 62."""
    import cv2

    level, _ = cv2.threshold(shown, 0.0, 255.0, cv2.THRESH_BINARY | cv2.THRESH_OTSU)
    return float(level)


def _refuse_bright(strip: float, dots: Dots) -> None:
    share = (strip - dots.ink) / (dots.paper - dots.ink)
    if share > _DARKEST_SHARE:
        told, most = Amount(100.0 * share, "%"), Amount(100.0 * _DARKEST_SHARE, "%")
        raise ScanError.saying("scan.bright_background", share=told, most=most)


def _refuse_strip(share: float) -> None:
    if share > _BRIGHT_STRIP:
        raise ScanError.saying("scan.no_part")
    if share > _UNDER_CARD:
        raise ScanError.saying("scan.part_under_card", share=Amount(100.0 * share, "%"))


def _refuse_pale(contrast: float, dots: Dots) -> None:
    share = contrast / (dots.paper - dots.ink)
    if share < _LEAST_CONTRAST:
        told, least = Amount(100.0 * share, "%"), Amount(100.0 * _LEAST_CONTRAST, "%")
        raise ScanError.saying("scan.part_contrast", share=told, least=least)


def _edges(bright: Mask, dpi: tuple[float, float]) -> tuple[Floats, tuple[Floats, ...]]:
    """The part's outline and the edges within it, each as a run of pixels."""
    import cv2

    found, tree = cv2.findContours(bright.astype(np.uint8), cv2.RETR_CCOMP, cv2.CHAIN_APPROX_NONE)
    square_px = dpi[0] * dpi[1]
    areas = np.array([cv2.contourArea(one) for one in found])
    parents = np.asarray(tree)[0][:, 3] if len(found) else np.zeros(0, int)
    outer = np.flatnonzero(parents < 0)
    outer = outer[np.argsort(-areas[outer])]
    if not len(outer) or areas[outer[0]] < _LEAST_PART_IN**2 * square_px:
        raise ScanError.saying("scan.no_part")
    if len(outer) > 1 and areas[outer[1]] > max(_SECOND_PART * areas[outer[0]], 0.05 * square_px):
        raise ScanError.saying("scan.two_parts", n=int(np.sum(areas[outer] > _SECOND_PART * areas[outer[0]])))
    least = 0.25 * np.pi * _LEAST_HOLE_IN**2 * square_px
    inner = np.flatnonzero((parents == outer[0]) & (areas > least))
    inner = inner[np.argsort(-areas[inner])]
    runs = tuple(np.asarray(found[one], dtype=np.float64).reshape(-1, 2) for one in (outer[0], *inner))
    return runs[0], runs[1:]
