"""Lettering of drawings: the shipped fonts, how wide a text gets, and how it is made to fit.

Heights are heights of a capital letter, as drawing standards give them. Widths are those of the shipped font,
so that a dimension knows the break that its figure needs before any file is written.
"""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

FONTS = Path(__file__).parent / "fonts"
"""Folder of the shipped font files, with their licence."""

FAMILY = "DejaVu Sans"
"""The family that every writer letters in."""

CAPITAL_RATIO = 0.729
"""Height of a capital over the size of the font [-]. Source: glyph H of the shipped DejaVuSans.ttf, 2.37."""

BOLD_RATIO = 1.27
"""No bold letter is wider than its plain form by more than this [-]. Source: as `CAPITAL_RATIO`."""

SMALL_IN = 0.12
"""Least height of plain lettering on a sheet [in]. From memory, unverified: ASME Y14.2."""

BIG_IN = 0.24
"""Height of what must be read across a bench, such as LEFT or RIGHT [in]. Common practice, no source."""

_ADVANCES_PER_MILLE = (
    "318 401 460 838 636 950 780 275 390 390 500 838 318 361 318 337 "
    "636 636 636 636 636 636 636 636 636 636 337 337 838 838 838 531 "
    "1000 684 686 698 770 632 575 775 752 295 295 656 557 863 748 787 "
    "603 787 695 635 611 732 684 989 685 611 685 390 337 390 838 500 "
    "500 613 635 550 635 615 352 635 634 278 278 579 278 974 634 612 "
    "635 635 411 521 392 634 592 818 592 592 525 636 337 636 838"
)
_ADVANCE_EM = {chr(32 + place): int(width) / 1000 for place, width in enumerate(_ADVANCES_PER_MILLE.split())}
_OTHER_ADVANCE_EM = 1.0
_CUT_MARK = "…"


def literal(words: str) -> str:
    """Make any text safe to letter on one line, also a hostile one, without giving any character a meaning.

    White space is a space, a control or direction character a replacement mark.

    >>> literal("<b>&\\n%%d")
    '<b>& %%d'
    """
    if words.isprintable():
        return words
    return "".join(c if c.isprintable() else " " if c.isspace() else "\ufffd" for c in words)


@lru_cache(maxsize=4096)
def text_width_in(words: str, *, height_in: float, bold: bool = False) -> float:
    """How wide a line of text gets in the shipped font, on the safe side for bold and outside ASCII [in]."""
    ems = sum(_ADVANCE_EM.get(c, _OTHER_ADVANCE_EM) for c in words)
    return ems * height_in / CAPITAL_RATIO * (BOLD_RATIO if bold else 1.0)


def fitted(
    words: str, *, height_in: float, width_in: float, least_height_in: float, bold: bool = False
) -> tuple[str, float]:
    """Make a line fit a box: first smaller letters, then a cut that shows.

    Returns:
        tuple[str, float]: the text, ending in an ellipsis if it was cut, and its height [in].
    """
    words = literal(words)
    width = text_width_in(words, height_in=height_in, bold=bold)
    if width <= width_in:
        return words, height_in
    height_in = max(least_height_in, height_in * width_in / width)
    if text_width_in(words, height_in=height_in, bold=bold) <= width_in * (1 + 1e-9):
        return words, height_in
    while words and text_width_in(words + _CUT_MARK, height_in=height_in, bold=bold) > width_in:
        words = words[: -max(1, len(words) // 50)]
    return words + _CUT_MARK, height_in


def wrapped(words: str, *, height_in: float, width_in: float) -> tuple[str, ...]:
    """Break a text into lines at its spaces, one or more; a word that is too long is cut, nothing is lost."""
    lines: list[str] = []
    line = ""
    for word in literal(words).split(" "):
        longer = f"{line} {word}" if line else word
        if text_width_in(longer, height_in=height_in) <= width_in:
            line = longer
            continue
        if line:
            lines.append(line)
        line = ""
        for letter in word:
            if line and text_width_in(line + letter, height_in=height_in) > width_in:
                lines.append(line)
                line = ""
            line += letter
    return (*lines, line)
