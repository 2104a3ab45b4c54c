"""Paper: the sizes that a shop's printer takes, paper for a printer that is off, and one page as it comes out."""

from __future__ import annotations

from enum import StrEnum

from msgspec import Struct

from hatchwright.drawings.block import Block, paragraph
from hatchwright.drawings.boxes import Box
from hatchwright.drawings.ink import Ink, Point
from hatchwright.drawings.writers.check_bars import INCH_BAR_IN, METRIC_BAR_IN, bar_length
from hatchwright.errors import ExportError
from hatchwright.said import Said, inch, said
from hatchwright.units import MM_PER_IN, Unit
from hatchwright.words.tell import tell

MARGIN_IN = 0.25
"""Edge that a printer may leave white [in]. Common practice, no source."""

GAP_IN = 0.06
"""Between two things on a page [in]."""


class Paper(StrEnum):
    """Paper sizes. Source of A4: ISO 216; of the others: common practice, no source."""

    LETTER = "letter"
    A4 = "a4"
    ELEVEN_BY_SEVENTEEN = "11x17"

    @property
    def size_in(self) -> tuple[float, float]:
        """Width and height, upright [in]."""
        return {
            Paper.LETTER: (8.5, 11.0),
            Paper.A4: (210.0 / MM_PER_IN, 297.0 / MM_PER_IN),
            Paper.ELEVEN_BY_SEVENTEEN: (11.0, 17.0),
        }[self]

    @property
    def words(self) -> str:
        """What a file name says of it."""
        return self.upper()

    @property
    def plain(self) -> Paper:
        """The paper itself, for what is not to scale."""
        return self

    def ratios(self, lies_in: tuple[float, float]) -> tuple[float, float]:
        """As for paper that is corrected: ink is not drawn larger."""
        return 1.0, 1.0


class CorrectedPaper(Struct, frozen=True):
    """Paper for one printer whose pages come out a little too small or too large.

    A printer is off along the sides of its paper, whichever way the page on it lies.

    Args:
        short_ratio: true length over what comes out, along the short side of the paper [-].
        long_ratio: the same along its long side [-].
    """

    plain: Paper
    short_ratio: float
    long_ratio: float

    @property
    def size_in(self) -> tuple[float, float]:
        """Width and height, upright [in]."""
        return self.plain.size_in

    @property
    def words(self) -> str:
        """What a file name says of it."""
        return f"{self.plain.words}_CORRECTED"

    def ratios(self, lies_in: tuple[float, float]) -> tuple[float, float]:
        """By how much ink is drawn larger to come out true, across and up paper that lies so wide and high [in]."""
        ratios = self.short_ratio, self.long_ratio
        return ratios[::-1] if lies_in[0] > lies_in[1] else ratios

    def __str__(self) -> str:
        return f"{self.plain} corrected"


AnyPaper = Paper | CorrectedPaper


def true_size_in(paper_in: tuple[float, float], ratios: tuple[float, float]) -> tuple[float, float]:
    """Width and height of a page in the inches that come out of the printer: never more than the paper [in].

    Args:
        ratios: by how much ink is drawn larger, across and up [-].
    """
    width, height = (min(side, side / ratio) for side, ratio in zip(paper_in, ratios, strict=True))
    return width, height


class Page(Struct, frozen=True):
    """One page in the inches that come out of the printer, its origin at the lower left corner.

    Args:
        width_in: of the paper as it lies [in].
        height_in: of the paper as it lies [in].
        name: tile such as ``A1``, or "" for a page that is not full size.
        window: part of the page that shows the drawing, or None [in].
        drawing: ink that is shown through the window only.
        parts: ink of the page itself.
        ratios: by how much ink is drawn larger in the file, across and up [-].
    """

    width_in: float
    height_in: float
    name: str
    window: Box | None
    drawing: tuple[Ink, ...]
    parts: tuple[Ink, ...]
    ratios: tuple[float, float] = (1.0, 1.0)

    def in_file(self, place: Point) -> Point:
        """Where a place of the page is drawn, so that the printer puts it where it belongs [in]."""
        x, y = (r * v + s for v, r, s in zip(place, self.ratios, self._shift(), strict=True))
        return x, y

    def from_file(self, place: Point) -> Point:
        """What place of the page is drawn at a place of the file [in]."""
        x, y = ((v - s) / r for v, r, s in zip(place, self.ratios, self._shift(), strict=True))
        return x, y

    def _shift(self) -> Point:
        """Keeps what is drawn smaller in the middle of the paper."""
        width, height = (
            max(0.0, 0.5 * side * (1.0 - ratio))
            for side, ratio in zip((self.width_in, self.height_in), self.ratios, strict=True)
        )
        return width, height


_NO_CORRECTION = 1e-9

WORST_RATIO = 0.05
"""A printer that is off by more is not corrected but mended [-]. Own choice, no source."""

BARS: tuple[tuple[Unit, float], ...] = (("in", INCH_BAR_IN), ("mm", METRIC_BAR_IN))
"""The bars that stand along each side of a true-size page, and their true lengths [in]."""


def bar_said(unit: Unit) -> Said:
    """How long a true bar is, for messages."""
    if unit == "mm":
        return said("print.true_bar_mm")
    return said("print.true_bar", bar=inch(INCH_BAR_IN), mm=f"{INCH_BAR_IN * MM_PER_IN:.1f}")


def true_bar(measured_in: float) -> tuple[Unit, float]:
    """Which bar measured so much [in]: its unit, and its true length [in]; of one that is far off, the nearer."""
    return min(BARS, key=lambda bar: abs(measured_in / bar[1] - 1.0))


def is_near(measured_in: float) -> bool:
    """Whether a bar that measured so much [in] is of a printer that can be corrected."""
    _, true_in = true_bar(measured_in)
    return abs(measured_in / true_in - 1.0) <= WORST_RATIO


def bar_names() -> tuple[str, str]:
    """What messages call the two bars: along the short side of the paper, and along its long side."""
    return tell(said("print.bar_short_side")), tell(said("print.bar_long_side"))


def corrected(
    paper: Paper, *, short_in: float, long_in: float, bars: tuple[str, str] | None = None
) -> AnyPaper:
    """Paper on which pages come out true from a printer that is off; the paper itself when both bars are true.

    Args:
        short_in: what a bar along the short side of the paper measured, the 6.000 in bar or that of 100 mm, which no
            printer that can be corrected makes alike [in].
        long_in: what one along its long side measured [in].
        bars: what to call the two in messages, None for what they are.
    Raises:
        ExportError: the printer is off by more than `WORST_RATIO`.
    """
    ratios = []
    for bar, measured_in in zip(bars or bar_names(), (short_in, long_in), strict=True):
        unit, true_in = true_bar(measured_in)
        if not is_near(measured_in):
            bar_in, most = inch(true_in), round(100.0 * WORST_RATIO)
            raise ExportError(
                said("error.printer_off", bar=bar_in, measured=inch(measured_in), most=most),
                where=bar,
                remedy=said("error.printer_off.do", bar=bar_said(unit)),
                unit=unit,
            )
        ratios.append(true_in / measured_in)
    if all(abs(ratio - 1.0) < _NO_CORRECTION for ratio in ratios):
        return paper
    return CorrectedPaper(paper, *ratios)


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
