"""Which letters the shipped fonts hold: others are printed by their number, so that no word is lost unseen."""

from __future__ import annotations

from functools import cache

from hatchwright.drawings.lettering import FONTS, literal


def lettered(words: str) -> str:
    """A text as it can be printed: what would command is literal, a letter that the fonts lack is its number.

    >>> lettered("Rib 3 \\u65e5")
    'Rib 3 U+65E5'
    """
    words = literal(words)
    if words.isascii():
        return words
    return "".join(letter if ord(letter) in _held() else f"U+{ord(letter):04X}" for letter in words)


def lacks_letters(words: str) -> bool:
    """Whether a text holds a letter that is printed by its number."""
    return lettered(words) != literal(words)


@cache
def _held() -> frozenset[int]:
    """Numbers of all letters that some face of the shipped fonts draws."""
    from fontTools.ttLib import TTFont  # takes a while, and few texts ask

    held: set[int] = set()
    for path in sorted(FONTS.glob("*.ttf")):
        with TTFont(path, lazy=True) as font:
            held |= set(font.getBestCmap())
    return frozenset(held)
