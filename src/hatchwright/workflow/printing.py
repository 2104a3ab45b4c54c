"""The paper that is asked for: its size, and the correction for a printer that is off."""

from __future__ import annotations

from contextlib import suppress

from hatchwright.drawings.writers import AnyPaper, Paper, corrected
from hatchwright.drawings.writers.paper import bar_names, bar_said, is_near, true_bar
from hatchwright.errors import EntryError, ExportError
from hatchwright.said import Listed
from hatchwright.units import parse_length

__all__ = ["PAPERS", "AnyPaper", "paper_of"]

PAPERS = tuple(paper.value for paper in Paper)
"""What a printer takes, by name."""


def paper_of(
    name: str, *, bar_short: str = "", bar_long: str = "", bars: tuple[str, str] | None = None
) -> AnyPaper:
    """The paper that is asked for, one of `PAPERS`, corrected when a bar is off.

    Args:
        bar_short: what the 6.000 in bar or the 100 mm bar along the short side of a printed page measured, as typed; ""
            for true pages.
        bar_long: the same along its long side.
        bars: what to call the two in messages, None for what they are.
    Raises:
        EntryError: only one bar is given, or one is no length.
        ExportError: there is no such paper, or the printer is too far off.
    """
    try:
        paper = Paper(name.lower())
    except ValueError:
        raise ExportError.saying(
            "error.no_paper", where="paper", name=name, names=Listed(tuple(PAPERS), ",")
        ) from None
    if not bar_short and not bar_long:
        return paper
    named = bars or bar_names()
    short_in, long_in = (_measured(text, bar) for text, bar in zip((bar_short, bar_long), named, strict=True))
    return corrected(paper, short_in=short_in, long_in=long_in, bars=named)


def _measured(text: str, bar: str) -> float:
    """What one bar measured [in]."""
    if not text:
        raise EntryError.saying("error.one_bar", where=bar)
    try:
        measured_in = parse_length(text).inch
    except EntryError as error:
        raise EntryError(error.what, where=bar, remedy=error.remedy) from None
    in_mm = measured_in
    with suppress(EntryError):
        in_mm = parse_length(f"{text} mm").inch  # a number without a unit, read in millimeters
    if not is_near(measured_in) and is_near(in_mm):
        unit, _ = true_bar(in_mm)
        if unit == "mm":  # nobody measures a bar of 100 in: it is the bar of 100 mm
            return in_mm
        raise EntryError.saying("error.bar_far", where=bar, number=text.strip(), bars=bar_said(unit))
    return measured_in
