"""Numbers of rivets on a picture of loads: none on another, on a rivet or on an arrow."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

import numpy as np
from numpy.typing import NDArray

from hatchwright.drawings.boxes import Box, sides_of, touching
from hatchwright.drawings.lettering import text_width_in
from hatchwright.drawings.picture import Picture

Floats = NDArray[np.float64]

_HEIGHT = 7.0
_RING, _ARROW, _ROOM = 4.0, 2.0, 1.5
_STEP = 4.0
_DISTANCES = (6.0, 12.0, 20.0, 30.0, 42.0, 56.0)
_NEAR = 12.0
_ANGLES = np.arange(24) * 2 * np.pi / 24


def number_rivets(picture: Picture, places: Floats, tips: Floats, labels: Mapping[int, str]) -> None:
    """Letter what is said of some rivets, as near to each as there is room; a thin line leads to one farther off.

    Args:
        places: of all rivets, shape (n, 2) [units].
        tips: ends of their arrows, shape (n, 2) [units].
        labels: words of a rivet by its row in places.
    """
    taken = sides_of(_ink(places, tips))
    for row, words in labels.items():
        boxes, distances = _candidates(places[row], text_width_in(words, height_in=_HEIGHT))
        best = int(np.argmin(touching(boxes, taken).sum(axis=1)))
        left, bottom, right, top = boxes[best]
        middle = np.array([left + right, bottom + top]) / 2
        if distances[best] > _NEAR:
            picture.line([places[row], middle], width=0.5)
        picture.words(
            (float(middle[0]), float(bottom) + _ROOM), words, height=_HEIGHT, anchor="middle", halo=True
        )
        taken = np.vstack([taken, boxes[best]])


def _ink(places: Floats, tips: Floats) -> Iterator[Box]:
    """Boxes of every rivet and along its arrow."""
    for place, tip in zip(places, tips, strict=True):
        yield Box(*place, *place).grown(_RING)
        count = 1 + int(np.hypot(*(tip - place)) / _STEP)
        for point in (place + share * (tip - place) for share in np.linspace(0.0, 1.0, count + 1)):
            yield Box(*point, *point).grown(_ARROW)


def _candidates(place: Floats, width: float) -> tuple[Floats, Floats]:
    """Boxes of a number round its rivet, the nearest first, and how far off each is."""
    half = np.array([width / 2 + _ROOM, _HEIGHT / 2 + _ROOM])
    toward = np.column_stack([np.cos(_ANGLES), np.sin(_ANGLES)])
    middles = np.concatenate([place + toward * (half + distance) for distance in _DISTANCES])
    return np.hstack([middles - half, middles + half]), np.repeat(_DISTANCES, len(_ANGLES))
