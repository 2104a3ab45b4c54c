"""The printed frame as it comes out of a printer: dots, identity marks and cut window, drawn from published geometry.

Origin in the middle of the window, x right, y up as seen on the printed face [in]. The bits of the marks are OpenCV's
predefined dictionary of 4 x 4 bits, 50 marks.
"""

from __future__ import annotations

import cv2
import msgspec
import numpy as np

from tests.scans.shapes import Values

HALVES = {"4x4": (2.0, 2.0), "5x5": (2.5, 2.5), "6x7": (3.0, 3.5)}
FIRST_MARK = {"4x4": 0, "5x5": 4, "6x7": 8}
BARS = {"4x4": 4.75, "5x5": 5.75, "6x7": 5.75}
NUMBER_MARK, DOT, PITCH, MARK = 12, 0.090, 0.250, 0.26
CELLS = 6
_DICTIONARY = cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_4X4_50)


class Mark(msgspec.Struct, frozen=True):
    """One identity mark: its cells, True where black, first row on top, shape (6, 6), and its middle [in]."""

    cells: np.ndarray
    x: float
    y: float


class Page(msgspec.Struct, frozen=True):
    """A printed page: how black it is, 0 to 1, first line on top, and where the middle of the window is on it [px]."""

    black: Values
    dpi: float
    middle: tuple[float, float]


class Card(msgspec.Struct, frozen=True):
    """A frame as drawn.

    Args:
        half: of the window, width and height [in].
        dots: middles of the black dots, shape (n, 2) [in].
        marks: at the four corners, and the number of the card.
        bar: length of both bars as drawn [in].
        page: the page that is printed instead of what these data say, where one is there.
    """

    half: tuple[float, float]
    dots: Values
    marks: tuple[Mark, ...]
    bar: float
    page: Page | None = None

    @property
    def reach(self) -> tuple[float, float]:
        """Half of what a scan of the frame shows at the least [in]."""
        return self.half[0] + 0.55, self.half[1] + 0.55


def card(window: str, *, number: int = 7) -> Card:
    """The frame round one of the windows."""
    a, b = HALVES[window]
    first = FIRST_MARK[window]
    corners = [(-1, 1), (1, 1), (1, -1), (-1, -1)]
    marks = [mark(first + i, x * (a + 0.25), y * (b + 0.25)) for i, (x, y) in enumerate(corners)]
    return Card(
        half=(a, b),
        dots=dots(a, b),
        marks=(*marks, mark(NUMBER_MARK + number, 0.0, b + 0.70)),
        bar=BARS[window],
    )


def dots(a: float, b: float) -> Values:
    """Middles of the dots of both rows on each side, shape (n, 2) [in]."""
    across, up = (PITCH * np.arange(-int(half / PITCH), int(half / PITCH) + 1) for half in (a, b))
    rows = [(x, s * (b + out)) for s in (-1, 1) for out in (0.125, 0.375) for x in across]
    columns = [(s * (a + out), y) for s in (-1, 1) for out in (0.125, 0.375) for y in up]
    return np.array(rows + columns)


def mark(number: int, x: float, y: float) -> Mark:
    """One mark of the dictionary, black where the cells are True."""
    return Mark(cells=cv2.aruco.generateImageMarker(_DICTIONARY, number, CELLS) == 0, x=x, y=y)
