"""What an identity mark looks like, by the published dictionary of the library that finds it again."""

from __future__ import annotations

from typing import Any

import numpy as np
import numpy.typing as npt

CELLS = 6
"""Cells across a mark, its black border of one cell included."""


def mark_cells(identity: int) -> npt.NDArray[np.bool_]:
    """The cells of a mark that are black, from the upper left, shape (6, 6).

    Source: dictionary DICT_4X4_50 of OpenCV; method: Garrido-Jurado et al., Pattern Recognition 47 (2014) 2280.
    """
    import cv2

    dictionary = cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_4X4_50)
    drawn: Any = cv2.aruco.generateImageMarker(dictionary, identity, CELLS)
    return np.asarray(drawn) < 128
