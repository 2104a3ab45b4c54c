"""Correction of pages for one printer that is off, from what its 6.000 in check bars measured."""

from __future__ import annotations

from hatchwright.drawings.block import Block, paragraph
from hatchwright.drawings.writers.check_bars import INCH_BAR_IN
from hatchwright.drawings.writers.paper import AnyPaper, CorrectedPaper, Paper
from hatchwright.errors import ExportError

WORST_RATIO = 0.05
"""A printer that is off by more is not corrected but mended [-]. Own choice, no source."""

_BIG_IN = 0.15


def corrected(paper: Paper, *, across_in: float, up_in: float) -> AnyPaper:
    """Paper on which pages come out true from a printer that is off.

    Args:
        paper: what the printer takes.
        across_in: what the 6.000 in bar measured across a full-size page [in].
        up_in: what it measured up the page [in].
    Returns:
        AnyPaper: the paper itself when both bars are true.
    Raises:
        ExportError: the printer is off by more than `WORST_RATIO`.
    """
    for name, measured_in in (("across", across_in), ("up", up_in)):
        if not abs(measured_in / INCH_BAR_IN - 1.0) <= WORST_RATIO:
            raise ExportError(
                f"the bar of {INCH_BAR_IN:.3f} in measured {measured_in:.3f} in, more than {WORST_RATIO:.0%} off",
                where=f"bar {name}",
                remedy="Print at 100 % with no fit to page; if it stays off, mend the printer. Check the unit too",
            )
    if across_in == up_in == INCH_BAR_IN:
        return paper
    return CorrectedPaper(paper, INCH_BAR_IN / across_in, INCH_BAR_IN / up_in)


def corrected_words(paper: AnyPaper, *, width_in: float) -> Block:
    """What a corrected page says of itself, in large words.

    Args:
        paper: the corrected paper.
        width_in: width of the column [in].
    Returns:
        Block: the factors, and what the bars must measure now.
    """
    across, up = paper.ratios
    return paragraph(
        (
            "CORRECTED FOR ONE PRINTER AND ITS PAPER ONLY",
            f"ACROSS x {across:.5f}, UP x {up:.5f}",
            "ALL 6.000 in BARS MUST NOW MEASURE 6.000",
        ),
        width_in=width_in,
        height_in=_BIG_IN,
        bold=True,
    )
