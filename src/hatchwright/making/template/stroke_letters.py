"""Letters of single strokes for a tool that engraves: capitals, figures and signs on a grid four wide and six high.

Drawn for this project; small letters become capitals, and a letter that is not here becomes an upright box.
"""

from __future__ import annotations

import math

Mark = tuple[tuple[float, float], ...]
"""An open run of straight strokes, two points or more (x, y) [in]."""

_HIGH = 6.0
_STEP = 5.5
_UNKNOWN = "0006464000"
_GLYPHS = {
    "A": "002640 1333",
    "B": "000636454433 0333424130 3000",
    "C": "4536160501103041",
    "D": "00062644422000",
    "E": "46060040 0333",
    "F": "460600 0333",
    "G": "453616050110304143 4323",
    "H": "0006 4046 0343",
    "I": "2026 1030 1636",
    "J": "0110304146",
    "K": "0006 460340",
    "L": "060040",
    "M": "0006234640",
    "N": "00064046",
    "O": "100105163645413010",
    "P": "00063645443303",
    "Q": "100105163645413010 2240",
    "R": "00063645443303 2340",
    "S": "453616050413334241301001",
    "T": "0646 2026",
    "U": "060110304146",
    "V": "062046",
    "W": "0610233046",
    "X": "0046 0640",
    "Y": "062346 2320",
    "Z": "06460040",
    "0": "100105163645413010 1135",
    "1": "152620 1030",
    "2": "05163645440040",
    "3": "051636454433 13334241301001",
    "4": "36300242",
    "5": "4606033342413010 1001",
    "6": "45361605011030414233 3302",
    "7": "064610",
    "8": "1304051636454433 3313 13020110304142 4233",
    "9": "0110304145361605041333 3344",
    ".": "2021",
    ",": "2110",
    ":": "2122 2425",
    ";": "2110 2425",
    "-": "1333",
    "+": "1333 2224",
    "=": "1232 1434",
    "/": "0046",
    "(": "36252130",
    ")": "16252110",
    "#": "1016 3036 0242 0444",
    "'": "2624",
    '"': "1614 3634",
    "*": "1135 1531",
    "%": "0046 0515 3141",
    " ": "",
}


def lettered(
    words: str, *, at: tuple[float, float], width_in: float, height_in: float, angle_deg: float = 0.0
) -> tuple[Mark, ...]:
    """Letter one line in single strokes.

    Args:
        at: foot of its beginning (x, y) [in].
        width_in: room that the line takes, which its letters are spread over [in].
        angle_deg: turned left about its beginning [deg].
    """
    across = width_in / (_STEP * len(words)) if words else 0.0
    up = height_in / _HIGH
    cos, sin = math.cos(math.radians(angle_deg)), math.sin(math.radians(angle_deg))
    marks: list[Mark] = []
    for place, letter in enumerate(words.upper()):
        for run in _GLYPHS.get(letter, _UNKNOWN).split():
            grid = [
                ((place * _STEP + int(x)) * across, int(y) * up)
                for x, y in zip(run[::2], run[1::2], strict=True)
            ]
            marks.append(tuple((at[0] + x * cos - y * sin, at[1] + x * sin + y * cos) for x, y in grid))
    return tuple(marks)
