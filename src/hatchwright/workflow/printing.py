"""The paper that is asked for: its size, and the correction for a printer that is off."""

from __future__ import annotations

from hatchwright.drawings.writers import AnyPaper, Paper, corrected
from hatchwright.errors import EntryError, ExportError
from hatchwright.units import parse_length

__all__ = ["BARS", "PAPERS", "AnyPaper", "paper_of"]

PAPERS = tuple(paper.value for paper in Paper)
"""What a printer takes, by name."""

BARS = ("bar along the short side", "bar along the long side")
"""What messages call what was measured."""


def paper_of(name: str, *, bar_short: str = "", bar_long: str = "", bars: tuple[str, str] = BARS) -> AnyPaper:
    """The paper that is asked for.

    Args:
        name: one of `PAPERS`.
        bar_short: what the 6.000 in bar along the short side of a printed page measured, as typed; "" for true pages.
        bar_long: the same along its long side.
        bars: what to call the two in messages.
    Returns:
        AnyPaper: what the printer takes, corrected when a bar is off.
    Raises:
        EntryError: only one bar is given, or one is no length.
        ExportError: there is no such paper, or the printer is too far off.
    """
    try:
        paper = Paper(name.lower())
    except ValueError:
        raise ExportError(
            f"there is no paper '{name}'", where="paper", remedy=f"Use one of {', '.join(PAPERS)}"
        ) from None
    if not bar_short and not bar_long:
        return paper
    short_in, long_in = (_measured(text, bar) for text, bar in zip((bar_short, bar_long), bars, strict=True))
    return corrected(paper, short_in=short_in, long_in=long_in)


def _measured(text: str, bar: str) -> float:
    """What one bar measured [in]."""
    if not text:
        raise EntryError("only one bar is given", where=bar, remedy="Measure both bars and give both")
    try:
        return parse_length(text).inch
    except EntryError as error:
        raise EntryError(error.what, where=bar, remedy=error.remedy) from None
