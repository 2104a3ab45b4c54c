"""Finding the printed frame in a picture by its identity marks: which one, which way up, where about.

Method: docs/theory/scan.md, section 2.
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np
from msgspec import Struct
from msgspec.structs import replace

from hatchwright.errors import ScanError
from hatchwright.inspection.scan.frame import FRAMES, MARKER_IN, ScanFrame, card_number
from hatchwright.inspection.scan.picture import Picture
from hatchwright.said import Amount
from hatchwright.shapes.pieces import Floats

_MARK_DPI = 220.0
"""Resolution of the copy that marks are looked for in: ten pixels a cell [1/in]. Own choice, no source."""

_DPI_OFF = 0.03
"""By how much the resolution that the card gives may differ from the one stated [-]."""

_MOST_TURNED_DEG = 5.0
_MOST_SKEWED = 0.004
"""By how much two opposite sides of the card may differ in a picture without perspective [-]. Own choice, no source."""

_LEAST_CONTRAST = 0.2
"""Of light between paper and ink, full scale 1 [-]. Own choice, no source."""

_BURNT = 0.25
"""Share of a picture at its highest gray, above which no frame can be seen in it [-]. Own choice, no source."""

_CORNERS = 0.5 * MARKER_IN * np.array([(-1.0, 1.0), (1.0, 1.0), (1.0, -1.0), (-1.0, -1.0)])
"""Of a mark, clockwise from its upper left [in]."""


class Card(Struct, frozen=True):
    """A frame found in a picture.

    Args:
        picture: turned so that the card stands upright.
        to_pixel: from (x, y, 1) [in] to column and line, shape (2, 3); a first guess.
        is_quartered: whether the picture was turned by an odd number of quarters, so that the sensor, which lies across
            the picture, lies along the card's y.
        number: of the card, None where its mark is not in the picture.
    """

    picture: Picture
    frame: ScanFrame
    to_pixel: Floats
    number: int | None
    is_quartered: bool = False

    @property
    def dpi(self) -> tuple[float, float]:
        """Pixels an inch along columns and along lines [1/in]."""
        columns, lines = np.hypot(self.to_pixel[:, 0], self.to_pixel[:, 1])
        return float(columns), float(lines)

    @property
    def turned_deg(self) -> float:
        """How far the card lies askew, counterclockwise [deg]."""
        return math.degrees(math.atan2(-self.to_pixel[1, 0], self.to_pixel[0, 0]))

    def pixels(self, points: Floats) -> Floats:
        """Where points (n, 2) of the card [in] lie in the picture, column and line."""
        placed: Floats = points @ self.to_pixel[:, :2].T + self.to_pixel[:, 2]
        return placed


def find_card(picture: Picture, *, dpi: tuple[float, float]) -> Card:
    """Find the frame, and turn the picture by quarters until it stands upright.

    Args:
        dpi: as stated, along columns and lines [1/in].
    Raises:
        ScanError: no card or not all its marks, mirrored, askew, seen in perspective, or at another resolution.
    """
    seen = _marks(picture, dpi)
    if not seen:
        flipped = Picture(np.ascontiguousarray(picture.grays[:, ::-1]), picture.dpi)
        if _marks(flipped, dpi):
            raise ScanError.saying("scan.mirrored")
        burnt = float(np.mean(picture.grays == np.iinfo(picture.grays.dtype).max))
        if burnt > _BURNT:
            raise ScanError.saying("scan.clipped", share=Amount(100.0 * burnt, "%"))
        raise ScanError.saying("scan.no_card")
    frame, count = _frame_of(seen)
    quarters, turned_deg = _quarters(next(seen[one] for one, _ in frame.markers if one in seen))
    if count < len(frame.markers):
        _refuse_turned(turned_deg)
        _refuse_faint(picture, seen)
        raise ScanError.saying("scan.markers", seen=count)
    if quarters:
        picture, dpi = picture.turned(quarters), dpi[::-1] if quarters % 2 else dpi
        seen = _marks(picture, dpi)
    places = np.vstack([np.array(at) + _CORNERS for _, at in frame.markers])
    if any(identity not in seen for identity, _ in frame.markers):
        raise ScanError.saying("scan.markers", seen=sum(identity in seen for identity, _ in frame.markers))
    pixels = np.vstack([seen[identity] for identity, _ in frame.markers])
    fitted = np.asarray(
        np.linalg.lstsq(np.column_stack([places, np.ones(len(places))]), pixels, rcond=None)[0],
        dtype=np.float64,
    )
    card = Card(picture, frame, fitted.T, None, bool(quarters % 2))
    card = replace(card, number=_number(card, seen))
    _refuse_photo(np.array([seen[identity].mean(axis=0) for identity, _ in frame.markers]))
    _refuse_pose(card, dpi)
    return card


def _marks(picture: Picture, dpi: tuple[float, float]) -> dict[int, Floats]:
    """The corners of each mark, clockwise from its own upper left, column and line in the picture."""
    import cv2

    detector: Any = cv2.aruco.ArucoDetector(cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_4X4_50))
    lines, columns = picture.grays.shape
    width, height = (
        max(16, round(size * min(1.0, _MARK_DPI / rate)))
        for size, rate in zip((columns, lines), dpi, strict=True)
    )
    small: Any = cv2.resize(picture.grays, (width, height), interpolation=cv2.INTER_AREA)
    if small.dtype == np.uint16:
        small = (small // 257).astype(np.uint8)
    corners, identities, _ = detector.detectMarkers(small)
    if identities is None:
        return {}
    ratio = np.array([columns / width, lines / height])
    # In the small copy a pixel's middle is a whole number too: half a pixel is taken off before the ratio and after.
    placed = [(np.asarray(one, dtype=np.float64).reshape(4, 2) + 0.5) * ratio - 0.5 for one in corners]
    return dict(zip((int(one) for one in np.ravel(identities)), placed, strict=True))


def _frame_of(seen: dict[int, Floats]) -> tuple[ScanFrame, int]:
    """The frame that most marks belong to, and how many of its corners' they are."""
    counts = {name: sum(identity in seen for identity, _ in frame.markers) for name, frame in FRAMES.items()}
    name = max(counts, key=lambda one: counts[one])
    if counts[name] == 0:
        raise ScanError.saying("scan.no_card")
    return FRAMES[name], counts[name]


