"""Correction of pages for one printer that is off, from what its 6.000 in check bars measured."""

from __future__ import annotations

from hatchwright.drawings.block import Block, paragraph
from hatchwright.drawings.writers.check_bars import INCH_BAR_IN, bar_length
from hatchwright.drawings.writers.paper import AnyPaper, CorrectedPaper, Paper
from hatchwright.errors import ExportError
from hatchwright.said import Said, inch, said
from hatchwright.units import MM_PER_IN, Unit
from hatchwright.words.tell import tell

WORST_RATIO = 0.05
"""A printer that is off by more is not corrected but mended [-]. Own choice, no source."""

BAR = said("print.true_bar", bar=inch(INCH_BAR_IN), mm=f"{INCH_BAR_IN * MM_PER_IN:.1f}")
"""How long a true bar is, for messages."""


def is_near(measured_in: float) -> bool:
    """Whether a bar that measured so much [in] is of a printer that can be corrected."""
    return abs(measured_in / INCH_BAR_IN - 1.0) <= WORST_RATIO


def bar_names() -> tuple[str, str]:
    """What messages call the two bars: along the short side of the paper, and along its long side."""
    return tell(said("print.bar_short_side")), tell(said("print.bar_long_side"))


def corrected(
    paper: Paper, *, short_in: float, long_in: float, bars: tuple[str, str] | None = None
) -> AnyPaper:
    """Paper on which pages come out true from a printer that is off; the paper itself when both bars are true.

    Args:
        short_in: what the 6.000 in bar along the short side of the paper measured [in].
        long_in: what the one along its long side measured [in].
        bars: what to call the two in messages, None for what they are.
    Raises:
        ExportError: the printer is off by more than `WORST_RATIO`.
    """
    for bar, measured_in in zip(bars or bar_names(), (short_in, long_in), strict=True):
        if not is_near(measured_in):
            inch_bar, measured, most = inch(INCH_BAR_IN), inch(measured_in), round(100.0 * WORST_RATIO)
            raise ExportError(
                said("error.printer_off", bar=inch_bar, measured=measured, most=most),
                where=bar,
                remedy=said("error.printer_off.do", bar=BAR),
            )
    if short_in == long_in == INCH_BAR_IN:
        return paper
    return CorrectedPaper(paper, INCH_BAR_IN / short_in, INCH_BAR_IN / long_in)


def before_use(unit: Unit) -> Said:
    """What is done with a page before it is used, its bars told in the unit of the drawing."""
    return said("print.before_use", bar=bar_length(unit), unit=unit)


def corrected_words(paper: AnyPaper, *, width_in: float, unit: Unit) -> tuple[Block, ...]:
    """In large words the factors of a corrected page, and what its bars must measure now; nothing on plain paper."""
    if not isinstance(paper, CorrectedPaper):
        return ()
    words = (
        tell(said("print.corrected")),
        tell(said("print.factors", short=f"{paper.short_ratio:.5f}", long=f"{paper.long_ratio:.5f}")),
        tell(said("print.bars_measure_now", bar=bar_length(unit), unit=unit)),
    )
    return (paragraph(words, width_in=width_in, height_in=0.15, bold=True),)
