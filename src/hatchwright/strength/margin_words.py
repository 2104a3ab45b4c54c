"""Margins of safety in figures."""

from __future__ import annotations

import math

from hatchwright.said import said
from hatchwright.words.tell import tell


def margin_words(ratio: float | None, *, places: int = 2) -> str:
    """Letter a margin of safety with its sign, rounded down, so that it never looks better than it is.

    Args:
        ratio: allowable / applied - 1, infinite when nothing is applied, None when it could not be computed [-].
        places: after the point.
    Returns:
        str: "" when it could not be computed.

    >>> margin_words(0.129), margin_words(-0.1142), margin_words(-0.001), margin_words(0.07, places=3)
    ('+0.12', '-0.12', '-0.01', '+0.070')
    >>> margin_words(float("inf")), margin_words(None)
    ('no load', '')
    """
    if ratio is None:
        return ""
    if not math.isfinite(ratio):
        return tell(said("margin.no_load"))
    least = math.floor(round(ratio * 10**places, 6)) / 10**places
    return f"{least:+.{places}f}"