def _quarters(corners: Floats) -> tuple[int, float]:
    """Quarter turns counterclockwise that set a mark upright, and what is left askew then [deg]."""
    column, line = corners[1] - corners[0]
    turned_deg = math.degrees(math.atan2(-line, column))
    quarters = round(turned_deg / 90.0)
    return -quarters % 4, turned_deg - 90.0 * quarters


def _refuse_faint(picture: Picture, seen: dict[int, Floats]) -> None:
    """Marks that are faint are found by chance only."""
    corners = next(iter(seen.values()))
    first, last = np.floor(corners.min(axis=0)).astype(int), np.ceil(corners.max(axis=0)).astype(int)
    margin = (last - first) // 6
    low, high = np.maximum(first - margin, 0), last + margin
    light = picture.light[picture.grays[low[1] : high[1], low[0] : high[0]]]
    refuse_contrast(float(np.percentile(light, 90.0)), float(np.percentile(light, 20.0)))


def refuse_contrast(paper: float, ink: float) -> None:
    """Refuse a card whose ink is about as bright as its paper, in light of full scale 1 [-]."""
    if paper - ink < _LEAST_CONTRAST:
        share, least = Amount(100.0 * (paper - ink), "%"), Amount(100.0 * _LEAST_CONTRAST, "%")
        raise ScanError.saying("scan.card_contrast", share=share, least=least)


def _number(card: Card, seen: dict[int, Floats]) -> int | None:
    """The number told by the mark that lies where the card's number does."""
    at = card.pixels(np.array([card.frame.number_at]))[0]
    near = MARKER_IN * min(card.dpi)
    numbers = (
        card_number(one) for one, corners in seen.items() if math.dist(corners.mean(axis=0), at) < near
    )
    return next((number for number in numbers if number is not None), None)


def _refuse_photo(centers: Floats) -> None:
    """Opposite sides of a card on the glass are alike, however the scanner stretches; in a photo they are not."""
    sides = np.hypot(*(np.roll(centers, -1, axis=0) - centers).T)
    skewed = max(abs(sides[0] / sides[2] - 1.0), abs(sides[1] / sides[3] - 1.0))
    if skewed > _MOST_SKEWED:
        raise ScanError.saying("scan.perspective", share=Amount(100.0 * float(skewed), "%"))


def _refuse_turned(turned_deg: float) -> None:
    if abs(turned_deg) > _MOST_TURNED_DEG:
        turned, most = Amount(abs(turned_deg), "deg"), Amount(_MOST_TURNED_DEG, "deg")
        raise ScanError.saying("scan.turned", turned=turned, most=most)


def _refuse_pose(card: Card, dpi: tuple[float, float]) -> None:
    _refuse_turned(card.turned_deg)
    for found, stated in zip(card.dpi, dpi, strict=True):
        if abs(found / stated - 1.0) > _DPI_OFF:
            raise ScanError.saying("scan.dpi_differs", found=round(found), stated=round(stated))
